"""A drawing leads nowhere outside its file and takes little time and memory.

What may stand in a link: SVG 2 (W3C Candidate Recommendation 2018), section 16, and
CSS Values 3, section 3.4; what entities may do: XML 1.0, section 4.
"""

import subprocess
import sys
import time

import pytest

from scoring.errors import InputFaults
from tests.inputs.drawings import HALF, fault, inside, load, picture, svg


def test_the_listener_hears_who_calls(heard):
    """An unguarded drawer does fetch a picture, so silence below says something."""
    address, calls = heard
    raw = f"<image href='http://{address}/a.png' width='9' height='9'/>"
    program = "import sys, vl_convert; vl_convert.svg_to_png(sys.argv[1])"
    with subprocess.Popen([sys.executable, "-c", program, svg(raw).decode()]) as drawer:
        for _ in range(400):  # it calls within 20 s, then need not end
            if calls or drawer.poll() is not None:
                break
            time.sleep(0.05)
        drawer.kill()
    assert calls


NESTED = inside(
    svg("<image href='http://ADDRESS/n.png' width='9' height='9'/>"), "image/svg+xml"
)
OUTSIDE = {
    "href": "<image href='http://ADDRESS/a.png' width='9' height='9'/>",
    "xlink:href": "<image xlink:href='http://ADDRESS/a.png' width='9' height='9'/>",
    "another prefix": "<image xmlns:q='http://www.w3.org/1999/xlink' "
    "q:href='http://ADDRESS/a.png' width='9' height='9'/>",
    "no scheme": "<image href='//ADDRESS/a.png' width='9' height='9'/>",
    "https": "<image href='https://ADDRESS/a.png' width='9' height='9'/>",
    "letters as numbers": "<image href='&#104;ttp://ADDRESS/a' width='9' height='9'/>",
    "src": "<image src='http://ADDRESS/a.png' width='9' height='9'/>",
    "feImage": "<filter id='f'><feImage href='http://ADDRESS/a.png'/></filter>",
    "use": "<use href='http://ADDRESS/a.svg#x'/>",
    "use of a file": "<use xlink:href='other.svg#x'/>",
    "pattern": "<pattern href='http://ADDRESS/a.svg#x'/>",
    "textPath": "<text><textPath href='http://ADDRESS/a.svg#x'>a</textPath></text>",
    "fill": "<rect fill='url(http://ADDRESS/a.svg#x)'/>",
    "filter in quotes": "<rect filter=\"url( 'http://ADDRESS/a.svg#x' )\"/>",
    "style": "<rect style='fill:url(http://ADDRESS/a.svg#x)'/>",
    "style with a space": "<rect style='fill:URL  (http://ADDRESS/a.svg#x)'/>",
    "style with an escape": "<rect style='fill:u\\72l(http://ADDRESS/a.svg#x)'/>",
    "style sheet": "<style>rect{fill:url(http://ADDRESS/a.svg#x)}</style>",
    "style in CDATA": "<style><![CDATA[rect{fill:url(http://ADDRESS/a#x)}]]></style>",
    "style cut by a comment": "<style>rect{fill:u/**/rl(http://ADDRESS/a#x)}</style>",
    "import": "<style>@import 'http://ADDRESS/a.css';</style>",
    "import of a url": "<style>@import url(http://ADDRESS/a.css);</style>",
    "import with an escape": "<style>@\\69mport 'http://ADDRESS/a.css';</style>",
    "font-face": "<style>@font-face{font-family:a;src:url(http://ADDRESS/a)}</style>",
    "image-set": "<rect style='fill:image-set(\"http://ADDRESS/a.png\" 1x)'/>",
    "font": "<font><font-face><font-face-src><font-face-uri "
    "href='http://ADDRESS/a'/></font-face-src></font-face></font>",
    "script": "<script href='http://ADDRESS/a.js'/>",
    "foreignObject": "<foreignObject><p xmlns='http://www.w3.org/1999/xhtml'>"
    "<img src='http://ADDRESS/a.png'/></p></foreignObject>",
    "drawing in a drawing": f"<image href='{NESTED}' width='9' height='9'/>",
    "page in a drawing": "<image href='data:text/html,&lt;img src=http://ADDRESS/&gt;' "
    "width='9' height='9'/>",
    "file": "<image href='file:///etc/passwd' width='9' height='9'/>",
    "path": "<image href='/etc/passwd' width='9' height='9'/>",
    "path upwards": "<image href='../../a.png' width='9' height='9'/>",
    "endless file": "<image href='/dev/zero' width='9' height='9'/>",
    "feImage of an endless file": "<filter id='f'><feImage xlink:href='/dev/zero'/>"
    "</filter><rect filter='url(#f)' width='9' height='9'/>",
}


@pytest.mark.parametrize("name", OUTSIDE)
def test_nothing_outside_is_fetched(name, heard):
    """Each way to name something outside gets a sentence, and nobody is called."""
    address, calls = heard
    attack = OUTSIDE[name].replace("ADDRESS", address)
    said = fault(svg(HALF + attack))
    assert "is an SVG " in said and "export it as a PNG" in said
    assert not calls


def test_the_sentence_names_the_link_and_its_line():
    """Who made the drawing sees which link is meant, and what to do."""
    with pytest.raises(InputFaults) as raised:
        load(svg("\n\n<image href='photo.png' width='9' height='9'/>"))
    assert str(raised.value) == (
        "a.svg:3: is an SVG that links to 'photo.png'; export it as a PNG with a "
        "transparent background, about 2000 pixels wide"
    )


def test_links_that_draw_nothing_are_left_out(heard):
    """Notes, other makers' marks, an anchor and a bare DOCTYPE do no harm."""
    address, calls = heard
    kept = svg(
        f"<metadata><r:a xmlns:r='urn:r' r:b='http://{address}/'/></metadata>"
        f"<a href='http://{address}/' onclick='x()'>{HALF}</a>"
        f"<q:view xmlns:q='urn:q' q:href='http://{address}/'>words</q:view>",
        before="<!DOCTYPE svg PUBLIC '-//W3C//DTD SVG 1.1//EN' "
        f"'http://{address}/svg11.dtd'>",
    )
    assert load(kept).mean() == pytest.approx(0.5, abs=0.01)
    assert not calls


ENTITIES = {
    "from elsewhere": "<!DOCTYPE svg [<!ENTITY x SYSTEM 'http://ADDRESS/x'>]>",
    "from a file": "<!DOCTYPE svg [<!ENTITY x SYSTEM 'file:///etc/passwd'>]>",
    "of parameters": "<!DOCTYPE svg [<!ENTITY % p SYSTEM 'http://ADDRESS/x'> %p;"
    "<!ENTITY x 'a'>]>",
    "that grow": "<!DOCTYPE svg [<!ENTITY a 'ha'>"
    + "".join(
        f"<!ENTITY {new} '{f'&{old};' * 10}'>"
        for old, new in zip("abcdefgh", "bcdefghx", strict=True)
    )
    + "]>",
    "that nobody declared": "<!DOCTYPE svg SYSTEM 'http://ADDRESS/x.dtd'>",
}


@pytest.mark.parametrize("name", ENTITIES)
def test_entities_are_refused(name, heard):
    """A document's own entities are neither fetched nor unfolded."""
    address, calls = heard
    before = ENTITIES[name].replace("ADDRESS", address)
    said = fault(svg(HALF + "<text>&x;</text>", before=before))
    assert said.startswith("is an SVG with entities of its own; export it as a PNG")
    assert not calls


def doubled(n, tag="g", link="<use href='#{0}'/>"):
    """Return n groups, each of which holds the one before twice."""
    pairs = "".join(
        f"<{tag} id='a{k}'>{link.format(f'a{k - 1}') * 2}</{tag}>" for k in range(1, n)
    )
    return f"<{tag} id='a0'>{HALF}</{tag}>{pairs}"


FILL = "<rect width='9' height='9' fill='url(#{0})'/>"
SWOLLEN = {
    "use of use": doubled(40),
    "use of use, 10,000 times": doubled(10_000),
    "use of itself": "<g id='a'><use href='#a'/></g>",
    "use of the whole": "<use href='#r'/>",
    "use in a ring": "<g id='a'><use href='#b'/></g><g id='b'><use href='#a'/></g>",
    "patterns of patterns": doubled(40, "pattern", FILL),
    "masks of masks": doubled(40, "mask", FILL.replace("fill", "mask")),
    "in a style": doubled(40, "pattern", FILL.replace("fill='", "style='fill:")),
    "two of one name": "<g id='a0'/>" + doubled(40),
}


@pytest.mark.parametrize("name", SWOLLEN)
def test_a_drawing_that_repeats_itself_is_refused(name):
    """What doubles with each link is counted, not drawn: 2 to the 40th rectangles."""
    said = fault(svg(SWOLLEN[name], "width='20' height='20' id='r'"))
    assert said.startswith("is an SVG that repeats itself too often; export it as")


def test_a_link_that_is_used_often_is_drawn():
    """A thousand leaves from one are an honest drawing."""
    leaves = "".join(f"<use href='#l' x='{k % 10}'/>" for k in range(1000))
    leaf = "<defs><path id='l' d='M0 0H1V20H0Z'/></defs>"
    assert load(svg(leaf + leaves)).mean() == pytest.approx(0.5, abs=0.01)


LARGE = {
    "deep": (svg("<g>" * 5000 + "</g>" * 5000), "nested deeper than 100 levels"),
    "deep in what is left out": (
        svg("<title>" * 5000 + "</title>" * 5000),
        "nested deeper than 100 levels",
    ),
    "many elements": (svg("<g/>" * 50_001), "of more than 50000 elements"),
    "many bytes": (svg(f"<path d='{'M0 0' * 1_300_000}'/>"), "of 5.2 MB"),
    "many attributes": (
        svg("<g " + " ".join(f"a{k}='1'" for k in range(40_000)) + "/>"),
        "that cannot be drawn",
    ),
    "not closed": (svg("<g>" * 20)[:-20], "that cannot be drawn"),
    "not SVG": (b"<html><body/></html>", "that cannot be drawn"),
    "no name space": (b"<svg width='9' height='9'/>", "that cannot be drawn"),
    "UTF-16": (svg(HALF).decode().encode("utf-16"), "that cannot be drawn"),
    "very slender": (svg(HALF, "width='1' height='2001'"), "that cannot be drawn"),
    "no height": (svg(HALF, "width='1' height='0'"), "that cannot be drawn"),
    "endless box": (svg(HALF, "viewBox='0 0 inf 9'"), "that cannot be drawn"),
}


@pytest.mark.parametrize("name", LARGE)
def test_a_drawing_has_bounds(name):
    """Elements, levels, bytes and sides are bounded before anything is drawn."""
    data, what = LARGE[name]
    said = fault(data)
    assert what in said and "PNG" in said


@pytest.mark.parametrize("side", ["100em", "9pc", "30ex", "9vw", "calc(9px)", "1e9"])
def test_units_that_are_not_ours_are_refused(side):
    """A side in letters' heights or so was drawn at many times its size."""
    assert fault(svg(HALF, f"width='{side}' height='20'")) == (
        f"is an SVG of the width '{side}'; px, in, cm, mm or pt, or a viewBox alone"
    )


@pytest.mark.parametrize(
    "data",
    [
        svg(HALF, "width='20000' height='20000' viewBox='0 0 20 20'"),
        svg(
            HALF,
            "width='20000' height='20000' viewBox='0 0 20 20'",
            "<!--<svg width='1' height='1'>-->",
        ),
        svg(HALF, "width='100%' height='100%' viewBox='0 0 20 20'"),
        svg(HALF, "viewBox='0 0 20 20' style='width:90000px;height:90000px'"),
        svg(
            f"<style>svg{{width:90000px;height:90000px}}</style>{HALF}",
            "viewBox='0 0 20 20'",
        ),
    ],
    ids=["large", "small in a comment", "share", "style", "style sheet"],
)
def test_every_drawing_is_drawn_at_2000_pixels(data):
    """Whatever size it names, and wherever, its longer side is 2000 pixels."""
    begun = time.monotonic()
    inked = load(data)
    assert inked.shape == (2000, 2000)
    assert inked.mean() == pytest.approx(0.5, abs=0.01)
    assert time.monotonic() - begun < 5


# Of 20 × 20 the picture inside covers 10 × 20, as black as HALF.
@pytest.mark.parametrize(
    ("kind", "named"),
    [("PNG", "image/png"), ("JPEG", "image/jpg"), ("JPEG", "image/png")],
)
def test_a_picture_inside_is_drawn(kind, named):
    """PNG and JPEG may stand in the file itself, under either's name."""
    link = inside(picture(size=(10, 20), kind=kind), named)
    image = f"<image width='10' height='20' xlink:href='{link}'/>"
    assert load(svg(image)).mean() == pytest.approx(0.5, abs=0.02)


HUGE = picture("1", (5000, 4000))
INSIDE = {
    "another kind": (picture(kind="GIF"), "is neither a PNG nor a JPEG"),
    "no picture": (b"no picture", "is neither a PNG nor a JPEG"),
    "many pixels": (HUGE, "has 5000 × 4000 pixels"),
}


@pytest.mark.parametrize("name", INSIDE)
def test_a_picture_inside_has_bounds(name):
    """What stands inside is looked at before it is unpacked."""
    data, what = INSIDE[name]
    link = inside(data)
    assert what in fault(svg(f"<image width='9' height='9' href='{link}'/>"))


def test_many_pictures_inside_have_bounds():
    """Twenty-one pictures, or two of nine million pixels, are too many together."""
    small = f"<image width='9' height='9' href='{inside(picture())}'/>"
    assert "more than 20 pictures in it" in fault(svg(small * 21))
    half = f"<image width='9' height='9' href='{inside(picture('1', (3000, 3000)))}'/>"
    assert "has pictures inside it of 18000000 pixels" in fault(svg(half * 2))
    assert "cannot be drawn" in fault(svg("<image href='data:image/png;base64,a'/>"))
