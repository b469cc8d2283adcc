"""One step of a working: what, its value and unit, how it came about."""

import math
from dataclasses import dataclass

from scoring.evidence.machine_arrays import practice
from scoring.words.figures import figure, number

SURE_LAST = ("unknown", "estimated", "quoted", "measured", "stated")


@dataclass(frozen=True)
class Step:
    """One step of a working: what, its value and unit, how it came about.

    `basis` is that of the least sure figure in it and `keys` are the keys of the files
    that it rests on; a result of other steps has neither.
    """

    what: str
    value: float | None
    unit: str
    how: str = ""
    basis: str = ""
    keys: tuple[str, ...] = ()

    def text(self, is_us=False):
        """Return the step as one line."""
        if self.value is None:
            return f"{self.what}: {self.how}"
        how = f" – {self.how}" if self.how else ""
        basis = f" [{self.basis}]" if self.basis else ""
        return f"{self.what}: {figure(self.value, self.unit, is_us)}{how}{basis}"


def sheet_step(evaluation, k, what, value, unit, paths, how="", then=""):
    """Return a step resting on keys of the machine sheet (or of the brief).

    `how` stands in for what was written, `then` follows it.
    """
    found = [evidence_of(evaluation, k, path) for path in paths]
    found = [evidence for evidence in found if evidence is not None]
    bases = [evidence.basis for evidence in found]
    basis = next((basis for basis in SURE_LAST if basis in bases), "")
    notes = "; ".join(dict.fromkeys(e.note for e in found if e.is_unknown and e.note))
    written = ", ".join(_as_written(evaluation, e) for e in found if not e.is_unknown)
    how = how or (f"written {written}" if written else "")
    how = "; ".join(filter(None, (how, then, notes)))
    return Step(what, value, unit, how, basis, tuple(paths))


def expected_step(what, mean, told, unit):
    """Return the step of what to expect of a sum, [] where it reads as what is told."""
    if figure(mean, unit) == figure(told, unit):
        return []
    return [Step(f"{what} to expect", mean, unit, "mean of the draws")]


def with_practice(evaluation, k):
    """Return what a beginner's time comes to with practice; "" for a practised one."""
    machine, variant = evaluation.machines[k], evaluation.variants[k]
    if machine.builds_before is None:
        return ""
    factor = float(practice([variant], evaluation.told.drawn)[0, 0, 0])
    share = figure(1 / factor, "share")
    n_before = machine.builds_before
    when = f"after {n_before} builds" if n_before > 1 else "after 1 build"
    return f"timed {when if n_before else 'at a first try'}, {share} once practised"


def _as_written(evaluation, evidence):
    """Return a figure as its file has it, and what is made of it."""
    text = evidence.text
    ends = (evidence.low, evidence.likely, evidence.high)
    is_skewed = not math.isclose(ends[2] - ends[1], ends[1] - ends[0], abs_tol=1e-9)
    if is_skewed and ".." not in text:
        text += f", reckoned {'..'.join(number(end, 2) for end in ends)}"
    if evidence.currency not in (None, evaluation.brief.currency):
        rate = evaluation.told.drawn["brief", f"exchange.{evidence.currency}"][0]
        home = evaluation.brief.currency
        text += f", at {number(rate, 4)} {home} for 1 {evidence.currency}"
    return text


def evidence_of(evaluation, k, path):
    variant = evaluation.variants[k]
    for key in ((evaluation.names[k], variant.path(path)), ("brief", path)):
        if key in evaluation.evidence:
            return evaluation.evidence[key]
    return None


def worded(name):
    return name.replace("_", " ")


def jobs_in_words(n):
    """Return a number of jobs in words."""
    return f"{number(n, 2)} {'job' if number(n, 2) == '1' else 'jobs'}"


def surface_paths(evaluation, k, j, fields):
    """Return the keys of what machine k asks of the surface of job j, among fields."""
    surface = evaluation.brief.work[j].surface
    needs = (evaluation.machines[k].surfaces or {}).get(surface, {})
    return [f"surfaces.{surface}.{field}" for field in fields if field in needs]
