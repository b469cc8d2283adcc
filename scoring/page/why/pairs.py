"""What matters, by picking one of two imaginary machines again and again."""

import streamlit as st

from scoring.decision.picked_pairs import (
    FIRST,
    SAME,
    SECOND,
    Offer,
    Pick,
    next_pair,
    standing,
)
from scoring.page import text
from scoring.page.state.memory import remembered
from scoring.page.state.weights import set_weights
from scoring.words.picked_pairs import (
    SAYS,
    contradiction,
    offered,
    picked_in_words,
    standing_in_words,
)

PICKS = "picked_pairs"  # [[criterion, criterion, level, says], …] of each brief
ABOUT = (
    "Two machines that do not exist, alike but for two things: which one would you "
    "rather have? Each pick narrows what your weights can be."
)


def pairs(evaluation, is_us):
    """Draw the next two machines, what follows so far, and each pick to take back."""
    places = [k for k in evaluation.order if evaluation.is_ranked[k]]
    asked = [c for c, criterion in enumerate(evaluation.criteria) if criterion.in_use]
    text.note(ABOUT)
    if len(places) < 2 or len(asked) < 2:
        text.say("With fewer than two machines, or two things that matter, none asks.")
        return
    scores = evaluation.scores[places][:, asked]
    picks = _picks(evaluation, asked)
    now = remembered("pairs", (evaluation,), picks, lambda: standing(scores, picks))
    if now is None:
        text.say(contradiction(evaluation, _named(picks, asked), is_us))
    else:
        text.say(standing_in_words(evaluation, places, now))
        _next(evaluation, asked, picks, now, scores, is_us)
        _take_over(evaluation, asked, now, picks)
    _taken_back(evaluation, asked, picks, is_us)


def _next(evaluation, asked, picks, now, scores, is_us):
    """Draw the next Offer as two buttons, and a third for neither."""
    pair = remembered("next_pair", (now,), picks, lambda: next_pair(picks, now, scores))
    if pair is None:
        text.say("There is nothing more to ask.")
        return
    named = pair._replace(one=asked[pair.one], other=asked[pair.other])
    words = (*offered(evaluation, named, is_us), "About the same to me")
    for says, told in zip((FIRST, SECOND, SAME), words, strict=True):
        st.button(
            text.escaped(told),
            key=f"pick_{says}",
            on_click=_note,
            args=(evaluation, named, says),
            width="stretch",
        )


def _take_over(evaluation, asked, now, picks):
    """Draw the button that sets the sliders to the middle of all that fits."""
    if not picks:
        return
    middle = now.weights.mean(axis=0)
    weights = dict.fromkeys((c.id for c in evaluation.criteria), 0.0)
    for c, weight in zip(asked, middle, strict=True):
        weights[evaluation.criteria[c].id] = float(weight)
    st.button(
        "Set my points to the middle of what fits",
        key="take_pairs_over",
        on_click=set_weights,
        args=("pairs", weights),
    )


def _taken_back(evaluation, asked, picks, is_us):
    """Draw each pick with the way to take it back."""
    for n, pick in enumerate(_named(picks, asked)):
        st.button(
            text.escaped(f"✕ {picked_in_words(evaluation, pick, is_us)}"),
            key=f"unpick_{n}",
            on_click=_forget,
            args=(evaluation, n),
            help="Take this back",
        )


def _picks(evaluation, asked):
    """Return the Picks of this brief, numbered by what is asked about."""
    ids = [criterion.id for criterion in evaluation.criteria]
    found = []
    for one, other, level, says in _told(evaluation):
        if one in ids and other in ids and says in SAYS:
            places = ids.index(one), ids.index(other)
            if set(places) <= set(asked) and 0 < level <= 1:
                pair = Offer(*map(asked.index, places), float(level))
                found.append(Pick(pair, says))
    return tuple(found)


def _named(picks, asked):
    """Return Picks numbered by all criteria."""
    return [
        pick._replace(
            pair=pick.pair._replace(
                one=asked[pick.pair.one], other=asked[pick.pair.other]
            )
        )
        for pick in picks
    ]


def _told(evaluation):
    every = st.session_state.setdefault(PICKS, {})
    return every.setdefault(evaluation.brief.source, [])


def _note(evaluation, pair, says):
    ids = [criterion.id for criterion in evaluation.criteria]
    _told(evaluation).append([ids[pair.one], ids[pair.other], pair.level, says])


def _forget(evaluation, n):
    del _told(evaluation)[n : n + 1]
