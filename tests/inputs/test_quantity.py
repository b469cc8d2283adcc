"""Figures with units and ranges, against published conversion factors."""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.inputs.dimensions import (
    AREA_SPEED,
    CUBIC_METRES,
    DAYS,
    INK_USE,
    KILOGRAMS,
    KILOMETRES,
    LIFE_M2,
    METRES,
    METRES_PER_SECOND,
    MILLILITRES,
    MINUTES,
    MONEY,
    MONEY_PER_LITRE,
    MONEY_PER_M2,
    RATING,
    SHARE,
    SQUARE_METRES,
)
from scoring.inputs.quantity import Wrong, pert_mean, spread
from scoring.inputs.units import USUAL

# NIST Special Publication 811 (2008), appendix B.8; exact factors, from memory: the
# international foot is 0.3048 m and the pound 0.45359237 kg by the 1959 agreement, the
# US gallon 231 cubic inches, the mile 5280 ft.
PUBLISHED = {
    "1 lb": (KILOGRAMS, 0.45359237),
    "53 lb": (KILOGRAMS, 53 * 0.45359237),
    "10 ft": (METRES, 3.048),
    "8 in": (METRES, 0.2032),
    "6 mm": (METRES, 0.006),
    "100 ft²": (SQUARE_METRES, 9.290304),
    "30 ft³": (CUBIC_METRES, 30 * 0.028316846592),
    "18 ft²/h": (AREA_SPEED, 18 * 0.09290304),
    "10 mi": (KILOMETRES, 16.09344),
    "1 fl oz": (MILLILITRES, 29.5735295625),
    "1.5 h": (MINUTES, 90),
    "90 s": (MINUTES, 1.5),
    "2 week": (DAYS, 14),
    "30 m/min": (METRES_PER_SECOND, 0.5),
    "12 %": (SHARE, 0.12),
    "0.1 EUR/ml": (MONEY_PER_LITRE, 100),
    "9.290304 EUR/ft²": (MONEY_PER_M2, 100),
    "60 EUR/gal": (MONEY_PER_LITRE, 60 / 3.785411784),
}
SPELLINGS = {
    "m²": ("6 m²", "6 m2", "6 m^2", "6 sq m", "6m²"),
    "ft²": ("6 ft²", "6 ft2", "6 ft^2", "6 sq ft"),
    "min": ("6 min", "6 mins", "6 minute", "0.1 h", "0.1 hrs"),
}
DIMENSIONS = {"m²": SQUARE_METRES, "ft²": SQUARE_METRES, "min": MINUTES}


@pytest.mark.parametrize("text", PUBLISHED)
def test_units_by_published_factors(text):
    """A figure in another unit comes to the internal unit by the published factor."""
    dimension, value = PUBLISHED[text]
    assert dimension.parse(text).likely == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize("unit", SPELLINGS)
def test_usual_spellings_of_a_unit(unit):
    """All usual spellings of a unit mean the same."""
    values = {round(DIMENSIONS[unit].parse(t).likely, 12) for t in SPELLINGS[unit]}
    assert len(values) == 1


def test_ranges():
    """low..high has its likely value in the middle; low..likely..high states it."""
    two, three = MINUTES.parse("20..35 min"), MINUTES.parse("20..26..35 min")
    assert (two.low, two.likely, two.high) == (20, 27.5, 35)
    assert (three.low, three.likely, three.high) == (20, 26, 35)
    assert two.is_range and not MINUTES.parse("20 min").is_range


def test_long_form_keeps_what_is_said_about_a_figure():
    """Basis, day and note of the long form stay with the figure."""
    figure = MINUTES.parse(
        {"value": "24..28..40 min", "basis": "measured", "as_of": "2026-09-14"}
    )
    assert (figure.basis, figure.as_of, figure.text) == (
        "measured",
        "2026-09-14",
        "24..28..40 min",
    )


def test_unknown_is_not_zero():
    """`unknown`, short or as a basis, has no numbers at all."""
    for written in ("unknown", {"basis": "unknown"}, {"value": "unknown"}):
        figure = MONEY.parse(written)
        assert figure.is_unknown
        assert (figure.low, figure.likely, figure.high) == (None, None, None)


# The table of spreads: own estimate of the toolkit, no source.
SPREADS = [
    (MINUTES, "100 min", "measured", (95, 100, 105)),
    (MINUTES, "100 min", "estimated", (70, 100, 130)),
    (MINUTES, "100 min", "quoted", (95, 115, 160)),
    (AREA_SPEED, "10 m²/h", "quoted", (6, 8.5, 10)),
    (LIFE_M2, "1000 m²", "quoted", (400, 700, 1000)),
    (INK_USE, "10 ml/m²", "quoted", (9, 12, 16)),
    (KILOGRAMS, "20 kg", "quoted", (20, 21, 24)),
    (MONEY, "1000 EUR", "quoted", (1000, 1050, 1150)),
    (SHARE, "90 %", "estimated", (0.63, 0.9, 1.0)),
    (RATING, "5", "measured", (4.75, 5, 5)),
]


@pytest.mark.parametrize(("dimension", "value", "basis", "ends"), SPREADS)
def test_spread_by_basis(dimension, value, basis, ends):
    """One figure gets the range of its basis and kind, within the field's bounds."""
    figure = dimension.parse({"value": value, "basis": basis})
    assert spread(figure) == pytest.approx(ends)


def test_trust_changes_single_figures_only():
    """The buyer's own trust replaces a spread, and leaves explicit ranges alone."""
    trust = {"quoted": {"time": (0.0, 0.5, 1.0)}}
    one = MINUTES.parse({"value": "10 min", "basis": "quoted"})
    ranged = MINUTES.parse({"value": "10..12 min", "basis": "quoted"})
    assert spread(one, trust) == (10, 15, 20)
    assert spread(ranged, trust) == (10, 11, 12)


def test_pert_mean_of_a_published_case():
    """6, 9, 18 has the mean 10: the usual three-point example of project handbooks."""
    # (6 + 4·9 + 18)/6 = 60/6
    assert pert_mean(6, 9, 18) == 10


@given(st.text(max_size=60))
def test_any_text_is_a_figure_or_a_sentence(text):
    """Whatever is written, the answer is a finite figure or a Wrong; never else."""
    for dimension in (MINUTES, MONEY, SHARE, MONEY_PER_M2, RATING):
        try:
            figure = dimension.parse(text)
        except Wrong as wrong:
            assert wrong.what and wrong.allowed
        else:
            assert figure.is_unknown or math.isfinite(figure.likely)


@pytest.fixture(scope="module")
def registry():
    """A registry of pint's own: a second to build, so that one serves all examples."""
    return pint.UnitRegistry()


@pytest.mark.parametrize(("written", "internal"), USUAL)
def test_the_usual_units_are_those_of_pint(registry, written, internal):
    """What is not asked of pint is what pint says, by whatever name it knows it."""
    names = {"h": "hour", "fl oz": "fluid_ounce", "l": "litre", "ml": "millilitre"}
    there, here = (
        registry.parse_units(
            "/".join(names.get(part, part) for part in unit.split("/"))
        )
        for unit in (written, internal)
    )
    expected = registry.Quantity(1.0, there).to(here).magnitude
    assert USUAL[written, internal] == pytest.approx(expected, rel=1e-14)


@given(value=st.floats(0, 1e5), unit=st.sampled_from(["kg", "g", "lb", "oz"]))
def test_reading_what_was_written(registry, value, unit):
    """A figure in plain digits is read as pint would convert it."""
    text = f"{value:.6f}"
    figure = KILOGRAMS.parse(f"{text} {unit}")
    expected = registry.Quantity(float(text), unit).to("kg").magnitude
    assert figure.likely == pytest.approx(expected, rel=1e-12)
