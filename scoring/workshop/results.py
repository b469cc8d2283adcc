"""What the exercise showed: teams beside the toolkit, predictions, learning."""

from collections import defaultdict
from dataclasses import dataclass, replace

import numpy as np

from scoring.answer.evaluation import evaluate
from scoring.decision.group import Concordance, Pooled, borda, concordance, pooled
from scoring.decision.learning import brier, normalised_gain
from scoring.decision.ranking import kendall_tau, ranks
from scoring.decision.shares import Shares
from scoring.workshop.asked import CRITERIA
from scoring.workshop.pack import AFTER, BEFORE, LETTERS, N_BUYERS
from scoring.workshop.session import buyer_of, prices_of, ranks_of, three_points
from scoring.workshop.solved import equal_weights, who_decides

MORE_KG = 10.0
FEW_DRAWS = 200  # of a swap, on the scale of the buyer as dealt


@dataclass(frozen=True)
class DaysBeside:
    """A team's predicted days of one kind of job beside the toolkit's."""

    job: str
    letter: str
    said: Pooled
    toolkit: float  # NaN where the machine cannot do it


@dataclass(frozen=True)
class TeamResult:
    """A team beside the toolkit."""

    team: int
    buyer: str
    n_people: int
    order: tuple  # the letters by the team's Borda points, best first; () if none
    toolkit_order: tuple  # as the toolkit ranks those within the limits
    tau: float | None  # between the two rankings
    agreement: Concordance | None  # within the team; None of one person
    days: tuple[DaysBeside, ...]
    prices: dict | None  # {criterion: share}, the team's geometric mean


@dataclass(frozen=True)
class Hits:
    """How often predictions of who leads came true, against chance."""

    n: int
    share: float  # NaN of none
    by_chance: float
    brier: float  # NaN of none


@dataclass(frozen=True)
class Learnt:
    """Two tests, of those who took both: means in per cent, and Hake's gain."""

    n: int
    before: float
    after: float
    gain: float


@dataclass(frozen=True)
class RoomResult:
    """All that the debrief shows."""

    teams: tuple[TeamResult, ...]
    first_guess: Concordance | None  # the whole room, before any buyer
    points: dict  # {letter: Borda points} of the first guess
    own: Hits  # the own buyer's leader, before the reveal
    swap: Hits
    sixth: Hits
    learnt: Learnt
    decides: Shares  # the buyer, prices, sellers' figures


def said_in(answers, stage, question):
    """Return {person id: value} of one question."""
    return {
        a.person_id: a.value
        for a in answers
        if (a.stage, a.question) == (stage, question)
    }


def room_result(pack, found, people, answers):
    """Return the RoomResult.

    Parameters
    ----------
    pack : Pack
    found : sequence of Solved, the pack's
    people : sequence of Person
    answers : sequence of Answer
    """
    by_team = defaultdict(list)
    for person in people:
        by_team[person.team].append(person.id)
    first = said_in(answers, "first_guess", "ranks")
    points = borda(ranks_of(first.values())) if first else np.zeros(len(LETTERS))
    prices = list(said_in(answers, "prices", "prices").values())
    table = np.array([[p.get(name, 0.0) for name in CRITERIA] for p in prices])
    return RoomResult(
        teams=tuple(
            team_result(pack, found, team, ids, answers)
            for team, ids in sorted(by_team.items())
        ),
        first_guess=_agreement(list(first.values())),
        points=dict(zip(LETTERS, points.tolist(), strict=True)),
        own=own_hits(pack, found, people, answers),
        swap=swap_hits(pack, found, people, answers),
        sixth=sixth_hits(pack, found, answers),
        learnt=learnt(pack.plan, answers),
        decides=who_decides(found, pack.plan.seed, table if prices else None),
    )


def _agreement(orders):
    return concordance(ranks_of(orders)) if len(orders) > 1 else None


def team_result(pack, found, team, ids, answers):
    """Return the TeamResult of the people with these ids."""
    k = buyer_of(team)
    mine = [answer for answer in answers if answer.person_id in ids]
    orders = list(said_in(mine, "buyer", "ranks").values())
    prices = list(said_in(mine, "prices", "prices").values())
    places = ranks(borda(ranks_of(orders))) if orders else None
    return TeamResult(
        team=team,
        buyer=found[k].title,
        n_people=len(ids),
        order=_in_order(places) if orders else (),
        toolkit_order=_in_order(found[k].ranks)[: found[k].evaluation.is_ranked.sum()],
        tau=kendall_tau(places, found[k].ranks) if orders else None,
        agreement=_agreement(orders),
        days=tuple(_days_beside(pack, found, k, mine)),
        prices=dict(zip(CRITERIA, prices_of(prices).tolist(), strict=True))
        if prices
        else None,
    )


def _in_order(places):
    """Return the letters, the best first; those level by the alphabet."""
    order = np.argsort(places, kind="stable")
    return tuple(LETTERS[k] for k in order)


def _days_beside(pack, found, k, mine):
    for n, job in enumerate(pack.plan.buyers[k].predict):
        by_letter = defaultdict(list)
        for value in said_in(mine, "buyer", f"days.{n}").values():
            for letter, days in value.items():
                by_letter[letter].append(three_points(days))
        toolkit = found[k].days(job)
        for letter, said in sorted(by_letter.items()):
            told = float(toolkit[LETTERS.index(letter)])
            yield DaysBeside(job, letter, pooled(*zip(*said, strict=True)), told)


def hits(said, true):
    """Return the Hits of [(letter, how sure in per cent)] against the true letters."""
    if not said:
        return Hits(0, np.nan, 1 / len(LETTERS), np.nan)
    came = [letter == right for (letter, _), right in zip(said, true, strict=True)]
    sure = [percent / 100 for _, percent in said]
    return Hits(len(said), float(np.mean(came)), 1 / len(LETTERS), brier(sure, came))


def leader_of(each):
    """Return the letter that leads for a Solved, None where nobody does."""
    return None if each.leader is None else LETTERS[each.leader]


def own_hits(pack, found, people, answers):
    """Return the Hits of who was ranked first for the own buyer, with how sure."""
    orders = said_in(answers, "buyer", "ranks")
    sure = said_in(answers, "buyer", "sure")
    teams = {person.id: person.team for person in people}
    both = [i for i in orders if i in sure and i in teams]
    said = [(orders[i][0], sure[i]) for i in both]
    return hits(said, [leader_of(found[buyer_of(teams[i])]) for i in both])


def swap_hits(pack, found, people, answers):
    """Return the Hits of all that was predicted in the swap."""
    teams = {person.id: person.team for person in people}
    said, true, known = [], [], {}
    for a in answers:
        if a.stage != "swap" or a.person_id not in teams:
            continue
        k, swap = buyer_of(teams[a.person_id]), a.question.removeprefix("leads.")
        if (k, swap) not in known:
            known[k, swap] = swapped_leader(pack, found, k, swap)
        said.append((a.value["letter"], a.value["sure"]))
        true.append(known[k, swap])
    return hits(said, true)


def sixth_hits(pack, found, answers):
    """Return the Hits of who leads for the buyer that nobody had seen."""
    said = said_in(answers, "debrief", "leads.sixth").values()
    right = leader_of(found[N_BUYERS])
    return hits([(v["letter"], v["sure"]) for v in said], [right] * len(said))


def swapped_leader(pack, found, k, swap):
    """Return the letter that leads for buyer k after a swap; None where nobody does.

    Parameters
    ----------
    swap : "next" the next team's buyer; "person" one more in the crew; "kilos" each may
        lift 10 kg more; "stair" one more flight at every job
    """
    if swap == "next":
        return leader_of(found[(k + 1) % N_BUYERS])
    brief = _swapped(pack.buyers[k], swap)
    before = found[k].evaluation
    again = evaluate(
        brief,
        pack.machines,
        equal_weights(brief),
        scale=before.scale,
        n_draws=FEW_DRAWS,
        seed=pack.plan.seed,
    )
    places = np.flatnonzero(again.rank_weighted_sum == 1)
    return pack.letter_of(again.names[places[0]]) if places.size else None


def _swapped(brief, swap):
    crew, work = brief.crew, brief.work
    if swap == "person":
        crew = crew.model_copy(update={"people": crew.people + 1})
    elif swap == "kilos":
        limit = crew.lift_limit
        more = {e: getattr(limit, e) + MORE_KG for e in ("low", "likely", "high")}
        crew = crew.model_copy(update={"lift_limit": replace(limit, **more)})
    else:
        work = tuple(job.model_copy(update={"stairs": job.stairs + 1}) for job in work)
    return brief.model_copy(update={"crew": crew, "work": work})


def learnt(plan, answers):
    """Return the Learnt of those who answered both tests; unanswered counts wrong."""
    right = {when: _right(plan, answers, when) for when in (BEFORE, AFTER)}
    both = sorted(set(right[BEFORE]) & set(right[AFTER]))
    if not both:
        return Learnt(0, np.nan, np.nan, np.nan)
    before, after = (
        float(np.mean([right[when][i] for i in both])) for when in (BEFORE, AFTER)
    )
    return Learnt(len(both), before, after, float(normalised_gain(before, after)))


def _right(plan, answers, when):
    """Return {person id: per cent right} of one test."""
    asked = {f"{when}.{question.id}": question.right for question in plan.asked(when)}
    found = defaultdict(int)
    for a in answers:
        if a.question in asked:
            found[a.person_id] += a.value == asked[a.question]
    return {i: 100 * n / len(asked) for i, n in found.items()}
