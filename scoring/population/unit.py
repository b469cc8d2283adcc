"""A unit of work: some buyers that stand side by side, answered wherever it runs.

What a unit is told is small and travels: the files' bytes, the numbers of its buyers,
what they differ in. What it hands back is a column each. Nothing depends on who else
works, or on how many.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from scoring.answer.buyers import answered
from scoring.answer.preferences import criteria_of, ratings_of
from scoring.decision.criteria import known_ids
from scoring.evidence.buyers_rows import own_figures, uncertain
from scoring.evidence.gathered import gather
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.template_files import load_template
from scoring.inputs.together import check_together

ROWS = 40_000  # draws of a unit: some seconds' work, and a file
ROWS_AT_ONCE = 4100  # of the model in one call: what a core keeps near
FIELDS = ("points", "chance_in", "is_out", "year_result", "benefit", "best_up_to")


@dataclass(frozen=True)
class Task:
    """What all units share: files as (name, bytes), the draws of a buyer, the seed."""

    template: tuple
    sheets: tuple
    n_draws: int
    seed: int


@dataclass(frozen=True)
class Unit:
    """Buyers first … first + len(values), with what they differ in."""

    place: int
    first: int
    values: np.ndarray  # (buyer, difference)
    kind: np.ndarray  # (buyer,), rising


def units_of(sample, n_draws, rows=None):
    """Return the Units of a Sample, of about so many draws each, `ROWS` if not told."""
    size = max(1, (rows or ROWS) // n_draws)
    return [
        Unit(place, first, sample.values[part], sample.kind[part])
        for place, first in enumerate(range(0, len(sample), size))
        for part in [slice(first, first + size)]
    ]


@lru_cache(maxsize=2)
def read(task):
    """Return (Crowd, machines by name, evidence of each kind of buyer) of a Task.

    Raises
    ------
    InputFaults
        With every fault of the files.
    """
    crowd = load_template(task.template)
    machines = sorted(map(read_machine, task.sheets), key=lambda m: m.name)
    evidence = []
    for brief in crowd.briefs:
        check_together(brief, machines, known_ids())
        evidence.append(gather(brief, machines, ratings_of(criteria_of(brief))))
    return crowd, tuple(machines), tuple(evidence)


def worked(task, unit):
    """Return {column: array} of a Unit, in the order of its buyers."""
    parts = [_of_kind(task, unit, kind) for kind in np.unique(unit.kind)]
    parts = [part for found in parts for part in found]
    joined = {name: np.concatenate([p[name] for p in parts]) for name in parts[0]}
    return {"buyer": unit.first + np.arange(len(unit.kind)), **joined}


def _of_kind(task, unit, kind):
    """Yield the columns of the buyers of one kind, some at a time."""
    crowd, machines, evidence = read(task)
    brief, evidence = crowd.briefs[kind], evidence[kind]
    places = np.flatnonzero(unit.kind == kind)
    size = max(1, ROWS_AT_ONCE // (1 + task.n_draws))
    for start in range(0, len(places), size):
        some = places[start : start + size]
        values = unit.values[some]
        own = own_figures(crowd.differ, brief, values)
        n_draws = task.n_draws if uncertain(evidence, own) else 0
        first = unit.first + int(some[0])
        of = brief, machines, evidence, own, task.seed, first, len(some), n_draws
        yield _columns(crowd, machines, values, answered(*of))


def _columns(crowd, machines, values, found):
    """Return {column: (buyer,)} of what was found."""
    told = {each.name: values[:, k] for k, each in enumerate(crowd.differ)}
    columns = {f"differs: {name}": column for name, column in told.items()}
    columns["money_a_point"] = found.money_a_point
    for field in FIELDS:
        for k, machine in enumerate(machines):
            columns[f"{field}: {machine.name}"] = getattr(found, field)[:, k]
    return columns
