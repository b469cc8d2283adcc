"""Whether a pack teaches what it should: leaders differ, firmly, no limit on a tie."""

from typing import NamedTuple

import numpy as np

from scoring.answer.limits import LimitKind, helps
from scoring.errors import InputFault, InputFaults
from scoring.model.job.lifting import LARGEST_TEAM, team_limit_kg
from scoring.model.job.reach import stronger_odour
from scoring.questions.firmness import Firmness
from scoring.workshop.pack import N_BUYERS
from scoring.workshop.solved import Solved, solved
from scoring.workshop.visit import best_worth, visitors_firmness

FEWEST_LEADERS = 3  # of five buyers; own choice
FIRM = 0.60  # of draws
TIE = 0.02  # of a limit
MORE = 5  # figures named that would be worth finding out
NO_ODOUR_LIMIT = 6.0
MONEY = {
    LimitKind.CASH: "the cost to your door and the cash",
    LimitKind.LOW_POINT: "the lowest point of the cash and what there is",
    LimitKind.HIGHEST_UPFRONT: "the cost to your door and the highest allowed",
}


class Pair(NamedTuple):
    """A figure and the limit it is held against, as told; arrays (machine,)."""

    words: str
    figure: np.ndarray
    allowed: np.ndarray


class Checked(NamedTuple):
    """A pack that teaches what it should, run by the engine."""

    found: tuple[Solved, ...]  # the five buyers and the sixth
    firm: Firmness  # of the buyer for whom the seller is visited


def checked(pack):
    """Return the Checked of a pack that teaches what it should.

    Raises
    ------
    InputFaults
        With a sentence for each thing that fails.
    """
    found, firm = solved(pack), visitors_firmness(pack)
    faults = [*_leader_faults(pack, found), *_firm_faults(pack, found)]
    for k, each in enumerate(found):
        faults += _tie_faults(pack, k, each)
    faults += _visit_faults(pack, firm)
    if faults:
        raise InputFaults(faults)
    return Checked(found, firm)


def _fault(pack, key, what, allowed):
    plan = pack.plan
    return InputFault(plan.source, plan.line_of(key), key, what, allowed)


def _key(k):
    return "sixth" if k == N_BUYERS else f"buyers.{k}"


def _leader_faults(pack, found):
    """Yield a fault where the five buyers have too few leaders under equal weights."""
    leads = [each.leader for each in found[:N_BUYERS] if each.leader is not None]
    if len(set(leads)) >= FEWEST_LEADERS:
        return
    said = "; ".join(
        f"{each.title}: {_letter(pack, each.leader)}" for each in found[:N_BUYERS]
    )
    what = f"under equal weights {len(set(leads))} machines lead ({said})"
    yield _fault(pack, "buyers", what, f"{FEWEST_LEADERS} different leaders or more")


def _letter(pack, place):
    return "nobody" if place is None else pack.letters[place]


def _firm_faults(pack, found):
    for k, each in enumerate(found):
        if each.leader is None:
            what = f"{each.title}: every machine is ruled out"
            yield _fault(pack, _key(k), what, "one within the limits, or more")
            continue
        share = each.first[each.leader]
        if share < FIRM:
            letter = _letter(pack, each.leader)
            what = f"{each.title}: {letter} leads in {100 * share:.0f} % of draws"
            yield _fault(pack, _key(k), what, f"{100 * FIRM:.0f} % or more")


def _visit_faults(pack, firm):
    """Yield a fault where nothing in the envelopes is worth finding out."""
    if best_worth(pack, firm) > 0:
        return
    told = ", ".join(
        f"{pack.letter_of(worth.owner)}: {worth.path}"
        for worth in firm.worths[:MORE]
        if worth.owner != "brief" and worth.value > 0
    )
    what = f"{pack.visitor.title}: no envelope's figure is worth finding out"
    yield _fault(pack, "visit", what, f"one that is, such as {told or 'of a leader'}")


def _tie_faults(pack, k, each):
    names = each.evaluation.names
    for pair in limit_pairs(each.evaluation):
        for place in np.flatnonzero(is_near(pair.figure, pair.allowed)):
            letter = pack.letter_of(names[place])
            figure, allowed = pair.figure[place], pair.allowed[place]
            what = (
                f"{each.title}: {letter}: {pair.words}: {figure:.4g} of {allowed:.4g}"
            )
            yield _fault(
                pack, _key(k), what, f"further than {100 * TIE:.0f} % from a tie"
            )


def is_near(figure, allowed):
    """Return where a figure stands within 2 % of its limit: bool, their shape.

    A limit that is not there (NaN, infinite) or 0 has no tie.

    Examples
    --------
    >>> is_near(np.array([24.4, 24.6, 25.5]), np.array([25.0, 25.0, 25.0])).tolist()
    [False, True, True]
    """
    with np.errstate(invalid="ignore"):
        away = np.abs(figure - allowed)
    is_limit = np.isfinite(allowed) & np.isfinite(figure) & (allowed != 0)
    return is_limit & (away <= TIE * np.abs(allowed) + 1e-9)


def limit_pairs(evaluation):
    """Return a Pair for each limit of the buyer that is a figure, not a yes or no."""
    machines, jobs, business = evaluation.told.figures
    n = len(evaluation.names)
    found = [*_lift_pairs(evaluation.brief, machines, business)]
    found += _vehicle_pairs(machines, business)
    found += [
        Pair(MONEY[limit.kind], limit.figure[0], limit.allowed[0])
        for limit in evaluation.told.limits
        if limit.kind in MONEY
    ]
    found += _job_pairs(evaluation.brief, machines, jobs)
    return [
        pair._replace(
            figure=np.broadcast_to(pair.figure, n),
            allowed=np.broadcast_to(pair.allowed, n),
        )
        for pair in found
    ]


def _lift_pairs(brief, machines, business):
    mass = machines.heaviest_lift_kg[0, :, 0]
    limit = business.lift_limit_kg[0, :, 0]
    team = LARGEST_TEAM if helps(brief) else min(brief.crew.people, LARGEST_TEAM)
    for people in range(1, team + 1):
        words = f"the heaviest lift and what {people} may lift, kg"
        yield Pair(words, mass, team_limit_kg(people, limit))


def _vehicle_pairs(machines, business):
    for words, figure, allowed in (
        ("longest piece and vehicle, m", "longest_piece_m", "vehicle_length_m"),
        ("volume and vehicle, m³", "loaded_m3", "vehicle_m3"),
        ("load and payload, kg", "loaded_kg", "payload_kg"),
    ):
        own = getattr(business, allowed)[0, :, 0]
        yield Pair(words, getattr(machines, figure)[0, :, 0], own)


def _job_pairs(brief, machines, jobs):
    """Yield the limits of each kind of job: reach, relief, smell."""
    for j, job in enumerate(brief.work):

        def of(array, j=j):
            array = np.broadcast_to(array, np.broadcast_shapes(array.shape, (1, 1, 1)))
            return array[0, :, min(j, array.shape[2] - 1)]

        plain, edge = of(jobs.plain_edge_m), of(jobs.lowest_edge_m)
        top = np.nan_to_num(edge) + of(jobs.height_m) - plain
        lowest = of(machines.lowest_print_height_m) - plain
        corner = of(machines.side_clearance_m) - plain
        smell, limit = of(stronger_odour(machines)), of(jobs.odour_limit)
        limit = np.where(limit < NO_ODOUR_LIMIT, limit, np.nan)
        yield Pair(f"{job.name}: reach, m", top, of(machines.max_print_height_m))
        yield Pair(f"{job.name}: lowest edge, m", lowest, edge)
        yield Pair(f"{job.name}: room at the side, m", corner, of(jobs.side_gap_m))
        yield Pair(f"{job.name}: relief, m", of(jobs.relief_m), of(machines.head_gap_m))
        yield Pair(f"{job.name}: smell", smell, limit)
