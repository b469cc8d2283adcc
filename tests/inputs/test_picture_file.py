"""A picture's blank share has closed forms, and a bad file gets a sentence."""

import io
import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from PIL import Image, ImageDraw

from scoring.errors import InputFaults, ScoringError
from scoring.inputs import picture_file as artwork
from scoring.inputs.brief_files import load_brief
from scoring.inputs.picture_file import load_artwork, load_either
from scoring.inputs.silhouette import blank_share, strips
from tests.cases import brief_text, job

PICTURES = arrays(bool, st.tuples(st.integers(1, 12), st.integers(1, 12)))


def grid(n):
    """Return rows and columns of the pixels of a square."""
    return np.mgrid[:n, :n]


def disc(n):
    row, column = grid(n) + 0.5 - n / 2
    return row**2 + column**2 < (n / 2) ** 2


def file(image, kind="PNG", **how):
    """Return an image as (name, bytes)."""
    data = io.BytesIO()
    image.save(data, kind, **how)
    return f"a.{kind.lower()}", data.getvalue()


def black_disc(mode, background, ink, n=200):
    """Return a disc drawn in one colour on another."""
    image = Image.new(mode, (n, n), background)
    image.paste(ink, mask=Image.fromarray(disc(n)))
    return image


@pytest.mark.parametrize("swath", [1, 7, 2.5, 400])
def test_a_full_rectangle_has_no_blanks(swath):
    """Every strip of a full picture runs from edge to edge."""
    full = np.ones((30, 100), bool)
    assert blank_share(full, swath) == 0 == blank_share(full, swath, jumps_gaps=True)


# Column c (from 1) of n has c inked rows: 1 − Σc/n² = 1 − (n + 1)/2n, which tends to
# 1/2. In strips of s columns the last column of each counts: 1 − (n/s + 1)/(2n/s).
@pytest.mark.parametrize("swath", [1, 10, 50])
def test_half_of_a_right_triangle_is_blank(swath):
    """A right triangle leaves (1 − 1/strips)/2, half of it as strips get thin."""
    n = 1000
    row, column = grid(n)
    share = blank_share(row + column >= n - 1, swath)
    assert share == pytest.approx((1 - swath / n) / 2, abs=1e-12)
    assert share == pytest.approx(1 / 2, abs=0.6 * swath / n)


# Thin strips follow the outline of any shape without gaps in a column, so that what is
# travelled is its area: π/4 of the square around a disc. Pixels add about one at each
# end of a column of n.
def test_a_disc_leaves_the_corners():
    """A disc leaves 1 − π/4 of its square blank."""
    assert blank_share(disc(1000), 1) == pytest.approx(1 - math.pi / 4, abs=0.002)


# A band of |row − column| ≤ m·s in n strips of s columns and n·s rows: strip k reaches
# down to row (k + 1)s − 1 + ms, so below it s(n − m − k − 1) rows are blank while that
# is above 0. Σ over k = s(n − m)(n − m − 1)/2, above the band as much again; over n
# strips of ns rows: (n − m)(n − m − 1)/n². With a = m/n the share of a side that half
# the band takes and s → 0 it is (1 − a)², the area of the two triangles beside it.
@given(st.integers(1, 12), st.integers(0, 12), st.integers(1, 6))
def test_a_diagonal_band_leaves_two_triangles(n, m, swath):
    """A band from corner to corner leaves (n − m)(n − m − 1)/n² blank, exactly."""
    m = min(m, n)
    row, column = grid(n * swath)
    share = blank_share(abs(row - column) <= m * swath, swath)
    assert share == pytest.approx(float(Fraction((n - m) * (n - m - 1), n * n)))


def test_a_thin_diagonal_band_tends_to_its_area():
    """A band of half height a = 1/4 leaves (1 − a)² = 9/16 as strips get thin."""
    row, column = grid(1000)
    assert blank_share(abs(row - column) <= 250, 1) == pytest.approx(9 / 16, abs=0.001)


# Ten rows: ink in 1, 2 and 7 of the left strip, none in the right. From first to last:
# 7 of 20 rows travelled; with gaps jumped 3 of 20.
def test_gaps_are_jumped_only_where_the_machine_can():
    """Inner gaps count as travelled unless the machine jumps them."""
    inked = np.zeros((10, 8), bool)
    inked[[1, 2, 7], [0, 3, 2]] = True
    assert blank_share(inked, 4) == pytest.approx(13 / 20)
    assert blank_share(inked, 4, jumps_gaps=True) == pytest.approx(17 / 20)
    found = strips(inked, 4)
    assert found.first.tolist() == [1, -1] and found.last.tolist() == [7, -1]
    assert found.left.tolist() == [0, 4] and found.right.tolist() == [4, 8]


def test_a_swath_need_not_be_whole_pixels():
    """Strips of 2.5 pixels share the pixel on their border; the last is cut off."""
    inked = np.zeros((4, 6), bool)
    inked[3, 2] = True
    found = strips(inked, 2.5)
    assert found.last.tolist() == [3, 3, -1]
    assert found.right.tolist() == [2.5, 5, 6]
    assert blank_share(inked, 2.5) == pytest.approx(10 / 12)


@given(PICTURES, st.floats(0.1, 20))
def test_blank_shares_keep_within_their_bounds(inked, swath):
    """0 ≤ skipping the ends ≤ skipping gaps too ≤ 1; upside down is the same."""
    share = blank_share(inked, swath)
    assert 0 <= share <= blank_share(inked, swath, jumps_gaps=True) + 1e-12
    assert blank_share(inked, swath, jumps_gaps=True) <= 1
    assert blank_share(inked[::-1], swath) == pytest.approx(share)
    assert (share == 1) == (not inked.any())


@given(PICTURES, st.integers(1, 6), st.integers(1, 4))
def test_a_finer_picture_of_the_same_has_the_same_share(inked, swath, times):
    """More pixels for each pixel, with the swath to match, change nothing."""
    fine = inked.repeat(times, axis=0).repeat(times, axis=1)
    assert blank_share(fine, swath * times) == pytest.approx(blank_share(inked, swath))


@given(PICTURES, PICTURES, st.integers(1, 6))
def test_more_ink_never_saves_travel(a, b, swath):
    """Ink added to a picture leaves as much blank or less."""
    h, w = min(a.shape[0], b.shape[0]), min(a.shape[1], b.shape[1])
    a, b = a[:h, :w], b[:h, :w]
    for jumps in (False, True):
        assert blank_share(a | b, swath, jumps) <= blank_share(a, swath, jumps) + 1e-12


@pytest.mark.parametrize("swath", [0, -1, math.nan, math.inf])
def test_a_swath_is_above_0(swath):
    """A swath that is none gets a sentence."""
    with pytest.raises(ScoringError, match=f"a swath of {swath} pixels; more than 0"):
        blank_share(np.ones((2, 2), bool), swath)
    with pytest.raises(ScoringError, match="the picture has no pixels"):
        blank_share(np.ones((0, 2), bool), 1)


@pytest.mark.parametrize(
    ("mode", "background", "ink"),
    [
        ("RGBA", (0, 0, 0, 0), (0, 0, 0, 255)),
        ("RGBA", (255, 255, 255, 255), (200, 30, 30, 255)),
        ("LA", (255, 0), (0, 255)),
        ("RGB", (255, 255, 255), (255, 255, 0)),
        ("L", 255, 100),
        ("1", 1, 0),
        ("I;16", 65535, 20000),
    ],
)
def test_every_kind_of_png_gives_the_same_silhouette(mode, background, ink):
    """White and transparent are blank in colour, grey, 1-bit and 16-bit files."""
    if mode == "I;16":
        grey = np.where(disc(200), ink, background).astype(np.uint16)
        source = file(Image.fromarray(grey))
    else:
        source = file(black_disc(mode, background, ink))
    assert np.array_equal(load_artwork(source), disc(200))


def test_a_palette_with_a_transparent_colour():
    """A PNG of few colours, one of them see-through, is blank there."""
    image = black_disc("RGBA", (0, 0, 0, 0), (0, 90, 0, 255)).quantize(4)
    assert np.array_equal(load_artwork(file(image)), disc(200))


# Marks stay within the 8 × 8 pixels of a block: 2 % of 400 pixels at most at each end.
@pytest.mark.parametrize("quality", [60, 75, 95])
def test_a_jpeg_has_the_share_of_its_png(quality):
    """Faint marks that JPEG leaves beside an edge do not make strips longer."""
    image = black_disc("RGB", (255, 255, 255), (20, 60, 120), 400)
    png, jpeg = (
        load_artwork(file(image)),
        load_artwork(file(image, "JPEG", quality=quality)),
    )
    assert jpeg.shape == png.shape
    assert blank_share(jpeg, 10) == pytest.approx(blank_share(png, 10), abs=0.015)


def test_a_photograph_is_turned_the_right_way_up():
    """The way a camera was held (EXIF orientation 6) is followed."""
    image = Image.new("RGB", (80, 40), "white")
    ImageDraw.Draw(image).rectangle((0, 0, 19, 39), fill="black")
    exif = Image.Exif()
    exif[0x0112] = 6  # the left edge of the file is the top of the picture
    inked = load_artwork(file(image, "JPEG", quality=95, exif=exif))
    assert inked.shape == (80, 40)
    assert inked[:16].all() and not inked[24:].any()


def test_white_is_ink_where_only_transparent_is_blank():
    """On a dark wall white is printed; faint traces of opacity are not."""
    image = black_disc("RGBA", (255, 255, 255, 0), (255, 255, 255, 255))
    assert np.array_equal(load_artwork(file(image), blank="transparent"), disc(200))
    faint = black_disc("RGBA", (0, 0, 0, 25), (0, 0, 0, 255))
    assert np.array_equal(load_artwork(file(faint), blank="transparent"), disc(200))
    assert np.array_equal(load_artwork(file(faint)), disc(200))
    with pytest.raises(ScoringError, match="blank 'red'; white or transparent or tra"):
        load_artwork(file(image), blank="red")


WHITE = file(Image.new("RGB", (20, 20), "white"))[1]
BLACK = file(Image.new("RGB", (20, 20), "black"))[1]
EXPORT = "a PNG with a transparent background, about 2000 pixels wide"
SVG = f"is an SVG that cannot be drawn; export it as {EXPORT}"
FAULTS = {
    ("a.svg", b"<svg xmlns='http://www.w3.org/2000/svg'/>"): SVG,
    ("a.png", b"\n<?xml version='1.0'?><svg/>"): SVG,
    ("a.png", WHITE): "has no ink in it: every pixel is blank; a silhouette",
    ("a.png", BLACK[:45]): f"is broken or cut off; save it anew: {EXPORT}",
    ("a.png", b""): f"is neither a PNG nor a JPEG; {EXPORT}",
    ("a.png", b"GIF89a"): f"is neither a PNG nor a JPEG; {EXPORT}",
}


@pytest.mark.parametrize("source", FAULTS, ids=lambda source: repr(source[1][:12]))
def test_a_bad_file_gets_its_sentence(source):
    """Each kind of file that is no silhouette is told of in whole."""
    with pytest.raises(InputFaults) as raised:
        load_artwork(source)
    assert str(raised.value) == f"{source[0]}:1: {FAULTS[source]}"


def test_an_svg_is_drawn_to_pixels():
    """A right triangle drawn as SVG is half blank, whatever unit its sides are in."""
    # Strips thin against the width: the triangle leaves (1 − 1/strips)/2 of the sweep.
    for size in (
        "width='400' height='300'",
        "",
        "width='4in' height='3in'",
    ):
        triangle = (
            f"<svg xmlns='http://www.w3.org/2000/svg' {size} viewBox='0 0 400 300'>"
            "<path d='M0 0 L0 300 L400 300 Z'/></svg>"
        )
        inked = load_artwork(("a.svg", triangle.encode()))
        assert blank_share(inked, 10) == pytest.approx(0.5, abs=0.01)


def test_missing_files_and_folders(tmp_path):
    """A path that holds no file gets a sentence; one that does is read."""
    with pytest.raises(InputFaults, match="there is no such file; a PNG, JPEG or SVG"):
        load_artwork(tmp_path / "none.png")
    with pytest.raises(InputFaults, match="folder|cannot be read"):
        load_artwork(tmp_path)
    (tmp_path / "a.png").write_bytes(BLACK)
    assert load_artwork(tmp_path / "a.png").all()


def test_a_picture_of_too_many_pixels_is_not_unpacked():
    """A small file that would unpack to a huge picture is refused by its size alone."""
    bomb = file(Image.new("1", (5000, 4000)))
    assert len(bomb[1]) < 10_000
    with pytest.raises(InputFaults) as raised:
        load_artwork(bomb)
    assert str(raised.value) == (
        f"a.png:1: has 5000 × 4000 pixels; 16 million or fewer, such as {EXPORT}"
    )
    # width and height stand after the signature, a length and IHDR: bytes 16 to 24
    header = BLACK[:16] + (60_000).to_bytes(4, "big") * 2 + BLACK[24:]
    with pytest.raises(InputFaults, match="far too many pixels|broken|neither"):
        load_artwork(("a.png", header))


def test_a_file_too_large_is_not_opened(monkeypatch, tmp_path):
    """More bytes than allowed are refused, read or not."""
    monkeypatch.setattr(artwork, "MAX_BYTES", 50)
    (tmp_path / "a.png").write_bytes(BLACK)
    for source in (("a.png", BLACK), tmp_path / "a.png"):
        with pytest.raises(InputFaults, match="MB large"):
            load_artwork(source)


JPEG = file(black_disc("RGB", "white", "black", 64), "JPEG")[1]


@given(st.sampled_from([BLACK, JPEG]), st.data())
def test_damaged_files_never_crash(data, drawn):
    """A file with a changed byte, cut off anywhere, is a silhouette or has a fault."""
    damaged = bytearray(data[: drawn.draw(st.integers(0, len(data)))])
    if damaged:
        damaged[drawn.draw(st.integers(0, len(damaged) - 1))] ^= drawn.draw(
            st.integers(1, 255)
        )
    try:
        assert load_artwork(("a", bytes(damaged))).dtype == bool
    except InputFaults as found:
        assert len(found.faults) == 1


def test_where_white_is_printed_white_is_ink(tmp_path):
    """Over an underbase white areas are printed: only what is transparent is skipped.

    Half of the picture is white and a quarter transparent; by hand.
    """
    image = Image.new("RGBA", (40, 40), (0, 0, 0, 255))
    image.paste((255, 255, 255, 255), (0, 0, 40, 20))
    image.paste((0, 0, 0, 0), (0, 20, 20, 40))
    image.save(tmp_path / "art.png")
    for underbase, share in (("false", 0.25), ("true", 0.75)):
        more = f"    artwork: art.png\n    underbase: {underbase}\n"
        text = brief_text(job(more=more))
        (tmp_path / "brief.yaml").write_text(text, "utf-8")
        inked = load_brief(tmp_path / "brief.yaml").pictures[0]
        assert inked.mean() == share
        assert load_either(tmp_path / "art.png")[underbase == "true"].mean() == share
