"""What the hand-outs say, in their order: sheets under letters, buyers, the key."""

import re
from typing import NamedTuple

import numpy as np

from scoring.evidence.sheet_figures import KEYS
from scoring.inputs.brief import Brief
from scoring.inputs.quantity import Quantity, parts_of
from scoring.words.figures import about, figure
from scoring.words.keys import in_words
from scoring.words.ruled_out import reasons
from scoring.words.verdict import who_leads
from scoring.words.workings.job import job_steps
from scoring.workshop.asked import SWAPS
from scoring.workshop.pack import N_BUYERS
from scoring.workshop.results import swapped_leader
from scoring.workshop.solved import CAUSES, who_decides
from scoring.workshop.visit import best_worth, worth_found

# What names a machine, a buyer's way to weigh, or nothing that a reader needs.
MACHINE_SKIPS = {"name", "note"}
BRIEF_SKIPS = {"title", "currency", "exchange", "weights", "demand"}
SWAP_WORDS = {
    "next": "the next team's buyer",
    "person": "one person more in the crew",
    "kilos": "each lifts 10 kg more",
    "stair": "one flight of stairs more at every job",
}
STAGE_WORDS = {
    "join": "Join the room",
    "first_guess": "First guess",
    "buyer": "A buyer is dealt",
    "prices": "Prices",
    "reveal": "The toolkit's answer",
    "swap": "The buyer changes",
    "visit": "The seller's day",
    "debrief": "What was learnt",
}


class Row(NamedTuple):
    """One figure or fact of a sheet, as it was written."""

    what: str
    written: str
    basis: str


class Group(NamedTuple):
    """Some rows under one heading."""

    title: str
    rows: list


class LetteredSheet(NamedTuple):
    """A machine under its letter."""

    letter: str
    groups: list


class BuyerPaper(NamedTuple):
    """A buyer, what is predicted, and what is priced."""

    title: str
    groups: list
    jobs: tuple
    swings: list  # (criterion, worst, best)


class KeyLine(NamedTuple):
    """A machine in the key to one buyer."""

    letter: str
    name: str
    place: str
    score: str
    first: str
    days: list
    why_out: list


class KeyPage(NamedTuple):
    """The key to one buyer, with the line of reasoning."""

    title: str
    verdict: str
    leader: str
    share: str
    jobs: tuple
    lines: list
    workings: list  # (job, [step, …])
    swaps: list  # (what, letter)


def sheets(pack):
    """Return the LetteredSheet of each letter; nothing on it names the machine."""
    group_of = {key.name: key.group for key in KEYS}
    return [
        LetteredSheet(letter, _groups(machine, MACHINE_SKIPS, group_of))
        for letter, machine in zip(pack.letters, pack.machines, strict=True)
    ]


def buyer_papers(pack, found):
    """Return the BuyerPaper of each buyer of `solved`, the sixth last."""
    return [
        BuyerPaper(
            title=brief.title,
            groups=brief_groups(brief),
            jobs=buyer.predict,
            swings=_swings(each.evaluation),
        )
        for buyer, brief, each in zip(
            pack.plan.all_buyers, pack.buyers, found, strict=True
        )
    ]


def brief_groups(brief):
    """Return the Groups of a brief, one for each kind of job."""
    groups = _groups(brief, BRIEF_SKIPS | {"work"}, {})
    jobs = [
        Group(job.name, list(_rows(job, job, skips={"name"}))) for job in brief.work
    ]
    return [*groups, *jobs]


def _groups(record, skips, group_of):
    """Return the Groups of what is written in a record, in the order of the file."""
    groups = {}
    for key in parts_of(record):
        if key in skips or key not in record.model_fields_set:
            continue
        title = group_of.get(key, in_words(record, key))
        rows = list(_rows(record, parts_of(record)[key], key))
        groups.setdefault(title, []).extend(rows)
    order = list(dict.fromkeys(group_of.values()))
    titles = sorted(groups, key=lambda t: order.index(t) if t in order else len(order))
    return [Group(title, groups[title]) for title in titles if groups[title]]


def _rows(record, part, path="", skips=()):
    """Yield the Rows below a path of a record, only of what was written."""
    if isinstance(part, Quantity):
        written = "not told" if part.is_unknown else part.text
        basis = "" if part.basis in ("stated", "unknown") else part.basis
        yield Row(_said(record, path), written, basis)
    elif part is None or isinstance(part, str | bool | int | float):
        if part is not None:
            yield Row(_said(record, path), _plain(part), "")
    elif _is_plain_list(part):
        yield Row(_said(record, path), ", ".join(map(_plain, part)) or "none", "")
    else:
        told = getattr(part, "model_fields_set", None)
        for key, below in parts_of(part).items():
            is_name = key == "name" and path  # it is said with each of its figures
            if key not in skips and not is_name and (told is None or key in told):
                yield from _rows(record, below, f"{path}.{key}".lstrip("."))


def _said(record, path):
    """Return a key in words, without the group that is its heading."""
    words = in_words(record, path)
    first, _, rest = words.partition(": ")
    is_heading = rest and isinstance(record, Brief)
    return rest if is_heading else words


def _is_plain_list(part):
    return isinstance(part, tuple | list) and all(
        isinstance(each, str | int | float) for each in part
    )


def _plain(value):
    if isinstance(value, bool):
        return "yes" if value else "no"
    is_id = isinstance(value, str) and re.fullmatch(r"[a-z]+(_[a-z0-9]+)+", value)
    return value.replace("_", " ") if is_id else str(value)


def _swings(evaluation):
    """Return (criterion, worst, best) of what a buyer may price."""
    currency = evaluation.brief.currency
    return [
        (criterion.label, *(figure(end, _unit(criterion, currency)) for end in ends))
        for criterion, ends in zip(
            evaluation.criteria, evaluation.scale.tolist(), strict=True
        )
        if criterion.in_use
    ]


def _unit(criterion, currency):
    return criterion.unit.replace("currency", currency)


def lettered(text, pack):
    """Return a text in which each machine's name stands behind its letter."""
    for letter, name in pack.plan.letters.items():
        text = text.replace(name, f"{letter} ({name})")
    return text


def key_pages(pack, found):
    """Return the KeyPage of each buyer, the sixth last."""
    return [_key_page(pack, found, k) for k in range(len(found))]


def _key_page(pack, found, k):
    each, jobs = found[k], pack.plan.all_buyers[k].predict
    evaluation = each.evaluation
    leader = pack.letters[each.leader]
    place = each.order[each.leader]
    names = [job.name for job in evaluation.brief.work]
    workings = [
        (job, [step.text() for step in job_steps(evaluation, place, names.index(job))])
        for job in jobs
    ]
    swaps = [] if k == N_BUYERS else SWAPS
    return KeyPage(
        title=each.title,
        verdict=lettered(who_leads(evaluation), pack),
        leader=leader,
        share=figure(each.first[each.leader], "share"),
        jobs=jobs,
        lines=_key_lines(pack, each, jobs),
        workings=workings,
        swaps=[
            (SWAP_WORDS[s], swapped_leader(pack, found, k, s) or "nobody")
            for s in swaps
        ],
    )


def _key_lines(pack, each, jobs):
    evaluation, lines = each.evaluation, []
    for place in np.argsort(each.ranks, kind="stable"):
        k = each.order[place]
        is_ranked = bool(evaluation.is_ranked[k])
        score = figure(float(evaluation.weighted_sum[k])) if is_ranked else "–"
        lines.append(
            KeyLine(
                letter=pack.letters[place],
                name=evaluation.names[k],
                place=str(each.ranks[place]) if is_ranked else "ruled out",
                score=score,
                first=figure(each.first[place], "share"),
                days=[figure(each.days(job)[place], "day") for job in jobs],
                why_out=[] if is_ranked else reasons(evaluation, k),
            )
        )
    return lines


def envelope_worths(pack, firm):
    """Return [(Envelope, what it is worth)] and the most to be found in the time."""
    unit = f"{pack.visitor.currency}/year"
    worths = [
        (envelope, about(worth_found(pack, firm, [envelope]), unit))
        for envelope in pack.plan.visit.envelopes
    ]
    return worths, about(best_worth(pack, firm), unit)


def what_decides(pack, found):
    """Return [(cause, share)] of “who leads”; the last is what only several make."""
    shares = who_decides(found, pack.plan.seed)
    causes = [*CAUSES, "only together"]
    return [
        (cause, figure(share, "share"))
        for cause, share in zip(causes, [*shares.first, shares.together], strict=True)
    ]
