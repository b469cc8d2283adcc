"""One page for the notice board: what the room found, without a single name."""

import math

from scoring.words.figures import figure
from scoring.workshop.handouts import filled
from scoring.workshop.results import leader_of
from scoring.workshop.solved import CAUSES

HITS = (
    ("own", "the own buyer's leader, before the toolkit's answer"),
    ("swap", "who leads when the buyer changes"),
    ("sixth", "the leader of a buyer nobody had seen"),
)


def notice_board(pack, found, result):
    """Return the HTML of the page to print.

    Parameters
    ----------
    pack : Pack
    found : sequence of Solved, the pack's
    result : RoomResult
    """
    return filled(
        "notice.html",
        plan=pack.plan,
        n_people=sum(team.n_people for team in result.teams),
        leaders=[(each.title, leader_of(each) or "nobody") for each in found],
        sentences=result_sentences(result),
        hits=hit_rows(result),
        decides=shares(result),
    )


def result_sentences(result):
    """Return what the exercise showed, in sentences; nothing where nothing is known."""
    said = []
    if result.first_guess is not None:
        w, p = result.first_guess.w, result.first_guess.p
        said.append(
            "Before anybody had a buyer, the room's agreement on the order was "
            f"W = {figure(w)} (1 is all alike, 0 is none; as much by chance: "
            f"{figure(p, 'share')})."
        )
    learnt = result.learnt
    if learnt.n:
        said.append(
            f"Questions right: {learnt.before:.0f} % before, {learnt.after:.0f} % "
            f"after ({learnt.n} people)."
        )
        if math.isfinite(learnt.gain):
            said.append(
                f"Gain: {figure(learnt.gain)} of what was still to learn (Hake 1998)."
            )
    return said


def hit_rows(result):
    """Return rows (what was predicted, came true, by chance, Brier score, how many)."""
    rows = []
    for name, what in HITS:
        hits = getattr(result, name)
        if hits.n:
            share, chance = figure(hits.share, "share"), figure(hits.by_chance, "share")
            rows.append((what, share, chance, figure(hits.brier), str(hits.n)))
    return rows


def shares(result):
    """Return [(cause, share)] of “who leads”; the last is what only several make."""
    decides = [*result.decides.first.tolist(), float(result.decides.together)]
    return list(zip([*CAUSES, "only together"], decides, strict=True))
