"""What is supposed, one by one, each in words and with the way to take it back."""

from collections.abc import Callable
from typing import NamedTuple

import streamlit as st

from scoring.page.state.jobs import jobs_of
from scoring.page.state.weights import (
    TOLD,
    brief_points,
    points,
    reset_weights,
    sliders_by_name,
    way_of,
)
from scoring.page.state.work import WHOLE, chosen, chosen_of, interest, weights_of
from scoring.words import what_if as words


class WhatIf(NamedTuple):
    """One thing that stands other than the brief says."""

    key: str
    said: str
    undo: Callable[[], None]


def what_ifs(base):
    """Return a WhatIf for each thing that is supposed."""
    stands = sliders_by_name(base)
    way = way_of(stands, st.session_state.get(TOLD))
    told = _told(base, chosen(base), points(base), way)
    return [WhatIf(key, words_, _undo(base, key)) for key, words_ in told]


def said(base):
    """Return what is supposed as a sentence; "" where all is as told."""
    return words.supposing([each.said for each in what_ifs(base)])


def said_of(base, moves):
    """Return each thing in words that is supposed where so much was moved."""
    told = _told(base, chosen_of(base, moves), *weights_of(base, moves))
    return [words_ for _, words_ in told]


def _told(base, choice, now, way):
    """Yield (key, words) of each thing that is not as the brief and the sheets say."""
    brief = base.brief
    if choice.people != brief.crew.people:
        yield "crew", words.crew(choice.people)
    for n, usual in enumerate(jobs_of(brief)):
        if choice.jobs[n] != usual:
            yield f"jobs_{n}", words.jobs(brief.work[n], choice.jobs[n])
    if choice.work_share != WHOLE:
        yield "work_share", words.all_work(choice.work_share)
    for name, price in choice.prices:
        k = base.index(name)
        currency = base.machines[k].price.currency
        yield f"price_{k}", words.price(name, price, currency)
    if choice.rate is not None:
        yield "rate", words.rate(choice.rate)
    usual = brief_points(base)
    moved = [c.label for c in base.criteria if now[c.id] != usual[c.id]]
    if moved:
        yield "weights", words.weights(moved, way)


def _undo(base, key):
    """Return what takes a what-if back."""
    if key == "weights":
        return lambda: reset_weights(base)
    what, _, place = key.rpartition("_")
    if what == "price":
        return lambda: _ask(base.names[int(place)])
    usual = {
        "crew": base.brief.crew.people,
        "work_share": WHOLE,
        "rate": interest(base),
    }
    usual |= {f"jobs_{n}": each for n, each in enumerate(jobs_of(base.brief))}
    return lambda: st.session_state.update({key: usual[key]})


def _ask(name):
    """Set a price back to what is asked."""
    st.session_state["prices_asked"].pop(name, None)
    st.session_state["price_of"] = None
