"""Who is best as the work grows or shrinks, in number and in size."""

from dataclasses import dataclass

import numpy as np

from scoring.evidence.draws import drawn
from scoring.evidence.job_arrays import job_figures
from scoring.questions.changed import Change, each_gist, sums_of
from scoring.questions.swings import leaders

N_STEPS = 25  # of the map, each way
REACH = 3.0  # the map goes to this many times the buyer's own position
RANGE_DRAWS = 2_000  # for the buyer's own position
MAP_DRAWS = 20  # for each place of the map
OWN_RANGE = (10, 90)  # percentiles


@dataclass(frozen=True)
class BestMap:
    """The best machine over jobs a month and wall area; "" where none is left."""

    jobs_per_month: np.ndarray  # (step,)
    wall_m2: np.ndarray  # (step,)
    by_score: tuple[tuple[str, ...], ...]  # [area][jobs]
    by_money: tuple[tuple[str, ...], ...]  # "" where buying nothing is better
    own_jobs: float
    own_wall_m2: float


def best_map(evaluation, n_steps=N_STEPS):
    """Return who is best as all the work grows or shrinks, in number and in size."""
    factors = np.linspace(REACH / n_steps, REACH, n_steps)
    jobs, area = np.meshgrid(factors, factors)
    changes = [
        _scaled_work(evaluation, a, b)
        for a, b in zip(jobs.ravel(), area.ravel(), strict=True)
    ]
    again = each_gist(evaluation, changes, n_draws=MAP_DRAWS)
    sums = sums_of(evaluation, again)
    own_jobs, own_area = own_position(evaluation)
    npv = np.where(np.isnan(sums), np.nan, again.npv)
    worth = np.where(npv > 0, npv, np.nan)

    def grid(values):
        names = leaders(evaluation, values)
        return tuple(
            tuple(names[n * n_steps : (n + 1) * n_steps]) for n in range(n_steps)
        )

    return BestMap(
        own_jobs * factors,
        own_area * factors,
        grid(sums),
        grid(worth),
        own_jobs,
        own_area,
    )


def _scaled_work(evaluation, jobs, area):
    """Return the Changes that scale every kind of job in number and in area."""
    fields = {"per_month": jobs, "width": area**0.5, "height": area**0.5}
    return [
        Change(("brief", f"work.{j}.{field}"), times=factor)
        for j, _ in enumerate(evaluation.brief.work)
        for field, factor in fields.items()
    ]


def own_position(evaluation):
    """Return (jobs a month, mean area of a wall in m²) of the brief."""
    total, area = _positions(evaluation.figures.jobs)
    return float(total[0]), float(area[0])


def own_range(evaluation, n_draws=RANGE_DRAWS, seed=1):
    """Return where the buyer's own position may be: (2, 2).

    Rows are jobs a month and mean area of a wall in m², each with its P10 and P90 over
    the ranges of the brief.
    """
    own = {key: it for key, it in evaluation.evidence.items() if key[0] == "brief"}
    figures = drawn(own, evaluation.brief, seed, 0, n_draws)
    jobs = job_figures(evaluation.brief, evaluation.variants, figures)
    places = np.stack(_positions(jobs))
    return np.percentile(places, OWN_RANGE, axis=1).T


def _positions(jobs):
    """Return (jobs a month, mean area of a wall in m²), each of shape (draw,).

    The mean is over jobs; where there are none, over the kinds of job.
    """
    per_month = jobs.per_month[:, 0]
    total = per_month.sum(axis=1)
    is_any = total[:, None] > 0
    weight = np.where(is_any, per_month, 1.0)
    weight = weight / weight.sum(axis=1, keepdims=True)
    return total, (weight * (jobs.width_m * jobs.height_m)[:, 0]).sum(axis=1)
