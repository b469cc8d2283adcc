"""People for a lift and the revised lifting equation, against what is published."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import ScoringError
from scoring.model.job.lifting import (
    lifting_index,
    people_needed,
    recommended_weight_limit,
)
from tests.decision.published import published

# NIOSH 94-110 (1994, rev. 2021), read in a transcription (the file says what is from
# memory); HSE L23, read as quoted in secondary pages.
NIOSH = published("lifting_niosh_94_110")
TEAM = published("team_lift_hse_l23")
PRINTED = NIOSH["published"]["values"]
TOLERANCE = NIOSH["published"]["tolerance_abs"]
LB, IN = 0.45359237, 2.54  # kg and cm, exact
BEST = {
    "horizontal_cm": 25,
    "vertical_cm": 75,
    "travel_cm": 25,
    "asymmetry_deg": 0,
    "lifts_per_min": 0.2,
    "duration_h": 1,
    "coupling": "good",
}
masses = st.floats(0, 500)
limits = st.floats(0.1, 60)
lifts = st.fixed_dictionaries(
    {
        "horizontal_cm": st.floats(0, 80),
        "vertical_cm": st.floats(0, 200),
        "travel_cm": st.floats(0, 200),
        "asymmetry_deg": st.floats(0, 180),
        "lifts_per_min": st.floats(0, 20),
        "duration_h": st.floats(0, 8),
        "coupling": st.sampled_from(["good", "fair", "poor"]),
    }
)


def rwl(**changed):
    return recommended_weight_limit(**BEST | changed)


def rwl_of(example, cm_per_in):
    return rwl(
        horizontal_cm=example["H"] * cm_per_in,
        vertical_cm=example["V"] * cm_per_in,
        travel_cm=example["D"] * cm_per_in,
        asymmetry_deg=example["A"],
        lifts_per_min=example["per_min"],
        coupling=example["coupling"],
    )


@pytest.mark.parametrize("case", TEAM["published"]["values"], ids=str)
def test_published_team_figures(case):
    """The published mass takes that many people, a printed digit more takes others."""
    step = TEAM["published"]["tolerance_abs"]
    assert people_needed(case["together"], case["alone"]) == case["people"]
    assert people_needed(case["together"] + step, case["alone"]) > case["people"]


@given(limits)
def test_team_borders_are_exact(limit):
    """L, 4/3 L and 3/2 L take one, two and three people; a millionth more, one more."""
    # 2 L × 2/3 = 4/3 L; 3 L × 1/2 = 3/2 L
    borders = np.array([limit, limit * 4 / 3, limit * 3 / 2])
    assert people_needed(borders, limit).tolist() == [1, 2, 3]
    assert people_needed(borders * (1 + 1e-6), limit).tolist() == [2, 3, np.inf]


def test_nothing_to_lift_takes_one_and_no_limit_takes_no_team():
    """A mass of 0 takes one person; with a limit of 0 no team lifts any mass."""
    assert people_needed([0, 1], 0).tolist() == [1, np.inf]


@given(masses, masses, limits)
def test_heavier_never_needs_fewer(one, other, limit):
    """More mass takes as many people or more; a higher limit as many or fewer."""
    light, heavy = sorted([one, other])
    assert people_needed(light, limit) <= people_needed(heavy, limit)
    assert people_needed(one, limit) >= people_needed(one, limit + 1)


def test_people_over_axes():
    """Masses (draw, machine, 1) against limits (draw, 1, 1) give (draw, machine, 1)."""
    mass = np.array([20.0, 30.0, 36.0])[None, :, None]
    limit = np.array([25.0, 20.0])[:, None, None]
    found = people_needed(mass, limit)
    assert found[..., 0].tolist() == [[1, 2, 3], [1, 3, np.inf]]


@pytest.mark.parametrize("example", NIOSH["inputs"]["examples"], ids=str)
def test_printed_examples(example):
    """Read as the manual pairs its units, the metric form gives the printed answers."""
    # The US form is the metric one with 2.5 cm to the inch and 23 kg to 51 lb.
    limit_lb = rwl_of(example, 2.5) / 23 * 51
    assert limit_lb == pytest.approx(example["RWL"], abs=TOLERANCE["RWL_lb"])
    index = lifting_index(example["load"], limit_lb)
    assert index == pytest.approx(example["LI"], abs=TOLERANCE["LI"])


@pytest.mark.parametrize("example", NIOSH["inputs"]["examples"], ids=str)
def test_printed_examples_by_exact_conversion(example):
    """By exact factors only what the metric and US constants differ by remains."""
    # 23 kg for 51 lb (× 0.994) and 25 cm for 10 in (× 0.984; every H here is ≥ 10 in)
    constants = (23 / LB / 51) * (25 / IN / 10)
    limit_lb = rwl_of(example, IN) / LB
    found = limit_lb / constants
    assert found == pytest.approx(example["RWL"], abs=TOLERANCE["RWL_lb"])
    assert limit_lb < found  # the metric form is the stricter


@pytest.mark.parametrize("hours", [(0.5, 1.5, 4), (1, 2, 8)])
def test_frequency_table(hours):
    """Every cell of table 5, inside each duration and at its border."""
    table = np.array(PRINTED["table_5"])
    low, high = 74.9, 75
    for place, (duration, vertical) in enumerate(
        (duration, vertical) for duration in hours for vertical in (low, high)
    ):
        at = {"vertical_cm": vertical, "duration_h": duration}
        found = rwl(lifts_per_min=table[:, 0], **at) / rwl(vertical_cm=vertical)
        assert found == pytest.approx(table[:, place + 1], abs=1e-12)


def test_frequency_between_and_beyond_the_rows():
    """Linear between rows, the first row below 0.2 a minute, nothing above 15."""
    # p. 16, read in a transcription: (10 × 8)/15 = 5.33 a minute; .80 − .05 × 1/3
    assert rwl(lifts_per_min=10 * 8 / 15) == pytest.approx(23 * (0.80 - 0.05 / 3))
    # ≤ 8 h, V < 75: .18 at 8 a minute, 0 at 9; VM at 70 cm is .985
    low = rwl(vertical_cm=70, duration_h=8, lifts_per_min=8.5)
    assert low == pytest.approx(23 * 0.985 * 0.09)
    assert rwl(lifts_per_min=[0, 15, 15.01]).tolist() == [23, 23 * 0.28, 0]


def test_coupling_table():
    """Every cell of table 7."""
    names = list(PRINTED["table_7"])
    for place, vertical in enumerate([74.9, 75]):
        printed = np.array([PRINTED["table_7"][name][place] for name in names])
        found = rwl(coupling=names, vertical_cm=vertical) / rwl(vertical_cm=vertical)
        assert found == pytest.approx(printed, abs=1e-12)


@pytest.mark.parametrize(
    "table, field",
    [
        ("table_1_horizontal_cm", "horizontal_cm"),
        ("table_2_vertical_cm", "vertical_cm"),
        ("table_3_travel_cm", "travel_cm"),
        ("table_4_asymmetry_deg", "asymmetry_deg"),
    ],
)
def test_spot_values_of_the_other_tables(table, field):
    """Each multiplier alone, to the two decimals of its table (from memory)."""
    for figure, printed in PRINTED[table].items():
        found = rwl(**{field: figure}) / 23
        assert found == pytest.approx(printed, abs=TOLERANCE["tables"])


def test_all_multipliers_together():
    """A lift worked out by hand, all six multipliers below 1."""
    # 25/40 = .625; 1 − .003 × 45 = .865; .82 + 4.5/50 = .91; 1 − .0032 × 30 = .904
    # 2 a minute, ≤ 2 h: .84; fair, below 75 cm: .95
    found = recommended_weight_limit(40, 30, 50, 30, 2, 1.5, "fair")
    by_hand = 23 * 0.625 * 0.865 * 0.91 * 0.904 * 0.84 * 0.95
    assert found == pytest.approx(by_hand)


def test_closer_than_the_shortest_counts_as_the_shortest():
    """Below 25 cm a horizontal distance or a travel counts as 25 cm."""
    assert rwl(horizontal_cm=[0, 10, 25]).tolist() == [23, 23, 23]
    assert rwl(travel_cm=[0, 10, 25]) == pytest.approx([23, 23, 23])


@pytest.mark.parametrize(
    "field, last",
    [
        ("horizontal_cm", 63),
        ("vertical_cm", 175),
        ("travel_cm", 175),
        ("asymmetry_deg", 135),
    ],
)
def test_beyond_the_range_nothing_is_recommended(field, last):
    """Beyond a range, not at its end, the limit is 0 and the index inf."""
    at, beyond = rwl(**{field: [last, last + 0.1]})
    assert at > 0
    assert beyond == 0
    assert lifting_index(10, beyond) == np.inf


@given(lifts)
def test_never_more_than_the_load_constant(lift):
    """The recommended weight limit lies between 0 and 23 kg."""
    assert 0 <= recommended_weight_limit(**lift) <= 23 * (1 + 1e-12)


@given(
    lifts,
    st.sampled_from(["horizontal_cm", "travel_cm", "asymmetry_deg", "lifts_per_min"]),
    st.floats(0, 50),
)
def test_further_out_never_raises_it(lift, field, more):
    """Further out, longer travel, more twist or a faster pace never raise it."""
    harder = lift | {field: lift[field] + more}
    found = recommended_weight_limit(**harder)
    assert found <= recommended_weight_limit(**lift) * (1 + 1e-12)


@given(lifts, st.floats(0, 8))
def test_longer_never_raises_it(lift, hours):
    """Longer lifting never raises the limit, nor does a poorer hold."""
    longer = lift | {"duration_h": max(hours, lift["duration_h"])}
    assert recommended_weight_limit(**longer) <= recommended_weight_limit(**lift)
    good, fair, poor = recommended_weight_limit(
        **lift | {"coupling": ["good", "fair", "poor"]}
    )
    assert good >= fair >= poor


@given(st.lists(lifts, min_size=1, max_size=5))
def test_many_lifts_are_one_call(several):
    """Arrays of lifts give what each lift gives alone."""
    columns = {name: [lift[name] for lift in several] for name in BEST}
    alone = [recommended_weight_limit(**lift).item() for lift in several]
    assert recommended_weight_limit(**columns).tolist() == alone


def test_lifting_index():
    """The load over its limit, inf where the limit is 0, over broadcast arrays."""
    found = lifting_index([[11.5], [46]], [23, 0])
    assert found.tolist() == [[0.5, np.inf], [2, np.inf]]


@pytest.mark.parametrize(
    "call, sentence",
    [
        (lambda: people_needed(-5, 25), "mass: -5 kg is below 0; 0 kg or more"),
        (
            lambda: people_needed([10, np.nan], 25),
            "mass: nan kg is not a finite figure; 0 kg or more",
        ),
        (
            lambda: people_needed(10, np.inf),
            "lift limit: inf kg is not a finite figure; 0 kg or more",
        ),
        (lambda: lifting_index(10, -1), "weight limit: -1 kg is below 0; 0 kg or more"),
        (
            lambda: rwl(horizontal_cm=-1),
            "horizontal distance: -1 cm is below 0; 0 cm or more",
        ),
        (
            lambda: rwl(lifts_per_min=np.inf),
            "frequency: inf lifts/min is not a finite figure; 0 lifts/min or more",
        ),
        (
            lambda: rwl(coupling=["good", "firm"]),
            "coupling: 'firm' is not known; good, fair or poor",
        ),
        (
            lambda: rwl(duration_h=[2, 8.5]),
            "duration: 8.5 h is more than the lifting equation covers; 8 h at most",
        ),
    ],
)
def test_faults_in_sentences(call, sentence):
    """What cannot be a mass, a distance, a pace, a hold or a shift is named."""
    with pytest.raises(ScoringError) as fault:
        call()
    assert str(fault.value) == sentence
