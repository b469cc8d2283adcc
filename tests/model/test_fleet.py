"""Which rig does which jobs: by hand, against enumeration, and what always holds."""

from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.errors import ScoringError
from scoring.model.fleet import after_sharing, assignment, stand_in_value
from scoring.model.money.served import best_first
from scoring.model.money.worth_serving import worth_serving
from tests.model.builders import business, jobs, machines
from tests.model.job.test_site_time import on_site

NAN = np.nan
RIG_AXIS = ("days", "left", "rig_days", "down")
seeds = st.integers(0, 2**32 - 1)
# The solver takes its time, several runs an example: half the usual number.
half_as_many = settings(max_examples=50)


def near(expected):
    """Return what is equal but for the solver's rounding."""
    return pytest.approx(np.asarray(expected, dtype=float), rel=1e-6, abs=1e-5)


def some_fleet(seed, n_rigs=3, n_jobs=4):
    """Return a fleet's figures by name, all different; some work it cannot do."""
    rng = np.random.default_rng(seed)
    days = rng.uniform(0.3, 4, (n_rigs, n_jobs))
    days[rng.random(days.shape) < 0.2] = NAN
    return {
        "days": days,
        "left": rng.uniform(-200, 900, days.shape),
        "per_month": rng.uniform(0, 6, n_jobs),
        "rig_days": rng.uniform(1, 12, n_rigs),
        "crew_days": rng.uniform(2, 25),
        "down": rng.uniform(0, 0.3, n_rigs),
    }


@st.composite
def small_fleets(draw, n_jobs=3, has_must=True):
    """Return two rigs' figures in whole numbers, so that enumeration is exact."""

    def table(values, *shape):
        n = int(np.prod(shape))
        return np.reshape(draw(st.lists(values, min_size=n, max_size=n)), shape)

    return {
        "days": table(st.sampled_from([1, 2, 3, NAN]), 2, n_jobs),
        "left": table(st.integers(-3, 9), 2, n_jobs),
        "per_month": table(st.integers(0, 3), n_jobs),
        "rig_days": table(st.integers(0, 8), 2),
        "crew_days": draw(st.integers(0, 12)),
        "down": table(st.integers(0, 1), 2),
        "is_must": table(st.booleans(), n_jobs) & has_must,
    }


def whole_plans(fleet, step=1.0):
    """Return every plan in multiples of `step` jobs that keeps to all limits."""
    cannot = np.isnan(fleet["days"])
    n_rigs, n_jobs = cannot.shape
    by_job = []
    for job in range(n_jobs):
        counts = np.arange(0, fleet["per_month"][job] + step / 2, step)
        ways = np.array(list(product(counts, repeat=n_rigs)))
        is_fine = ways.sum(axis=1) <= fleet["per_month"][job]
        is_fine &= ~(ways[:, cannot[:, job]] > 0).any(axis=1)
        by_job.append(ways[is_fine])
    picks = np.array(list(product(*(range(len(ways)) for ways in by_job))))
    plans = [ways[picks[:, job]] for job, ways in enumerate(by_job)]
    plans = np.stack(plans, axis=-1)  # (plan, rig, job)
    days = np.nan_to_num(fleet["days"])
    load = np.where(cannot, 0, days + fleet["down"][:, None])
    is_fine = ((plans * load).sum(axis=-1) <= fleet["rig_days"]).all(axis=-1)
    return plans[is_fine & ((plans * days).sum(axis=(1, 2)) <= fleet["crew_days"])]


def standing(plan, fleet):
    """Return how good a plan is: must-serve share and jobs, what is left, few days."""
    can_do = np.isfinite(fleet["days"])
    is_must = fleet["is_must"] & can_do.any(axis=0) & (fleet["per_month"] > 0)
    by_job = plan.sum(axis=0)[is_must]
    shares = by_job / fleet["per_month"][is_must]
    load = np.where(can_do, fleet["days"] + fleet["down"][:, None], 0)
    return (
        round(min(shares, default=1.0), 9),
        by_job.sum(),
        (plan * np.where(can_do, fleet["left"], 0)).sum(),
        -(plan * load).sum(),
    )


def corners_best(fleet):
    """Return what is left at the best corner of all that the days allow.

    A linear programme is best at a corner: as many limits met exactly as there are
    variables. Two rigs and two job types have four variables and nine limits.
    """
    rows = list(-np.eye(4))
    highest = [0.0] * 4
    for job in range(2):
        rows.append(np.tile(np.arange(2) == job, 2).astype(float))
        highest.append(fleet["per_month"][job])
    for rig in range(2):
        load = np.zeros((2, 2))
        load[rig] = fleet["days"][rig] + fleet["down"][rig]
        rows.append(load.ravel())
        highest.append(fleet["rig_days"][rig])
    rows = np.array([*rows, fleet["days"].ravel()])
    highest = np.array([*highest, fleet["crew_days"]])
    best = 0.0
    for picked in combinations(range(len(rows)), 4):
        picked = list(picked)
        if abs(np.linalg.det(rows[picked])) > 1e-9:
            corner = np.linalg.solve(rows[picked], highest[picked])
            if (rows @ corner <= highest + 1e-9).all():
                best = max(best, corner @ fleet["left"].ravel())
    return best


def test_each_rig_does_what_it_is_better_at():
    """A rig leaves the dearer work to one that can do nothing else.

    All jobs take a day, five of each are wanted, each rig has five days. Job by job,
    the best pair is rig 0 with the first type: 5 · 500 = 2 500, and nothing is left for
    rig 1. The other way round: 5 · 450 + 5 · 300 = 3 750.
    """
    plan = assignment([[1, 1], [1, NAN]], [[500, 300], [450, NAN]], [5, 5], 5, 20)
    assert plan.served == near([[0, 5], [5, 0]])
    assert plan.left == near(3750)
    assert plan.rig_days_used == near([5, 5])
    assert plan.crew_days_used == near(10)


@pytest.mark.parametrize(
    ("crew_days", "served", "left"),
    [
        # rig 0: type 0 at 300 a day, type 1 at 200; rig 1: 100 and 250. The crew's 12
        # days go to the dearest: 8 with rig 0 → 8 · 300, 4 with rig 1 → 2 jobs · 500
        (12, [[8, 0], [0, 2]], 2400 + 1000),
        # crews enough: rig 1 fills its 8 days too, 4 jobs · 500
        (16, [[8, 0], [0, 4]], 2400 + 2000),
        (np.inf, [[8, 0], [0, 4]], 2400 + 2000),
        (0, [[0, 0], [0, 0]], 0),
    ],
)
def test_one_crew_does_not_run_two_rigs_at_once(crew_days, served, left):
    """The crews' days limit all rigs together."""
    days, each = [[1, 2], [2, 2]], [[300, 400], [200, 500]]
    plan = assignment(days, each, [10, 10], [8, 8], crew_days)
    assert plan.served == near(served)
    assert plan.left == near(left)


def test_breakdowns_take_the_rig_and_not_the_crew():
    """10 days at 1 + 0.25 a job hold 8 jobs, for which the crew is out 8 days."""
    plan = assignment([[1]], [[100]], [20], 10, 100, down=0.25)
    assert plan.served == near([[8]])
    assert plan.rig_days_used == near([10])
    assert plan.crew_days_used == near(8)


def test_must_serve_work_goes_first_at_a_loss():
    """Two must-serve jobs of 2 days take 4 of 10; the other 6 leave 300 each.

    6 · 300 − 2 · 100 = 1 600. Without the must nothing is lost: 10 · 300.
    """
    figures = [[2, 1]], [[-100, 300]], [2, 10], 10, 10
    plan = assignment(*figures, is_must=[True, False])
    assert plan.served == near([[2, 6]])
    assert plan.left == near(1600)
    free = assignment(*figures)
    assert free.served == near([[0, 10]])
    assert free.left == near(3000)


def test_must_serve_work_goes_to_the_rig_where_it_costs_least():
    """On rig 0 the job loses 50 and takes the place of 2 days at 100; rig 1 is idle."""
    days, left = [[2, 1], [2, NAN]], [[-50, 100], [-120, 0]]
    plan = assignment(days, left, [1, 5], [5, 5], 10, is_must=[True, False])
    assert plan.served == near([[0, 5], [1, 0]])
    assert plan.left == near(500 - 120)


def test_must_serve_types_are_cut_alike_and_then_filled():
    """Rig 0 alone can do the first type, half of it; rig 1 does all of the second.

    A common share of 1/2, and beyond it as many as fit.
    """
    plan = assignment(
        [[1, NAN], [NAN, 1]], [[1, 1], [1, -9]], [8, 4], [4, 6], 20, is_must=True
    )
    assert plan.served == near([[4, 0], [0, 4]])


def test_must_serve_work_that_no_rig_can_do_stops_nothing():
    """What cannot be done is not served, and the rest is planned as if it were not."""
    plan = assignment([[NAN, 1]], [[NAN, 7]], [3, 2], 10, 10, is_must=[True, False])
    assert plan.served == near([[0, 2]])


def test_of_plans_that_leave_the_same_the_shorter_is_taken():
    """Both rigs leave 100 a job; the second needs half the days."""
    plan = assignment([[2], [1]], [[100], [100]], [3], [9, 9], 20)
    assert plan.served == near([[0], [3]])


def test_alike_rigs_share_alike():
    """Rigs 0 and 2 leave more a job than rig 1, and do half each of what they can."""
    plan = assignment([[1]] * 3, [[90], [80], [90]], [14], [6, 6, 6], 30)
    assert plan.served == near([[6], [2], [6]])
    few = assignment([[1]] * 3, [[90], [80], [90]], [5], [6, 6, 6], 30)
    assert few.served == near([[2.5], [0], [2.5]])


@given(seeds)
def test_one_rig_is_the_year_worked_best_first(seed):
    """With one rig and crews enough the plan is that of the year's best first."""
    fleet = some_fleet(seed, n_rigs=1, n_jobs=5)
    fleet["crew_days"] = np.inf
    left, load = fleet["left"][0], fleet["days"][0] + fleet["down"]
    is_taken = (left > 0) & np.isfinite(load)
    wanted = np.where(is_taken, fleet["per_month"], 0.0)
    load = np.where(is_taken, load, 1.0)
    expected = best_first(wanted, load, fleet["rig_days"], left / load)
    assert assignment(**fleet).served[0] == near(expected)


@given(seeds, st.lists(st.booleans(), min_size=5, max_size=5))
def test_one_rig_serves_what_the_year_serves(seed, is_must):
    """The same with must-serve work, which the year cuts alike before the rest."""
    fleet = some_fleet(seed, n_rigs=1, n_jobs=5)
    buyer = business(is_best_first=True)
    # 5 days a week, 48 weeks, half of them bookable, by twelve months
    fleet |= {"rig_days": 5 * 48 / 12 / 2, "crew_days": 10}
    fleet["per_month"] *= 1 + seed % 2
    can_do = np.isfinite(fleet["days"])
    wanted = zip(fleet["per_month"], is_must, strict=True)
    work = jobs(*({"per_month": n, "is_must": must} for n, must in wanted))
    load = (fleet["days"] + fleet["down"])[None]
    left = np.where(can_do, fleet["left"], 0)[None]
    # A machine of which no work spares anything: what counts is what jobs leave.
    rig, site = machines(), on_site(machines(), work, buyer)
    expected, _ = worth_serving(rig, work, buyer, site, can_do[None], left, load)
    found = assignment(**fleet, is_must=is_must)
    assert found.served == near(expected[0])


@half_as_many
@given(small_fleets())
def test_whole_jobs_are_the_best_of_all_whole_plans(fleet):
    """No plan of whole jobs stands higher, of all those of two rigs and three types."""
    plan = assignment(**fleet, integer=True)
    plans = whole_plans(fleet)
    assert (plans == plan.served).all(axis=(1, 2)).any()  # it is one of them
    best = max(standing(each, fleet) for each in plans)
    assert standing(plan.served, fleet) == pytest.approx(best, abs=1e-9)


def test_whole_jobs_that_the_solver_cannot_presolve():
    """Figures at which presolving stops with an error still give the best plan."""
    fleet = {
        "days": np.array([[NAN, 1.5, 1, 1], [1, 2.5, 2, 1], [2.5, 1, NAN, 1.5]]),
        "left": np.array([[2, 1, 7, -1], [-1, 4, 3, 6], [3, 2, 6, 8]]),
        "per_month": np.array([5, 1, 2, 6]),
        "rig_days": np.array([4, 2, 3.5]),
        "crew_days": 3.5,
        "down": np.zeros(3),
        "is_must": np.array([True, False, True, True]),
    }
    best = max(standing(plan, fleet) for plan in whole_plans(fleet))
    found = assignment(**fleet, integer=True).served
    assert standing(found, fleet) == pytest.approx(best, abs=1e-9)


@given(small_fleets(n_jobs=2, has_must=False))
def test_parts_of_jobs_against_a_fine_grid(fleet):
    """Quarter jobs leave no more, and less by at most a quarter job a rig and type.

    To cut each figure of the best plan down to the grid keeps to every limit, so the
    best on the grid cannot lie further below than that.
    """
    step = 0.25
    found = assignment(**fleet).left
    on_grid = max(standing(p, fleet)[2] for p in whole_plans(fleet, step))
    can_do = np.isfinite(fleet["days"])
    room = step * np.where(can_do, np.maximum(fleet["left"], 0), 0).sum()
    assert on_grid <= found + 1e-6
    assert found <= on_grid + room + 1e-6


@given(seeds)
def test_parts_of_jobs_are_the_best_corner(seed):
    """Two rigs and two types: what is left is that of the best of all corners."""
    fleet = some_fleet(seed, 2, 2)
    fleet["days"] = np.nan_to_num(fleet["days"], nan=50.0)
    assert assignment(**fleet).left == near(corners_best(fleet))


@given(seeds)
def test_a_plan_keeps_to_all_limits(seed):
    """Jobs wanted, rig days and crew days are kept, and the sums are what they say."""
    fleet = some_fleet(seed)
    is_must = np.random.default_rng(seed).random(4) < 0.3
    plan = assignment(**fleet, is_must=is_must)
    cannot = np.isnan(fleet["days"])
    days = np.nan_to_num(fleet["days"])
    load = np.where(cannot, 0, days + fleet["down"][:, None])
    assert (plan.served >= 0).all()
    assert (plan.served[cannot] == 0).all()
    assert (plan.served.sum(axis=0) <= fleet["per_month"] + 1e-6).all()
    assert (plan.rig_days_used <= fleet["rig_days"] + 1e-6).all()
    assert plan.crew_days_used <= fleet["crew_days"] + 1e-6
    assert plan.rig_days_used == near((plan.served * load).sum(axis=1))
    assert plan.crew_days_used == near((plan.served * days).sum())
    assert plan.left == near((plan.served * fleet["left"]).sum())
    loses = (fleet["left"] <= 0) & ~is_must
    assert (plan.served[loses] == 0).all()


@given(seeds)
def test_one_more_free_rig_is_never_worse(seed):
    """What is left with a rig is at least what is left without it."""
    fleet = some_fleet(seed)
    fewer = {k: v[:-1] if k in RIG_AXIS else v for k, v in fleet.items()}
    assert assignment(**fleet).left >= assignment(**fewer).left - 1e-5


@given(seeds, st.sampled_from(["per_month", "rig_days", "crew_days"]))
def test_more_work_or_days_never_lower_what_is_left(seed, key):
    """More jobs wanted, longer diaries and more crews leave as much or more."""
    fleet = some_fleet(seed)
    more = np.random.default_rng(seed + 1).uniform(0, 5, np.shape(fleet[key]))
    richer = fleet | {key: fleet[key] + more}
    assert assignment(**richer).left >= assignment(**fleet).left - 1e-5


@half_as_many
@given(seeds, st.permutations(range(4)), st.booleans())
def test_the_order_of_rigs_does_not_matter(seed, order, has_alike):
    """Rigs in another order do the same jobs, also where two of them are alike."""
    fleet = some_fleet(seed, n_rigs=4)
    if has_alike:
        for key in RIG_AXIS:
            fleet[key][3] = fleet[key][1]
    other = {k: v[list(order)] if k in RIG_AXIS else v for k, v in fleet.items()}
    served = assignment(**fleet).served[list(order)]
    assert assignment(**other).served == near(served)
    value = stand_in_value(**fleet).value[list(order)]
    assert stand_in_value(**other).value == near(value)


@half_as_many
@given(seeds, st.sampled_from([1e-9, 1e-3, 1e6]), st.booleans())
def test_the_currency_does_not_matter(seed, rate, integer):
    """The same money in a currency of other size gives the same plan."""
    fleet = some_fleet(seed)
    served = assignment(**fleet, integer=integer).served
    other = fleet | {"left": fleet["left"] * rate}
    assert assignment(**other, integer=integer).served == near(served)


@pytest.mark.parametrize("wanted", [6, 10, 16, 20, 30])
@pytest.mark.parametrize("crew_days", [8, 40])
def test_stand_in_of_two_alike_rigs(wanted, crew_days):
    """Two alike rigs have the closed form below.

    A job takes t days and brings d days down; a rig has T days, so it can do at most
    cap = T/(t + d) a month, the crews C/t. The two do n = min(wanted, 2 cap, C/t), half
    each. Each is down 12 · n/2 · d days a year; on such a day its n/2 · c/T are lost
    alone. The other can take on min(wanted, cap, C/t) in all, that is so much more than
    its own half.
    """
    t, d, c, diary = 1.0, 0.25, 100.0, 12.5
    cap = diary / (t + d)
    n = min(wanted, 2 * cap, crew_days / t)
    days_down = 12 * n / 2 * d
    taken_on = min(wanted, cap, crew_days / t) - n / 2
    found = stand_in_value([[t]] * 2, [[c]] * 2, [wanted], diary, crew_days, d)
    assert found.days_down == near([days_down] * 2)
    assert found.lost_alone == near([n / 2 * c / diary] * 2)
    assert found.lost == near([(n / 2 - taken_on) * c / diary] * 2)
    assert found.value == near([days_down * taken_on * c / diary] * 2)


def test_full_diaries_cannot_stand_in():
    """Both rigs are booked to the last day: a third has room and takes what it can.

    Each of the two does 10 jobs in 12.5 days and is down 12 · 10 · 0.25 = 30 days. The
    third, dearer to run, has 5 days: 4 jobs of 50 in a month stand in for 4 of 100, on
    30 of 12.5 days a month: 30 / 12.5 · 4 · 50 = 480. With it busy already: nothing.
    """
    two = stand_in_value([[1]] * 2, [[100]] * 2, [20], 12.5, 99, 0.25)
    assert two.value == near([0, 0])
    rigs = [[1]] * 3, [[100], [100], [50]]
    three = stand_in_value(*rigs, [20], [12.5, 12.5, 5], 99, 0.25)
    assert three.value == near([480, 480, 0])
    busy = stand_in_value(*rigs, [24], [12.5, 12.5, 5], 99, 0.25)
    assert busy.value == near([0, 0, 0])


@half_as_many
@given(seeds)
def test_standing_in_never_costs_without_must_serve_work(seed):
    """The others may always keep to their own work; and nothing lost is gained."""
    fleet = some_fleet(seed)
    found = stand_in_value(**fleet)
    assert (found.value >= -1e-4).all()
    assert (found.lost >= -1e-4).all()
    assert found.value == near(found.days_down * (found.lost_alone - found.lost))


def test_nobody_stands_in_for_a_single_rig():
    """All of its work is lost on a day down: 8 · 100 / 10."""
    found = stand_in_value([[1]], [[100]], [8], 10, 10, 0.25)
    assert found.lost_alone == near([80])
    assert found.lost == near([80])
    assert found.value == near([0])


def test_must_serve_work_may_make_standing_in_cost_money():
    """Rig 1 gives up 2 jobs of 100 for the 2 must-serve ones at 10 each.

    Rig 0 is down 12 · 2 · 0.5 = 12 days of 10 a month. Alone it would lose 2 · 10 / 10
    a day, standing in loses 2 · 100 / 10: 12 · (2 − 20) = −216 a year.
    """
    days, left = [[1, NAN], [1, 1]], [[10, 0], [10, 100]]
    found = stand_in_value(
        days, left, [2, 10], [10, 10], 99, [0.5, 0], is_must=[True, False]
    )
    assert found.value == near([-216, 0])


def test_a_rig_without_days_is_as_if_it_were_not():
    """It does nothing, and its days down are worth nothing."""
    alone = assignment([[1]], [[5]], [3], [10], 10)
    both = assignment([[1], [1]], [[5], [9]], [3], [10, 0], 10)
    assert both.served == near([[3], [0]])
    assert both.left == near(alone.left)
    found = stand_in_value([[1], [1]], [[5], [9]], [3], [10, 0], 10, 0.1)
    assert found.value == near([0, 0])


def test_arguments_are_left_as_they_are():
    """Nothing that is handed in is changed."""
    fleet = some_fleet(7)
    before = {key: np.copy(figure) for key, figure in fleet.items()}
    stand_in_value(**fleet)
    for key, figure in fleet.items():
        np.testing.assert_array_equal(figure, before[key])


def test_sharing_spares_the_further_rigs_of_a_kind():
    """The dearest of a kind pays in full: 900 of 900, and half of 700 and of 300."""
    kinds = ["plain", "tall", "plain", "plain"]
    shared = after_sharing([700, 400, 900, 300], kinds, 0.5)
    assert shared == near([350, 400, 900, 150])


@given(
    st.lists(st.tuples(st.floats(0, 1e4), st.integers(0, 4)), min_size=1, max_size=6)
)
def test_sharing_all_or_nothing(rigs):
    """At a share of 0 all pay their own; at 1 only the dearest of each kind pays."""
    costs, kinds = (np.array(column) for column in zip(*rigs, strict=True))
    assert after_sharing(costs, kinds, 0) == near(costs)
    dearest = sum(costs[kinds == kind].max() for kind in set(kinds.tolist()))
    assert after_sharing(costs, kinds, 1).sum() == near(dearest)


GOOD = {
    "days": [[1, 2], [2, NAN]],
    "left": [[3, 4], [5, NAN]],
    "per_month": [6, 7],
    "rig_days": [8, 9],
    "crew_days": 10,
}


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        (
            {"days": [[0, 2], [2, 1]]},
            "days: 0; more than 0, or NaN where the rig cannot",
        ),
        ({"days": [1, 2]}, "days: shape (2,); one row a rig, one column a job"),
        (
            {"left": [[3, NAN], [5, 0]]},
            "left: not a figure where the rig can; a finite number",
        ),
        ({"left": [3, 4]}, "left: shape (2,); (2, 2) or one figure"),
        ({"per_month": [-1, 7]}, "jobs a month: -1; 0 or more"),
        ({"per_month": [1, 2, 3]}, "jobs a month: shape (3,); (2,) or one figure"),
        ({"rig_days": np.inf}, "rig days: inf; 0 or more"),
        ({"crew_days": NAN}, "crew days: nan; one figure, 0 or more"),
        ({"down": -0.5}, "down: -0.5; 0 or more"),
    ],
)
def test_what_cannot_be_is_refused(changes, message):
    """Each fault is named with its figure and what is allowed."""
    for method in (assignment, stand_in_value):
        with pytest.raises(ScoringError) as raised:
            method(**(GOOD | changes))
        assert str(raised.value) == message


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (([1, -2], [0, 0], 0.5), "costs: -2; 0 or more"),
        (([1, 2], [0, 0], 1.5), "saved share: 1.5; from 0 to 1"),
        (([1, 2], [0], 0.5), "costs: shape (2,), kinds (1,); one of each a rig"),
    ],
)
def test_sharing_that_cannot_be_is_refused(arguments, message):
    """A share is a share, a cost is no income, and every rig has a kind."""
    with pytest.raises(ScoringError) as raised:
        after_sharing(*arguments)
    assert str(raised.value) == message
