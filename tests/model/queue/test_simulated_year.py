"""The simulated year, in the limits in which its answer is known exactly."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.errors import ScoringError
from scoring.model.money.served import bookable_days_down
from scoring.model.outcome import outcome
from scoring.model.queue.checked import Diary
from scoring.model.queue.simulated_year import (
    BLOCK,
    NOBODY,
    SimulatedYear,
    chance_below,
    percentiles,
    serve_in_turn,
    simulate,
)
from tests.model.builders import business, jobs, machines
from tests.model.queue.queueing import erlang_b, pollaczek_khinchine

YEAR = Diary(5, 48, 0.5)  # 240 working days, 120 of them bookable
LONG = Diary(5, 2000, 1)  # 10 000 days: how a year starts hardly counts
ERRORS = 4.5  # standard errors allowed of a mean: passed by chance once in 10⁵


def alone(per_day, booked, diary=LONG, stoppages=0.0, down=0.0, **keywords):
    """Return years of one machine whose jobs leave 100; `per_day` and `booked` by type.

    Rates are a bookable day, so that load = rate · (booked + stoppages · down).
    """
    per_day, booked = np.atleast_1d(per_day), np.atleast_1d(booked)
    return simulate(
        per_day * diary.days_a_year / 12,
        booked[None],
        np.full((1, len(booked)), 100.0),
        [0.0],
        [1 / stoppages if stoppages else np.inf],
        [down],
        diary,
        **keywords,
    )


def standard_error(figure):
    return figure.std(ddof=1) / math.sqrt(len(figure))


def assert_mean(figure, expected, slack=0.0):
    """Assert that years average to what is expected, as near as chance allows."""
    allowed = ERRORS * standard_error(figure) + slack
    assert abs(figure.mean() - expected) < allowed, (figure.mean(), expected, allowed)


def moments(booked, stoppages, down):
    """Return E S, E S², E S³ of a job's days with its stoppages, types equally likely.

    S = b + d N with N Poisson of mean p: mean m = b + d p, variance d² p and third
    central moment d³ p, so E S³ = m³ + 3 m d² p + d³ p.
    """
    mean, variance = np.array(booked) + down * stoppages, down**2 * stoppages
    third = mean**3 + 3 * mean * variance + down**3 * stoppages
    return mean.mean(), (mean**2 + variance).mean(), third.mean()


def days_ahead(rate, booked, stoppages, down, days_a_year):
    """Return the mean days of work ahead over a year that starts with none.

    Between arrivals V² falls at the rate 2 V and an arrival adds 2 V S + S², so
    d E V² / dt = λ E S² − 2 (1 − ρ) E V. Over D days from V = 0:
    mean of V = λ E S² / (2 (1 − ρ)) − E V(D)² / (2 (1 − ρ) D).
    The first term is the wait of Pollaczek and Khinchine; for V(D)² stands its value in
    the long run, 2 (E V)² + λ E S³ / (3 (1 − ρ)) (Takács 1962, from memory).
    """
    mean, square, cube = moments(booked, stoppages, down)
    wait = pollaczek_khinchine(rate, mean, square / mean**2 - 1).wait
    spare = 1 - rate * mean
    at_end = 2 * wait**2 + rate * cube / (3 * spare)
    return wait - at_end / (2 * spare * days_a_year)


def test_four_jobs_by_hand():
    """Two types, a stoppage and a year's end come out as on paper."""
    # Day 0.5: type 0 (2 days), done 2.5, then down 1 day: free at 3.5.
    # Day 1: type 1 (3 days), begins 3.5, done 6.5. Day 5: type 0, would begin at 6.5,
    # 1.5 days ahead, done 8.5. Day 7: type 1 begins 8.5; 1.5 of 3 days done by day 10.
    days = np.array([[0.5], [1.0], [5.0], [7.0]])
    kinds = np.array([[0], [1], [0], [1]])
    lost = np.array([1.0, 0, 0, 2.0])[:, None, None]
    work = np.array([[2.0, 3.0]]), np.array([[True, True]]), lost
    turns = serve_in_turn(days, kinds, *work, np.inf, 10.0)
    assert turns.done_days.tolist() == [[[4.0, 4.5]]]
    assert turns.joined.tolist() == [[[2.0, 2.0]]]
    assert turns.lost_days.item() == 1.0  # the stoppage after the last falls beyond
    assert turns.idle_days.item() == 0.5  # the days are 8.5 + 1 + 0.5 = 10
    # Ahead: 3 at 0.5; 2.5 + 3 = 5.5 at 1; 1.5 + 2 = 3.5 at 5; 1.5 + 5 = 6.5 at 7, and
    # 3.5 at 10. Area (3² − 2.5²)/2 + (5.5² − 1.5²)/2 + (3.5² − 1.5²)/2
    # + (6.5² − 3.5²)/2 = 1.375 + 14 + 5 + 15 = 35.375.
    assert turns.most_ahead.item() == 6.5
    assert turns.mean_ahead.item() == pytest.approx(3.5375, rel=1e-12)


def test_who_will_not_wait_goes():
    """A client who would wait just the patience stays, a longer wait sends him away."""
    # 3 days from day 1; on day 2 two days are ahead, on day 2.5 one and a half.
    days, kinds = np.array([[1.0], [2.0], [2.5]]), np.zeros((3, 1), int)
    work = np.array([[3.0]]), np.array([[True]]), np.zeros((3, 1, 1))
    joined = [
        serve_in_turn(days, kinds, *work, patience, 10.0).joined.item()
        for patience in (0, 1.5, 2, 4.5)
    ]
    assert joined == [1, 2, 2, 3]


def test_nobody_and_unasked_machines():
    """Arrivals of nobody, and of types a machine does not do, change nothing."""
    days, kinds = np.array([[1.0], [2.0], [10.0]]), np.array([[0], [1], [NOBODY]])
    booked, is_taken = np.array([[2.0, 1.0], [2.0, 0.0]]), np.array([[1, 1], [1, 0]])
    turns = serve_in_turn(
        days, kinds, booked, is_taken.astype(bool), np.zeros((3, 1, 2)), np.inf, 10.0
    )
    assert turns.done_days.tolist() == [[[2.0, 1.0], [2.0, 0.0]]]
    assert turns.joined.tolist() == [[[1.0, 1.0], [1.0, 0.0]]]
    assert turns.idle_days.tolist() == [[7.0, 8.0]]


@pytest.mark.parametrize(
    ("rate", "booked", "stoppages", "down"),
    [
        (0.3, [2.0], 0, 0),  # all jobs alike: load 0.6
        (0.2, [0.5, 5.5], 0, 0),  # very unlike: load 0.6
        (1.0, [2.0], 0, 0),  # twice the work there is time for
        (0.3, [2.0], 0.1, 20.0),  # load 0.3 · (2 + 2) = 1.2
    ],
)
def test_pure_loss_is_erlang_b(rate, booked, stoppages, down):
    """If nobody waits, the share turned away is a / (1 + a), whatever the jobs take.

    Slack: one job a year, because it starts with an empty diary.
    """
    each = np.full(len(booked), rate / len(booked))
    years = alone(each, booked, LONG, stoppages, down, patience_days=0, n_years=50)
    came = years.served + years.turned_away + years.waiting
    share = years.turned_away.sum(axis=-1) / came.sum(axis=-1)
    expected = erlang_b(rate * moments(booked, stoppages, down)[0], 1)
    assert_mean(share, expected, slack=1 / (rate * LONG.days_a_year))


@pytest.mark.parametrize(
    ("rate", "booked", "stoppages", "down"),
    [
        (0.3, [2.0], 0, 0),
        (0.2, [1.0, 5.0], 0, 0),
        (0.3, [1.0, 2.0], 0.05, 10.0),  # load 0.3 · (1.5 + 0.5)
    ],
)
@pytest.mark.parametrize(
    ("diary", "n_years"), [(LONG, 50), (Diary(4, 250, 0.5), 1000), (YEAR, 4000)]
)
def test_backlog_is_that_of_pollaczek_and_khinchine(
    rate, booked, stoppages, down, diary, n_years
):
    """The mean backlog is the wait in the long run, less what an empty start spares.

    Arrivals are Poisson, so the wait a client meets is the mean of the work ahead.
    """
    each = np.full(len(booked), rate / len(booked))
    years = alone(each, booked, diary, stoppages, down, n_years=n_years)
    expected = days_ahead(rate, booked, stoppages, down, diary.days_a_year)
    a_week = diary.days_per_week * diary.bookable_share
    assert_mean(years.mean_backlog_weeks * a_week, expected)
    assert not years.turned_away.any()


@pytest.mark.parametrize("patience", [1.0, 4.0, 9.0])
@pytest.mark.parametrize("rate", [0.2, 0.45])
def test_share_that_will_not_wait(rate, patience):
    """The share turned away is that of a queue with bounded patience, all jobs alike.

    Below the patience K the work ahead has the density of the line nobody leaves, times
    a constant A, for the same balance holds there. With F the share of those who would
    wait at most K: turned away = 1 − A F, and the machine is free a share A (1 − ρ) of
    the time, busy ρ (1 − turned away). So A = 1 / (1 − ρ + ρ F), and turned away is
    (1 − ρ)(1 − F) / (1 − ρ (1 − F)). F is Erlang's (1909) for jobs of D days:
    F(x) = (1 − ρ) Σ (λ (k D − x))ᵏ / k! · exp(−λ (k D − x)) over k from 0 to x / D.
    Slack: one job a year, because it starts with an empty diary.
    """
    days = 2.0
    load = rate * days
    at = [rate * (k * days - patience) for k in range(int(patience / days) + 1)]
    terms = [a**k / math.factorial(k) * math.exp(-a) for k, a in enumerate(at)]
    longer = 1 - (1 - load) * math.fsum(terms)
    expected = (1 - load) * longer / (1 - load * longer)
    years = alone(rate, days, patience_days=patience, n_years=50)
    came = years.served + years.turned_away + years.waiting
    share = (years.turned_away / came)[..., 0]
    assert_mean(share, expected, slack=1 / (rate * LONG.days_a_year))


def test_free_clients_are_poisson():
    """Jobs that take next to nothing are all served: mean and variance are Poisson's.

    Of 48 and 24 jobs a year at 100 and 250: mean 48 · 100 + 24 · 250 = 10 800 and
    variance 48 · 100² + 24 · 250² = 1 980 000. A variance of n years is off by about
    √(2/n) of itself.
    """
    n_years = 20_000
    years = simulate(
        [4.0, 2.0],
        [[1e-9, 1e-9]],
        [[100.0, 250.0]],
        [-800.0],
        [np.inf],
        [0.0],
        YEAR,
        n_years=n_years,
    )
    assert_mean(years.result, 10_000)
    off = years.result.var() / 1_980_000 - 1
    assert abs(off) < ERRORS * math.sqrt(2 / n_years)


def average_and_inputs(*types, **figures):
    """Return (Year of the model, arguments of `simulate`) of one invented business."""
    one = {"jobs_between_stoppages": 20, "days_down": 2, "plan_fee": 600}
    rigs = machines(one, {"upkeep": 300}, speeds=((6.0,), (1.5,)))
    mix, buyer = jobs(*types), business(fixed_costs=2000, **figures)
    lived = outcome(rigs, mix, buyer)
    is_taken = (lived.can_do & ~lived.year.is_declined)[0]
    fixed = lived.year.result - lived.year.lines.contributions
    inputs = (
        mix.per_month[0, 0],
        np.where(is_taken, lived.booked_days[0], np.nan),
        lived.contribution[0],
        fixed[0, :, 0],
        np.broadcast_to(rigs.jobs_between_stoppages, fixed.shape)[0, :, 0],
        np.broadcast_to(bookable_days_down(rigs, buyer), fixed.shape)[0, :, 0],
    )
    diary = Diary(5, 48, figures.get("bookable_share", 0.5))
    return lived.year, (*inputs, diary)


LIGHT = ({"per_month": 2}, {"per_month": 1, "width_m": 6})
HEAVY = ({"per_month": 9}, {"per_month": 4, "width_m": 6, "walls": 2})
UNDOABLE = ({"per_month": 9}, {"per_month": 4, "passes": 4, "is_curved": True})


@pytest.mark.parametrize("types", [LIGHT, HEAVY, UNDOABLE])
def test_without_chance_it_is_the_average_year(types):
    """With nothing left to chance the year is that of the expected-value model.

    They must agree where the work fits, and where it does not if the mix is the same
    all year, nobody leaves, nothing is must-serve and the mix is cut pro rata: then
    first come first served takes all types alike too.
    """
    average, inputs = average_and_inputs(*types)
    years = simulate(*inputs, is_random=False)
    np.testing.assert_allclose(
        years.served[0], 12 * average.served_per_month[0], rtol=1e-9
    )
    np.testing.assert_allclose(years.result[0], average.result[0, :, 0], rtol=1e-9)
    np.testing.assert_allclose(
        years.days_lost[0], average.days_lost[0, :, 0], rtol=1e-9, atol=1e-9
    )
    np.testing.assert_allclose(
        years.days_worked[0], 12 * average.booked_days[0, :, 0], rtol=1e-9
    )


def test_the_cases_hold_what_they_should():
    """Of the cases above one fits its diary, one does not, one has undoable work."""
    light, heavy, undoable = (
        average_and_inputs(*types)[0] for types in (LIGHT, HEAVY, UNDOABLE)
    )
    assert light.work_served.min() == 1
    assert heavy.work_served.max() < 1
    assert (undoable.served_per_month[0, :, 1] == 0).all()


def finely(inputs, parts):
    """Return the arguments with each job cut into so many jobs that come by chance.

    Each takes and leaves its part, and stops the machine for its part of the days.
    """
    per_month, booked, contribution, fixed, between, down, diary = inputs
    pieces = booked / parts, contribution / parts
    return per_month * parts, *pieces, fixed, between, down / parts, diary


@pytest.mark.parametrize("types", [LIGHT, HEAVY])
def test_chance_vanishes_in_many_small_jobs(types):
    """As jobs get many and small, the mean random year goes to the average year.

    Cut into k parts the spread of the work that comes falls as 1/√k: of 36 jobs a year
    or more cut into 81 it is 1/√2916 = 1.9 % or less, a tenth of that in the mean of
    100 years. What is left undone when the year ends falls as 1/k.
    """
    average, inputs = average_and_inputs(*types)
    expected = average.result[0, :, 0]
    scale = average.lines.contributions[0, :, 0]
    off, spread = [], []
    for parts in (1, 9, 81):
        years = simulate(*finely(inputs, parts), n_years=100)
        off.append(np.abs(years.result.mean(axis=0) - expected) / scale)
        spread.append(years.result.std(axis=0) / scale)
    assert (spread[0] > spread[1]).all()
    assert (spread[1] > spread[2]).all()
    assert (off[2] < ERRORS * 0.0019).all()
    assert (off[2] < off[0]).all()


def test_what_an_average_year_overlooks_when_work_fits():
    """The mean year falls short of the average year by the work it leaves undone.

    What is ahead when the year ends is in the mean the wait of the long run.
    """
    rate, booked = 0.25, 2.0  # a bookable day, of 120: 30 jobs, 60 days' work
    years = alone(rate, booked, YEAR, 0.1, 5.0, n_years=10_000)
    mean, square, _ = moments([booked], 0.1, 5.0)
    left = pollaczek_khinchine(rate, mean, square / mean**2 - 1).wait
    done = years.days_worked + years.days_lost
    assert_mean(done, rate * mean * YEAR.days_a_year - left)


def test_what_an_average_year_overlooks_at_full_load():
    """With just as much work as time, days idle go to √(2 λ E S² D / π).

    Then the days idle are the lowest point of work come less time gone, which has no
    drift, so that they go to the largest value of a Brownian motion: |N(0, λ E S² D)|.
    One step of the walk, of the order of a job, is allowed for: 1 day of 120 is cut
    into 64 jobs, E S² = 1/64², λ = 64.
    """
    parts, days = 64, YEAR.days_a_year
    years = alone(float(parts), 1 / parts, YEAR, n_years=400)
    expected = math.sqrt(2 * days / parts / math.pi)
    assert_mean(years.days_idle, expected, slack=1 / parts)


def seasonal(patience_days=np.inf, parts=1, **keywords):
    """Return years whose 180 days of work all come in the first half."""
    return simulate(
        [15.0 * parts],
        [[1.0 / parts]],
        [[100.0 / parts]],
        [0.0],
        [np.inf],
        [0.0],
        YEAR,
        patience_days,
        [1] * 6 + [0] * 6,
        **keywords,
    )


def test_a_season_by_hand():
    """What comes faster than it can be done piles up and is done later."""
    # 180 days of work come in 60 days of the diary, which then holds 120; these last
    # the other 60, and 60 are left. Ahead rises from 0 to 120, then falls to 60: mean
    # (60 + 90) / 2 = 75 days. A week has 2.5 bookable days.
    years = seasonal(is_random=False)
    assert years.served.item() == pytest.approx(120)
    assert years.waiting.item() == pytest.approx(60)
    assert years.result.item() == pytest.approx(12_000)
    assert years.days_idle.item() == pytest.approx(0)
    assert years.max_backlog_weeks.item() == pytest.approx(120 / 2.5)
    assert years.mean_backlog_weeks.item() == pytest.approx(75 / 2.5)


def test_a_season_with_clients_who_leave_by_hand():
    """No more piles up than clients will wait for; the rest goes elsewhere."""
    # 60 working days of patience are 30 bookable days. In the first half 60 days are
    # worked and 30 are ahead; 90 go elsewhere. Of the other 60 days 30 are idle.
    years = seasonal(60, is_random=False)
    assert years.served.item() == pytest.approx(90)
    assert years.turned_away.item() == pytest.approx(90)
    assert years.waiting.item() == pytest.approx(0)
    assert years.days_idle.item() == pytest.approx(30)
    assert years.max_backlog_weeks.item() == pytest.approx(30 / 2.5)


@pytest.mark.parametrize("patience", [60, np.inf])
def test_random_seasons_go_to_those_by_hand(patience):
    """Random years of many small jobs show the same season, within 2 % of the diary."""
    chance = seasonal(patience, 100, n_years=100)
    flow = seasonal(patience, 100, is_random=False)
    for field in ("days_worked", "days_idle"):
        found, expected = (getattr(years, field).mean() for years in (chance, flow))
        assert found == pytest.approx(expected, abs=0.02 * YEAR.days_a_year), field
    # The flow's mean is taken at the ends of its steps, half a day apart.
    for field in ("mean_backlog_weeks", "max_backlog_weeks"):
        found, expected = (getattr(years, field).mean() for years in (chance, flow))
        assert found == pytest.approx(expected, rel=0.04), field


rates = st.floats(0, 12)
spans = st.sampled_from([0.25, 0.5, 1.0, 2.0, 3.5, np.nan])
patiences = st.sampled_from([0.0, 3.0, 20.0, np.inf])


@st.composite
def cases(draw):
    """Return arguments of `simulate` for 1 to 3 machines and 1 to 3 job types."""
    n_machines, n_jobs = draw(st.integers(1, 3)), draw(st.integers(1, 3))

    def several(elements, *shape):
        size = math.prod(shape)
        return np.array(draw(st.lists(elements, min_size=size, max_size=size))).reshape(
            shape
        )

    return (
        several(rates, n_jobs),
        several(spans, n_machines, n_jobs),
        several(st.floats(-200, 900), n_machines, n_jobs),
        several(st.floats(-5000, 0), n_machines),
        several(st.sampled_from([2.0, 15.0, np.inf]), n_machines),
        several(st.sampled_from([0.0, 1.5, 8.0]), n_machines),
        YEAR,
        draw(patiences),
        draw(st.sampled_from([None, [0, 0, 1, 2, 3, 3, 2, 2, 1, 1, 0, 0]])),
    )


@settings(max_examples=40)
@given(cases(), st.booleans())
def test_days_and_jobs_add_up(case, is_random):
    """Days worked, lost and idle fill the diary; jobs are served, gone or waiting."""
    years = simulate(*case, n_years=10, is_random=is_random)
    per_month, booked, contribution, other_lines = case[:4]
    days = years.days_worked + years.days_lost + years.days_idle
    np.testing.assert_allclose(days, YEAR.days_a_year, rtol=1e-9)
    came = years.served + years.turned_away + years.waiting
    for figure in (years.served, years.turned_away, years.waiting):
        assert (figure > -1e-9).all()
        assert (figure[:, np.isnan(booked)] == 0).all()
    doable = np.where(np.isnan(booked), 0, 1)
    if is_random:  # whole jobs, the same for every machine that is asked
        np.testing.assert_allclose(came, np.round(came), atol=1e-9)
        np.testing.assert_allclose(came, came.max(axis=1)[:, None] * doable, atol=1e-9)
    else:
        np.testing.assert_allclose(came[0], 12 * per_month * doable, atol=1e-9)
    if np.isinf(case[7]):
        assert np.abs(years.turned_away).max() < 1e-9
    worth = (years.served * contribution).sum(axis=-1)
    np.testing.assert_allclose(years.result, worth + other_lines, atol=1e-6)
    assert (years.mean_backlog_weeks <= years.max_backlog_weeks + 1e-9).all()


@settings(max_examples=15)
@given(cases(), st.integers(0, 2**40), st.integers(1, 3 * BLOCK))
def test_same_seed_same_years(case, seed, n_years):
    """Neither the chunk nor the number of years nor company changes a year."""
    whole = simulate(*case, n_years=n_years, seed=seed, chunk=10 * BLOCK)
    shorter = simulate(*case, n_years=(n_years + 1) // 2, seed=seed)
    last = tuple(part[-1:] for part in case[1:6])
    lonely = simulate(case[0], *last, *case[6:], n_years=n_years, seed=seed, chunk=1)
    for all_of_it, first, of_last in zip(whole, shorter, lonely, strict=True):
        assert np.array_equal(all_of_it[: len(first)], first)
        assert np.array_equal(all_of_it[:, -1:], of_last)


def test_another_seed_other_years():
    """Seeds and blocks differ: no two of 1500 years earn all the same."""
    case = ([3.0, 5.0], [[1.0, 1.7]], [[100.0, 211.3]], [0.0], [9.0], [2.0], YEAR)
    one, other = (
        simulate(*case, n_years=3 * BLOCK, seed=seed).mean_backlog_weeks
        for seed in (1, 2)
    )
    assert len(np.unique(np.concatenate([one, other]))) == 6 * BLOCK


@settings(max_examples=25)
@given(st.floats(0.5, 20), st.floats(1, 3), spans.filter(np.isfinite))
def test_more_jobs_keep_a_machine_busier(per_month, times, booked):
    """With one job type and clients who wait, more jobs never lower any year's result.

    A higher rate adds jobs to those that come anyway, so it holds year by year.
    """
    fewer, more = (
        simulate([rate], [[booked]], [[300.0]], [0.0], [np.inf], [0.0], YEAR, n_years=9)
        for rate in (per_month, per_month * times)
    )
    assert (more.result >= fewer.result - 1e-6).all()
    assert (more.days_idle <= fewer.days_idle + 1e-9).all()


@pytest.mark.parametrize("patience", [0, 6, 30, np.inf])
def test_more_jobs_never_lower_the_expected_result(patience):
    """With impatient clients and stoppages it holds for the mean, within its error."""
    results = [
        alone(rate, 2.0, YEAR, 0.05, 6.0, patience_days=patience, n_years=1500).result
        for rate in (0.05, 0.1, 0.2, 0.4, 0.8)
    ]
    for fewer, more in zip(results, results[1:], strict=False):
        gained = more - fewer
        assert gained.mean() > -ERRORS * standard_error(gained)


def test_more_poor_work_can_lower_the_result():
    """First come first served, long jobs that leave little crowd out the good ones.

    10 bookable days a month. 8 jobs of 1 day that leave 500: 12 · 8 · 500 = 48 000.
    With 2 more of 6 days that leave 120, half of the 20 days' work is done:
    12 · (4 · 500 + 1 · 120) = 25 440.
    """
    results = [
        simulate(
            [8.0, poor],
            [[1.0, 6.0]],
            [[500.0, 120.0]],
            [0.0],
            [np.inf],
            [0.0],
            YEAR,
            is_random=False,
        ).result.item()
        for poor in (0.0, 2.0)
    ]
    assert results == pytest.approx([48_000, 25_440])


@settings(max_examples=25)
@given(cases(), st.booleans())
def test_patience_bounds_the_backlog(case, is_random):
    """Nobody joins behind more than the patience: at most that and a job are ahead."""
    never_down = (*case[:5], 0 * case[5], YEAR, 10.0, case[8])
    years = simulate(*never_down, n_years=20, is_random=is_random)
    longest = np.where(np.isnan(case[1]), 0, case[1]).max(axis=1)
    allowed = 10 / 5 + is_random * longest / 2.5  # weeks; without chance jobs flow
    assert (years.max_backlog_weeks <= allowed + 1e-9).all()


def test_summaries_by_hand():
    """P10, P50 and P90 of 0, 10 … 100 are 10, 50 and 90; 3 of 11 are below 30."""
    figure = np.stack([np.arange(11) * 10.0, np.arange(11) * -10.0], axis=1)
    assert percentiles(figure).tolist() == [[10, -90], [50, -50], [90, -10]]
    np.testing.assert_allclose(chance_below(figure, 30), [3 / 11, 1])
    np.testing.assert_allclose(chance_below(figure, [0, -50]), [0, 5 / 11])


@given(cases())
@settings(max_examples=10)
def test_summaries_agree(case):
    """At most so many per cent of years are below a percentile, which do not fall."""
    result = simulate(*case, n_years=37).result
    found = percentiles(result, (10, 50, 90))
    assert (np.diff(found, axis=0) >= 0).all()
    for share, amount in zip((0.1, 0.5, 0.9), found, strict=True):
        assert (chance_below(result, amount) <= share + 1 / 37).all()


def test_progress_is_told():
    """Shares done rise to 1, one a chunk."""
    told = []
    alone(0.1, 1.0, YEAR, n_years=2 * BLOCK + 1, chunk=BLOCK, on_progress=told.append)
    n_years = 2 * BLOCK + 1
    assert told == [BLOCK / n_years, 2 * BLOCK / n_years, 1]


def test_shapes():
    """Years, machines and job types are the axes, with one year or several."""
    case = ([1.0, 2.0, 3.0], np.ones((2, 3)), np.ones((2, 3)), *np.ones((3, 2)), YEAR)
    for n_years in (1, 7):
        years = simulate(*case, n_years=n_years)
        for field in SimulatedYear._fields:
            by_type = field in ("served", "turned_away", "waiting")
            expected = (n_years, 2, 3) if by_type else (n_years, 2)
            assert getattr(years, field).shape == expected, field


GOOD = {
    "per_month": [1.0],
    "booked_days": [[1.0]],
    "contribution": [[1.0]],
    "other_lines": [0.0],
    "jobs_between_stoppages": [9.0],
    "days_down": [1.0],
    "diary": YEAR,
}


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"per_month": [-1.0]}, "jobs per month: -1.0; 0 or more"),
        ({"booked_days": [[0.0]]}, "booked days: 0.0; above 0, or NaN"),
        ({"contribution": [[math.nan]]}, "contribution: nan; finite"),
        ({"jobs_between_stoppages": [0]}, "jobs between stoppages: 0.0; above 0"),
        ({"patience_days": math.nan}, "patience: nan; 0 days or more"),
        ({"seasonality": [1, 2]}, "seasonality: 2 numbers; 12, one a month"),
        (
            {"seasonality": [0] * 12},
            "seasonality: every month is 0; at least one above 0",
        ),
        (
            {"days_down": [-2.0], "diary": Diary(5, 0, 1.5)},
            "days down: -2.0; 0 or more\nweeks per year: 0.0; above 0\n"
            "bookable share: 1.5; above 0, up to 1",
        ),
        (
            {"booked_days": [1.0]},
            "shapes: (1,), (1,), (1, 1), (1,), (1,), (1,); (job,), twice (machine, "
            "job), three times (machine,)",
        ),
        ({"n_years": 0}, "years: 0; a whole number, 1 or more"),
        ({"seed": -1}, "seed: -1; a whole number, 0 or more"),
        ({"chunk": 0}, "years at a time: 0; 1 or more"),
    ],
)
def test_what_cannot_be_is_told(changed, message):
    """Every argument out of its range is named with what is allowed."""
    with pytest.raises(ScoringError) as told:
        simulate(**(GOOD | changed))
    assert str(told.value) == message


def test_percentile_out_of_range():
    """A percentile beyond 100 is refused."""
    with pytest.raises(ScoringError) as told:
        percentiles(np.ones((2, 1)), (10, 101))
    assert str(told.value) == "percentile: 101.0; 0 to 100 (per cent)"
