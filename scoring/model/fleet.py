"""Several rigs, one diary of work: which rig does which jobs, and who stands in.

Axes are (rig, job); an average month, in the units of `scoring.model.year`. The best
plan is sought, so it compares with a year worked best first, not with one in which the
whole mix is cut alike.
"""

from typing import NamedTuple

import numpy as np

from scoring.errors import ScoringError

# No gap, as the programmes are small; HiGHS 1.12 may fail to presolve whole jobs
SOLVER = {"mip_rel_gap": 0.0, "presolve": False}


class Assignment(NamedTuple):
    """Which rig does which jobs in an average month."""

    served: np.ndarray  # (rig, job), jobs a month
    left: float  # contribution a month
    rig_days_used: np.ndarray  # (rig,), a month, with the days lost to breakdowns
    crew_days_used: float  # a month; the crew does not wait by a broken rig


class StandIn(NamedTuple):
    """What it is worth, rig by rig, that the others stand in for it; each (rig,)."""

    days_down: np.ndarray  # diary days a year
    lost_alone: np.ndarray  # a day down, if the others kept to their own work
    lost: np.ndarray  # a day down, if the others are planned anew
    value: np.ndarray  # a year: days_down · (lost_alone − lost)


class _Figures(NamedTuple):
    """What was given, checked and in full shape."""

    days: np.ndarray  # (rig, job), 0 where it cannot
    load: np.ndarray  # (rig, job), days and breakdown days, 0 where it cannot
    left: np.ndarray  # (rig, job), 0 where it cannot
    can_do: np.ndarray  # bool, (rig, job)
    per_month: np.ndarray  # (job,)
    rig_days: np.ndarray  # (rig,)
    crew_days: float
    down: np.ndarray  # (rig,)
    is_must: np.ndarray  # bool, (job,), of those that some rig can do
    free_days: float  # of the crews; further ones cost
    day_cost: float


def assignment(
    days,
    left,
    per_month,
    rig_days,
    crew_days,
    down=0.0,
    is_must=False,
    integer=False,
    free_days=np.inf,
    day_cost=0.0,
):
    """Return the plan of an average month that leaves most.

    In this order: must-serve types are all served to the same share, as high as the
    days allow; as many must-serve jobs as the days then allow; the most is left; the
    fewest rig days are used. Work that would not leave anything on a rig is declined
    there unless it is must-serve. Rigs that are alike in every figure share alike.

    Parameters
    ----------
    days : shape (rig, job); diary days; above 0
        What one job books; inf or NaN where the rig cannot do it.
    left : shape (rig, job); currency
        Contribution of one job; may be below 0; ignored where the rig cannot do it.
    per_month : shape (job,); jobs wanted
    rig_days : shape (rig,) or one figure; days a month
        Bookable days of each rig's diary, before breakdowns.
    crew_days : days a month; inf for no limit
        Bookable days of all crews together: a crew cannot run two rigs on two sites on
        one day, so the booked days of all rigs come out of these.
    down : shape (rig,) or one figure; days
        Days down that a job brings on average. They come out of the rig's diary, not
        out of the crew's.
    is_must : bool, shape (job,) or one value
    integer : bool
        Whole jobs a month; alike rigs then need not share alike.
    free_days : days a month; inf for no limit
        Crews' days that cost nothing more, those of the owner's own crew.
    day_cost : currency
        What each crew day beyond the free ones costs, say wages; it counts in what is
        left, not in `Assignment.left`.

    Returns
    -------
    Assignment(served, left, rig_days_used, crew_days_used)

    Raises
    ------
    ScoringError
        If a figure is out of its range or shapes do not fit.

    Source
    ------
    A linear programme solved goal after goal (lexicographic goal programming, Ignizio
    1976, Goal Programming and Extensions, not seen); solver HiGHS in
    scipy.optimize.milp.

    Examples
    --------
    The first rig is better at both types, but only it can do the second:

    >>> days = [[1, 1], [1, np.nan]]
    >>> plan = assignment(days, [[500, 300], [450, 0]], [5, 5], [5, 5], 20)
    >>> plan.served.round(6).tolist(), round(plan.left, 6)
    ([[0.0, 5.0], [5.0, 0.0]], 3750.0)
    """
    figures = _checked(
        *(days, left, per_month, rig_days, crew_days, down, is_must),
        *(free_days, day_cost),
    )
    served = _served(figures, integer)
    return Assignment(
        served,
        float((served * figures.left).sum()),
        (served * figures.load).sum(axis=1),
        float((served * figures.days).sum()),
    )


def stand_in_value(
    days,
    left,
    per_month,
    rig_days,
    crew_days,
    down=0.0,
    is_must=False,
    free_days=np.inf,
    day_cost=0.0,
):
    """Return what it saves a year that the rigs stand in for each other.

    A rig is down for as many diary days a year as its share of the best plan brings.
    On such a day its own work of a day (a month's, over its diary days) is lost if the
    others keep to theirs. If instead the others and the crews are planned anew, as if
    the rig did not exist, only the difference between the two best plans is lost. The
    value is days down · (the first loss − the second).

    No work is caught up later here, while the plan itself lets it wait: so this tells
    how much hangs on one rig and must not be added to what the plan leaves. A single
    rig has nobody to stand in: 0. Rigs whose diaries are full cannot stand in: 0. Below
    0 only where must-serve work takes the place of work that leaves more.

    Parameters are those of `assignment`.

    Returns
    -------
    StandIn(days_down, lost_alone, lost, value), each of shape (rig,)

    Examples
    --------
    Each does 4 of 8 jobs and is down for 4 · 0.25 days a month, 12 a year. A day down
    costs 4 · 100 / 10 = 40 alone; the other could do all 8 in its 10 days, so it saves
    all of that:

    >>> alike = [[1.0], [1.0]], [[100], [100]], [8], [10, 10]
    >>> stand_in_value(*alike, crew_days=20, down=0.25).value.round(6).tolist()
    [480.0, 480.0]
    """
    figures = _checked(
        *(days, left, per_month, rig_days, crew_days, down, is_must),
        *(free_days, day_cost),
    )
    served = _served(figures)
    own = (served * figures.left).sum(axis=1)
    without = np.array([_left_without(figures, rig) for rig in range(own.size)])
    days_down = 12 * served.sum(axis=1) * figures.down
    has_diary = figures.rig_days > 0
    a_day = np.divide(1.0, figures.rig_days, out=np.zeros(own.shape), where=has_diary)
    alone, lost = own * a_day, (own.sum() - without) * a_day
    return StandIn(days_down, alone, lost, days_down * (alone - lost))


def after_sharing(costs, kinds, saved_share):
    """Return what each rig costs when alike rigs share: shape (rig,).

    Of each kind the dearest costs all of its own and every further one saves a share of
    its own. Serves a set-up kit bought once, and the upkeep or idle care of rigs that
    share spare parts and skills; how much is saved is the owner's to say.

    Parameters
    ----------
    costs : shape (rig,); currency; 0 or more
    kinds : shape (rig,)
        Equal where two rigs are alike, say the name of the profile.
    saved_share : shape (rig,) or one figure; 0 (nothing is shared) to 1

    Raises
    ------
    ScoringError
        If a figure is out of its range or the shapes do not fit.

    Examples
    --------
    >>> after_sharing([600, 500, 400], ["plain", "plain", "other"], 0.5).tolist()
    [600.0, 250.0, 400.0]
    """
    costs = _in_range("costs", costs, "0 or more")
    kinds = np.asarray(kinds)
    if costs.ndim != 1 or kinds.shape != costs.shape:
        raise ScoringError(
            f"costs: shape {costs.shape}, kinds {kinds.shape}; one of each a rig"
        )
    saved = _fitted("saved share", saved_share, costs.shape, "from 0 to 1", 1.0)
    dearest_first = np.argsort(-costs, kind="stable")
    _, first = np.unique(kinds[dearest_first], return_index=True)
    is_further = np.ones(costs.shape, bool)
    is_further[dearest_first[first]] = False
    return costs * (1 - saved * is_further)


def _left_without(figures, rig):
    """Return what the best plan leaves a month while one rig does nothing."""
    rig_days = np.where(np.arange(figures.rig_days.size) == rig, 0, figures.rig_days)
    served = _served(figures._replace(rig_days=rig_days))
    return (served * figures.left).sum()


def _served(figures, integer=False):
    """Return the jobs a month of the best plan: (rig, job)."""
    n_rigs, n_jobs = figures.left.shape
    is_must = figures.is_must
    is_taken = figures.can_do & (is_must | (figures.left > 0))
    # Variables: the jobs of every rig in turn, then the share of must-serve work and
    # the crew days that cost.
    n = n_rigs * n_jobs
    must = np.append(np.tile(1.0 * is_must, n_rigs), [0.0, 0.0])
    share = np.append(np.zeros(n), [1.0, 0.0])
    most = np.append(figures.left.ravel(), [0.0, -figures.day_cost])
    fewest = np.append(-figures.load.ravel(), [0.0, 0.0])
    goals = [share, must, most, fewest] if is_must.any() else [most, fewest]
    highest = np.append((figures.per_month * is_taken).ravel(), [1.0, np.inf])
    whole = np.append(np.full(n, integer), [False, False])
    best = _best_in_turn(goals, _limits(figures, is_must), highest, whole)
    served = np.maximum(best[:n].reshape(n_rigs, n_jobs), 0.0)
    return np.rint(served) if integer else _evened(served, figures)


def _limits(figures, is_must):
    """Return (rows, highest) of what every plan keeps to: rows @ variables ≤ highest.

    Nobody gets more than is wanted, each rig's days, the crews' days, those free and
    those that cost, and each must-serve type served to at least the common share.
    """
    n_rigs, n_jobs = figures.left.shape
    by_job = np.tile(np.eye(n_jobs), n_rigs)
    by_rig = np.kron(np.eye(n_rigs), np.ones(n_jobs)) * figures.load.ravel()
    by_crew = figures.days.ravel()
    rows = np.vstack([by_job, by_rig, by_crew, by_crew, -by_job[is_must]])
    of_share, of_extra = np.zeros(len(rows)), np.zeros(len(rows))
    of_share[len(rows) - is_must.sum() :] = figures.per_month[is_must]
    of_extra[n_jobs + n_rigs + 1] = -1.0
    crews = [figures.crew_days, figures.free_days]
    highest = [figures.per_month, figures.rig_days, crews, np.zeros(is_must.sum())]
    return np.column_stack([rows, of_share, of_extra]), np.concatenate(highest)


def _best_in_turn(goals, limits, highest, whole):
    """Return the variables that are best by the first goal, then by the next, …."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    kept = [LinearConstraint(limits[0], ub=limits[1])]
    best = np.zeros(highest.size)
    for goal in goals:
        if not goal.any():
            continue
        goal = goal / abs(goal).max()
        found = milp(
            -goal,
            integrality=whole,
            bounds=Bounds(0.0, highest),
            constraints=kept,
            options=SOLVER,
        )
        if found.x is None:
            raise RuntimeError(f"no plan found: {found.message}")
        best = found.x
        kept.append(LinearConstraint(goal[None, :], lb=goal @ best))
    return best


def _evened(served, figures):
    """Return the same plan with alike rigs doing the same: (rig, job).

    The mean of best plans that differ only in which of two alike rigs is which is a
    best plan too.
    """
    of_rig = [figures.can_do, figures.load, figures.left]
    of_rig = np.column_stack([*of_rig, figures.rig_days, figures.down])
    is_alike = (of_rig[:, None, :] == of_rig[None, :, :]).all(axis=-1)
    return is_alike @ served / is_alike.sum(axis=1, keepdims=True)


def _checked(
    days, left, per_month, rig_days, crew_days, down, is_must, free_days, day_cost
):
    """Return the _Figures; raise on what cannot be."""
    days = np.asarray(days, dtype=float)
    if days.ndim != 2:
        raise ScoringError(f"days: shape {days.shape}; one row a rig, one column a job")
    of_rig, of_job = days.shape[:1], days.shape[1:]
    can_do = np.isfinite(days)
    if (days[~np.isnan(days)] <= 0).any():
        raise ScoringError(
            f"days: {np.nanmin(days):g}; more than 0, or NaN where the rig cannot"
        )
    left = _shaped("left", left, days.shape)
    if not np.isfinite(left[can_do]).all():
        raise ScoringError("left: not a figure where the rig can; a finite number")
    down = _fitted("down", down, of_rig, "0 or more")
    crew_days = np.asarray(crew_days, dtype=float)
    if crew_days.ndim or not crew_days >= 0:
        raise ScoringError(f"crew days: {crew_days}; one figure, 0 or more")
    return _Figures(
        days=np.where(can_do, days, 0.0),
        load=np.where(can_do, days + down[:, None], 0.0),
        left=np.where(can_do, left, 0.0),
        can_do=can_do,
        per_month=_fitted("jobs a month", per_month, of_job, "0 or more"),
        rig_days=_fitted("rig days", rig_days, of_rig, "0 or more"),
        crew_days=float(crew_days),
        down=down,
        is_must=_shaped("must-serve", is_must, of_job).astype(bool) & can_do.any(0),
        free_days=float(free_days),
        day_cost=float(_in_range("day cost", day_cost, "0 or more")),
    )


def _fitted(name, figure, shape, allowed, highest=np.inf):
    return _shaped(name, _in_range(name, figure, allowed, highest), shape)


def _in_range(name, figure, allowed, highest=np.inf):
    """Return the figures as an array; each must be finite and from 0 to `highest`."""
    figure = np.asarray(figure, dtype=float)
    wrong = figure[~(np.isfinite(figure) & (figure >= 0) & (figure <= highest))]
    if wrong.size:
        raise ScoringError(f"{name}: {wrong[0]:g}; {allowed}")
    return figure


def _shaped(name, figure, shape):
    """Return the figures in full shape; one may stand for all."""
    figure = np.asarray(figure, dtype=float)
    if figure.ndim and figure.shape != shape:
        raise ScoringError(f"{name}: shape {figure.shape}; {shape} or one figure")
    return np.broadcast_to(figure, shape)
