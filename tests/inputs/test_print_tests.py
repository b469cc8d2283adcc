"""Timed prints become ranges and a carriage, and say what they cannot tell."""

from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from scoring.inputs import print_tests
from scoring.inputs.carriage import fit_carriage, strokes
from scoring.inputs.machine import PrintTest
from scoring.inputs.print_tests import (
    T_95,
    TOO_FEW,
    comparable,
    inferred,
    repeats,
    t_interval,
)
from scoring.inputs.quantity import spread
from scoring.model.job.site_time import scans

REFERENCE = Path(__file__).parents[1] / "reference"


def reference(name):
    return yaml.safe_load((REFERENCE / f"{name}.yaml").read_text(encoding="utf-8"))


def timed(minutes, passes=4, width="1 m", height="1 m", direction="both"):
    """Return one timed print."""
    return PrintTest(
        passes=passes,
        width=width,
        height=height,
        time=f"{minutes:.9f} min",
        direction=direction,
    )


@pytest.mark.parametrize(
    ("df", "t"), reference("t_interval_95")["published"]["t_975"].items()
)
def test_t_values_are_the_published_ones(df, t):
    """The table holds the printed two-sided 95 % values."""
    assert T_95[df - 1] == pytest.approx(t, abs=0.0005)


def test_all_t_values_agree_with_a_library():
    """Every row is SciPy's quantile to the three places that are printed."""
    quantiles = stats.t.ppf(0.975, np.arange(1, len(T_95) + 1))
    assert np.abs(quantiles - T_95).max() < 0.00051


# By hand: mean 51.0/5 = 10.2; squares of the deviations .16 + .04 + .01 + .64 + .25 =
# 1.10; s = √(1.10/4) = 0.5244; half = 2.776 · 0.5244/√5 = 0.6511.
def test_the_interval_of_five_repeats():
    """Five runs of 9.8, 10.4, 10.1, 11.0 and 9.7 min mean 10.20 ± 0.65 min."""
    trial = reference("t_interval_95")["derived"]["trial"]
    low, mean, high = t_interval(trial["minutes"])
    assert mean == pytest.approx(trial["mean"], abs=0.005)
    assert (high - low) / 2 == pytest.approx(trial["half_width"], abs=0.0005)
    [print_] = repeats([timed(m) for m in trial["minutes"]])
    assert (print_.low, print_.likely, print_.high) == pytest.approx(
        (9.549, 10.2, 10.851), abs=0.001
    )
    assert (print_.n_runs, print_.remark) == (5, "")


# 1 m² in 10.2 min is 60/10.2 = 5.882 m²/h; the ends 60/10.851 and 60/9.549.
def test_three_runs_or_more_give_the_interval_as_range():
    """The slow end of the minutes is the slow end of the speed."""
    speed = print_tests.tested_speeds([timed(m) for m in (9.8, 10.4, 10.1, 11.0, 9.7)])[
        4
    ]
    assert spread(speed) == pytest.approx((5.529, 5.882, 6.283), abs=0.001)
    assert (speed.basis, speed.note) == ("measured", "")


def test_two_runs_span_their_own_range_and_say_so():
    """1 m² in 30 and in 40 min is 1.5 to 2 m²/h, likely 2 m² in 70 min."""
    speed = print_tests.tested_speeds([timed(30), timed(40)])[4]
    assert spread(speed) == pytest.approx((1.5, 120 / 70, 2))
    assert speed.note == TOO_FEW
    assert speed.text == "1.71 m²/h from 2 timed prints, too few runs"


def test_one_run_has_the_spread_of_what_is_measured():
    """One run of 30 min for 1 m² is 2 m²/h, ± 5 % as any single measured figure."""
    speed = print_tests.tested_speeds([timed(30)])[4]
    assert not speed.is_range
    assert spread(speed) == pytest.approx((1.9, 2.0, 2.1))
    assert (speed.text, speed.note) == ("2.00 m²/h from one timed print", "")


def test_repeats_are_of_one_print():
    """Another size, direction or mode is another print; another unit is not."""
    runs = [
        timed(33, width="3 ft", height="3 ft"),
        timed(34, width="0.9144 m", height="91.44 cm"),
        timed(35, width="3 ft", height="3 ft", direction="one"),
        timed(36, width="3 ft", height="4 ft"),
        timed(75, width="3 ft", height="3 ft", passes=8),
    ]
    assert sorted(print_.n_runs for print_ in repeats(runs)) == [1, 1, 1, 2]


# Mean 7 min, s = √((36+25+121)/2) = 9.539, half = 4.303 · 9.539/√3 = 23.7: below 0.
def test_wide_scatter_never_makes_an_endless_speed():
    """Where the interval would reach 0 min, half the fastest run's time ends it."""
    [print_] = repeats([timed(1), timed(2), timed(18)])
    assert print_.low == 0.5
    assert print_.remark == "the runs scatter widely"


@given(st.lists(st.floats(1, 100), min_size=1, max_size=40), st.permutations(range(40)))
def test_a_speed_lies_within_its_range_whatever_the_order(minutes, order):
    """0 < low ≤ likely ≤ high, and the order of the runs is nothing."""
    runs = [timed(m) for m in minutes]
    shuffled = [runs[k] for k in order if k < len(runs)]
    speed, again = (
        print_tests.tested_speeds(runs)[4],
        print_tests.tested_speeds(shuffled)[4],
    )
    assert 0 < speed.low <= speed.likely <= speed.high < np.inf
    assert (again.low, again.likely, again.high) == pytest.approx(
        (speed.low, speed.likely, speed.high)
    )


# By hand: 6.0 · 4/0.05 + 3 = 483 strokes of 2.4/0.5 + 1.5 = 6.3 s are 3042.9 s =
# 0.84525 h; at 1.2 m, of 2.4 + 1.5 = 3.9 s, 1883.7 s. 0.5 m/s is 30 m/min, 1.5 s is
# 0.025 min.
def test_two_heights_give_back_the_carriage_of_the_reference():
    """Prints of the reference case tell its head speed and turnaround."""
    case = reference("carriage_throughput")
    hours = 483 * (2.4 / 0.5 + 1.5) / 3600
    assert strokes(6.0, 4, 0.05) == case["derived"]["scans"]
    assert hours == pytest.approx(case["derived"]["hours"], abs=0.0005)
    tests = [
        timed(3042.9 / 60, width="6 m", height="2.4 m"),
        timed(1883.7 / 60, width="6 m", height="1.2 m"),
    ]
    fit = fit_carriage(tests, 0.05)
    assert fit.head_speed == pytest.approx(30)
    assert fit.turnaround == pytest.approx(0.025)
    assert fit.residual == pytest.approx(0, abs=1e-6)


@given(
    speed=st.floats(1, 100),
    turn=st.floats(0.001, 0.2),
    strip=st.floats(0.01, 0.5),
    heights=st.tuples(st.integers(3, 10), st.integers(20, 40)),
    width=st.integers(3, 60),
)
def test_prints_made_by_the_model_give_its_figures_back(
    speed, turn, strip, heights, width
):
    """Whatever the carriage, prints at two heights and a second mode are fitted."""

    def print_(passes, height):
        n = strokes(width / 10, passes, strip)
        minutes = n * (height / 10 / speed + turn)
        return timed(minutes, passes, f"{width / 10} m", f"{height / 10} m")

    tests = [print_(4, heights[0]), print_(4, heights[1]), print_(8, heights[0])]
    fit = fit_carriage(tests, strip)
    assert fit.head_speed == pytest.approx(speed, rel=1e-3)
    assert fit.turnaround == pytest.approx(turn, rel=1e-3)


@given(st.floats(0.01, 10), st.integers(1, 16), st.floats(0.01, 0.5))
def test_strokes_are_those_of_the_site_model(width, passes, strip):
    """The fit counts strokes as the model that uses it does."""
    assert strokes(width, passes, strip) == scans(width, passes, strip)


# Strokes: 1 · 1/0.1 = 10. 10 strokes of 1 m in 10 min, of 2 m in 30 min: the line has
# turn = (2 · 10 − 30)/10 = −1 min. With turn 0: Σxy/Σx² = (10·10 + 20·30)/(100 + 400) =
# 1.4 min/m, so 1/1.4 m/min; residuals 10 − 14 = −4 and 30 − 28 = 2, rms √10.
def test_a_turnaround_is_never_below_0():
    """A turnaround that would be below 0 is 0, and the speed is fitted anew."""
    tests = [timed(10, 1), timed(30, 1, height="2 m")]
    fit = fit_carriage(tests, 0.1)
    assert fit.turnaround == 0
    assert fit.head_speed == pytest.approx(1 / 1.4)
    assert fit.residual == pytest.approx(10**0.5)


def test_where_heights_tell_nothing_the_area_rate_must_do():
    """One height, heights of different modes, or minutes that ignore the height."""
    assert fit_carriage([], 0.1) is None
    assert fit_carriage([timed(10), timed(11), timed(9, width="2 m")], 0.1) is None
    assert fit_carriage([timed(10), timed(30, passes=8, height="2 m")], 0.1) is None
    one_way = timed(30, height="2 m", direction="one")
    assert fit_carriage([timed(10), one_way], 0.1) is None
    assert fit_carriage([timed(10), timed(5, height="2 m")], 0.1) is None
    assert fit_carriage([timed(0), timed(30, height="2 m")], 0.1) is None


def test_prints_in_both_directions_come_first():
    """A way back without ink is not mixed into the fit of prints made in both."""
    both = [timed(20, 1), timed(30, 1, height="2 m")]
    one = [timed(90, 1, direction="one"), timed(99, 1, height="2 m", direction="one")]
    # 10 strokes: 10 · (1/v + t) = 20 and 10 · (2/v + t) = 30, so v = 1 m/min, t = 1 min
    assert fit_carriage(one + both, 0.1)[:2] == pytest.approx((1, 1))
    # 10 · (1/v + t) = 90 and 10 · (2/v + t) = 99: 1/v = 0.9, t = 8.1
    assert fit_carriage(one, 0.1)[:2] == pytest.approx((1 / 0.9, 8.1))


def test_comparable_prints_share_image_passes_and_direction():
    """One print that both have is enough; else the nearest two say what differs."""
    here = [timed(33, width="3 ft", height="3 ft"), timed(20, passes=8)]
    assert comparable(here, [timed(75, width="0.9144 m", height="3 ft")]) == ""
    there = [timed(75, 6, "4 ft", "3 ft", "one")]
    assert comparable(here, there) == (
        "The timed prints cannot be compared: an image of 3 ft × 3 ft here, 4 ft × 3 "
        "ft there; 4 passes here, 6 there; printed in both directions here, one "
        "direction there."
    )
    assert comparable(here, [*there, timed(9, passes=1)]) == (
        "The timed prints cannot be compared: 8 passes here, 1 there."
    )
    assert comparable(here, []) == (
        "The timed prints cannot be compared: one machine has none."
    )


PRINTS = st.builds(
    timed,
    st.just(10),
    st.sampled_from([4, 8]),
    st.sampled_from(["1 m", "2 m"]),
    st.just("1 m"),
    st.sampled_from(["both", "one"]),
)


@given(st.lists(PRINTS, max_size=3), st.lists(PRINTS, max_size=3))
def test_what_can_be_compared_can_be_compared_the_other_way_round(a, b):
    """Which machine comes first changes at most the order of the words."""
    assert (comparable(a, b) == "") == (comparable(b, a) == "")
    assert not a or comparable(a, a) == ""


def test_a_job_unlike_the_prints_is_inferred():
    """Another mode and another shape are both told of; 10 % of a side is the same."""
    tests = [timed(33, 4, "1 m", "1 m"), timed(50, 8, "1 m", "2 m")]
    assert inferred(tests, 4, 1.05, 0.95) == ""
    assert inferred(tests, 4, 1.0, 2.0) == "inferred from a print of 1 m × 1 m"
    assert inferred(tests, 8, 1.0, 2.0) == ""
    assert inferred(tests, 6, 1.0, 2.0) == "inferred from 8 passes"
    assert inferred(tests, 12, 3.0, 2.0) == (
        "inferred from 8 passes and a print of 1 m × 2 m"
    )
    assert inferred([], 4, 1.0, 1.0) == "no print was timed"
