"""What is supposed, one by one, each in words and with the way to take it back."""

from collections.abc import Callable
from typing import NamedTuple

import streamlit as st

from scoring.page.state.jobs import jobs_of
from scoring.page.state.weights import brief_points, points, reset_weights, way_told
from scoring.page.state.work import WHOLE, interest
from scoring.words import what_if as words


class WhatIf(NamedTuple):
    """One thing that stands other than the brief says."""

    key: str
    said: str
    undo: Callable[[], None]


def what_ifs(base):
    """Return a WhatIf for each thing that is supposed."""
    return [*_work(base), *_money(base), *_weights(base)]


def said(base):
    """Return what is supposed as a sentence; "" where all is as told."""
    return words.supposing([each.said for each in what_ifs(base)])


def _work(base):
    state, brief = st.session_state, base.brief
    if state["crew"] != brief.crew.people:
        yield _of("crew", words.crew(state["crew"]), brief.crew.people)
    for n, usual in enumerate(jobs_of(brief)):
        per_month = state[f"jobs_{n}"]
        if per_month != usual:
            yield _of(f"jobs_{n}", words.jobs(brief.work[n], per_month), usual)
    if state["work_share"] != WHOLE:
        yield _of("work_share", words.all_work(state["work_share"]), WHOLE)


def _money(base):
    for name, price in sorted(st.session_state.get("prices_asked", {}).items()):
        if name in base.names:
            currency = base.machines[base.index(name)].price.currency
            said_ = words.price(name, price, currency)
            yield WhatIf(f"price_{base.index(name)}", said_, lambda n=name: _ask(n))
    rate, usual = st.session_state["rate"], interest(base)
    if rate != usual:
        yield _of("rate", words.rate(rate), usual)


def _ask(name):
    """Set a price back to what is asked."""
    st.session_state["prices_asked"].pop(name, None)
    st.session_state["price_of"] = None


def _weights(base):
    now, usual = points(base), brief_points(base)
    moved = [name for name in usual if now[name] != usual[name]]
    if moved:
        labels = {criterion.id: criterion.label for criterion in base.criteria}
        told = words.weights([labels[name] for name in moved], way_told())
        yield WhatIf("weights", told, lambda: reset_weights(base))


def _of(key, told, usual):
    """Return the WhatIf of a value in the session."""
    return WhatIf(key, told, lambda: st.session_state.update({key: usual}))
