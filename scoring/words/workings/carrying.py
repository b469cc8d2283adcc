"""Who carries a machine: which way, why, and what the next cheapest would cost.

Screening figures only; up stairs no lifting figure applies.
"""

import numpy as np

from scoring.answer.expected import HALF
from scoring.answer.one_machine import of_place, told_at
from scoring.answer.ways import best_of
from scoring.evidence.buyer_arrays import aid_names
from scoring.evidence.machine_arrays import UNTOLD_PIECES
from scoring.model.job import crew
from scoring.model.job.lifting import LARGEST_TEAM
from scoring.words.figures import about, figure, joined
from scoring.words.workings.steps import Step, sheet_step, worded

TEAMS = {1: "one person", 2: "two people", 3: "three people"}
ON_STAIRS = "no lifting figure applies there, and the lower person bears most"
MOST_MORE = 1.5  # times a limit: more is not to be asked of a person
MONEY_APART = 0.5  # of the currency a year: ways that leave as much are one


def who_carries(evaluation, k, is_us=False):
    """Return in words who carries the pieces: screening only."""
    by_kind = {}
    for j, job in enumerate(evaluation.brief.work):
        by_kind.setdefault(job.stairs > 0, _who(evaluation, k, j, is_us))
    level, stairs = by_kind.get(False), by_kind.get(True)
    said = [level] if level else []
    if stairs:
        said.append(f"up stairs {stairs}; {ON_STAIRS}")
    return "; ".join(said)


def _who(evaluation, k, j, is_us):
    """Return who carries the pieces to one kind of job."""
    carried = told_at(evaluation, k, j).carried
    own, hired = int(carried.own), int(carried.hired)
    buyer = of_place(evaluation.told.figures.buyer, k)
    limit = figure(buyer.lift_limit_kg, "kg", is_us)
    aids = joined(worded(name) for name in evaluation.variants[k].way.aids)
    aided = f", with the {aids}" if carried.is_aided else ""
    mass, short = (
        figure(kg, "kg", is_us) for kg in (carried.by_hand_kg, carried.short_kg)
    )
    return {
        crew.ALONE: f"one person, by your limit of {limit}",
        crew.WITH_AID: f"one person pushing{aided}; lifting it on or off takes more",
        crew.OWN_CREW: f"{TEAMS.get(own, own)} of the crew together{aided}",
        crew.HIRED: f"{TEAMS.get(own, own)} of the crew and {hired} hired from outside "
        f"on each visit{aided}",
        crew.NOBODY: f"nobody: a piece to be lifted by hand weighs {mass}, {short} "
        "more than those who may be there lift by the filter",
    }[int(carried.way)]


def lift_steps(evaluation, k, criterion, is_us):
    """Return the steps of the heaviest lift: pieces, people, way, the next cheapest."""
    machines = of_place(evaluation.told.figures.machines, k)
    mass = machines.heaviest_lift_kg
    step = sheet_step(evaluation, k, "heaviest piece", mass, "kg", ["heaviest_lift"])
    carried = told_at(evaluation, k).carried
    who = who_carries(evaluation, k, is_us)
    steps = [step, *_pieces_steps(evaluation, k)]
    steps.append(Step("people to lift it", carried.people_needed, "", who))
    return [*steps, *_ways_steps(evaluation, k)]


def _pieces_steps(evaluation, k):
    """Return a step for each other piece, or what a sheet without a list counts as."""
    pieces = evaluation.machines[k].pieces
    if not pieces:
        how = (
            f"none listed: reckoned as {UNTOLD_PIECES} such pieces without wheels; ask "
            "for a list"
        )
        return [Step("other pieces", None, "kg", how)]
    name, drawn = evaluation.names[k], evaluation.told.drawn
    return [
        sheet_step(
            evaluation,
            k,
            f"piece: {piece.name}",
            float(drawn[name, f"pieces.{n}.mass"][0]),
            "kg",
            [f"pieces.{n}.mass"],
            then="on wheels" if piece.wheels else "",
        )
        for n, piece in enumerate(pieces)
    ]


def _ways_steps(evaluation, k):
    """Return what the way that is taken leaves in a year, and the next cheapest."""
    results = evaluation.ways[k]
    taken, unit = best_of(results), f"{evaluation.brief.currency}/year"
    if not taken.works > HALF:
        return []
    other = next_cheapest(results)
    is_only = "the only way" if other is None else "of the ways that work the cheapest"
    how = f"{way_in_words(evaluation, taken.way)}: {is_only}"
    steps = [Step("left with it, aids paid for", taken.left, unit, how)]
    if other is not None:
        how = f"the next cheapest: {way_in_words(evaluation, other.way)}"
        steps.append(Step("it would cost more", taken.left - other.left, unit, how))
    return steps


def next_cheapest(results):
    """Return the WayResult that leaves most of those that cost more; None for none."""
    taken = best_of(results)
    others = [
        each
        for each in results
        if each.is_allowed
        and each.works > HALF
        and each.left < taken.left - MONEY_APART
    ]
    return best_of(others) if others else None


def way_in_words(evaluation, way):
    """Return a Way in words: which aids, how many, and who helps."""
    aids = joined(worded(name) for name in way.aids)
    if way.aids:
        price = figure(_price(evaluation, way.aids), evaluation.brief.currency)
        said = [f"with the {aids} for {price}"]
    else:
        said = ["by hand"]
    kinds = {job.stairs > 0 for job in evaluation.brief.work}
    if way.level > 1:
        where = " where there are no stairs" if True in kinds else ""
        said.append(f"{TEAMS[way.level]} at least{where}")
    if way.stairs > 1:
        said.append(f"{TEAMS[way.stairs]} at least on stairs")
    if way.level == way.stairs == 1:
        said.append("as few as will do")
    if way.hires_first:
        said.append("others hired before the crew's own go")
    return ", ".join(said)


def _price(evaluation, aids):
    prices = np.atleast_1d(evaluation.told.figures.buyer.aid_price[0, 0])
    names = aid_names(evaluation.brief)
    return sum(float(prices[names.index(name)]) for name in aids)


def smallest_lift_change(evaluation, k, is_us=False):
    """Return what would let a machine in that nobody carries; the cheapest first."""
    carried = _easiest(evaluation, k)
    mass = figure(carried.by_hand_kg, "kg", is_us)
    limit = float(of_place(evaluation.told.figures.buyer, k).lift_limit_kg)
    asked = limit * carried.by_hand_kg / (carried.by_hand_kg - carried.short_kg)
    found = [*_helpers(evaluation, k, carried)]
    found.append(f"an aid rated for {mass}, or pieces that come apart")
    if asked <= MOST_MORE * limit:
        each = figure(asked, "kg", is_us)
        found.append(f"{each} a person, where an assessment allows so much")
    return "; or ".join(found)


def _easiest(evaluation, k):
    """Return how the pieces are carried to the kind of job that asks least."""
    jobs = range(len(evaluation.brief.work))
    all_ = [told_at(evaluation, k, j).carried for j in jobs]
    return min(all_, key=lambda carried: carried.short_kg)


def _more_people(evaluation, carried):
    """Return how many the crew lacks, 3 together at most."""
    needed = min(carried.people_needed, LARGEST_TEAM)
    return max(1, int(needed) - evaluation.brief.crew.people)


def _helpers(evaluation, k, carried):
    """Return what hired help would do where the brief does not allow it; [] if not."""
    might = [x for x in evaluation.ways[k] if not x.is_allowed and x.works > HALF]
    if not might:
        return []
    best = max(might, key=lambda each: each.left)
    n = _more_people(evaluation, carried)
    people = "a second person" if n == 1 else f"{n} more people"
    with_aid = joined(worded(name) for name in best.way.aids)
    with_aid = f" and the {with_aid}" if with_aid else ""
    if not float(of_place(evaluation.told.figures.buyer, k).help_rate_per_h):
        return [f"{people} on each visit{with_aid}; the brief states no rate"]
    money = about(best.help_a_year, f"{evaluation.brief.currency}/year")
    return [f"{people} on each visit{with_aid}, about {money} of hired help"]
