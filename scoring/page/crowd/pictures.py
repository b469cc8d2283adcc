"""The pictures of many buyers: shares, map, prices, and a few questions."""

import streamlit as st

from scoring.charts.population import cell_rows, cell_spec, price_rows, price_spec
from scoring.page import text
from scoring.page.state.memory import keep
from scoring.page.state.shared import shared
from scoring.population.shown import shown
from scoring.words.figures import about
from scoring.words.population import (
    COST,
    MAP,
    advice_in_words,
    head_in_words,
    leaders_in_words,
    middle_in_words,
    per_cent,
    price_in_words,
    times_in_words,
    tree_in_words,
)

AS_TOLD = "all prices as told"
LEAST = 0.005  # share of buyers for whom a machine has a column of its own


def pictures(population):
    """Draw all that is told of a Population."""
    place = st.container()
    with st.container(key="crowd_controls"):
        asked = _controls(population)
    found = shared(
        "crowd_shown", (population,), asked, lambda: shown(population, *asked)
    )
    with place:
        text.say(leaders_in_words(found))
        text.note(head_in_words(found))
    with st.container(key="crowd_map_chart"):
        st.vega_lite_chart(cell_rows(found), cell_spec(found), key="crowd_map")
    text.note(MAP)
    text.heading("Which machine, in a few questions")
    st.code("\n".join(tree_in_words(found)), language=None, wrap_lines=True)
    text.say(advice_in_words(found))
    text.heading(
        "If its price were another", "each machine's alone; nothing is run again"
    )
    with st.container(key="crowd_price_chart"):
        rows = price_rows(found)
        spec = price_spec(found, set(rows["machine"]))
        st.vega_lite_chart(rows, spec, key="crowd_price")
    _machines(found)
    _middles(found)
    text.note(COST)
    text.caution("money")


def _controls(population):
    """Draw what may be asked; return (machine, times, across, up)."""
    names = [each.name for each in population.differs]
    told = [n for k, n in enumerate(population.names) if population.prices[k][0]]
    keep("crowd_machine", [AS_TOLD, *told], AS_TOLD)
    keep("crowd_across", ["", *names], "")
    keep("crowd_up", ["", *names], "")
    left, middle, right = st.columns(3)
    across = left.selectbox(
        "From left to right", ["", *names], key="crowd_across", format_func=_or_telling
    )
    up = middle.selectbox(
        "From bottom to top", ["", *names], key="crowd_up", format_func=_or_telling
    )
    if across and across == up:
        up = None
        text.note("Two different things make a map; the other is chosen for you.")
    name = right.selectbox("Another price", [AS_TOLD, *told], key="crowd_machine")
    if name == AS_TOLD:
        return None, 1.0, across or None, up or None
    k = population.index(name)
    change = st.slider(
        f"Price of {name}, % of what is told", 50, 150, 100, 5, key="crowd_times"
    )
    text.note(f"That is {price_in_words(population, k, change / 100)}.")
    return k, change / 100, across or None, up or None


def _or_telling(name):
    return name or "what tells most"


def _machines(found):
    population = found.population
    rows = [
        (
            population.names[each.machine],
            *map(per_cent, each.by_price),
            about(each.lost, population.currency),
            per_cent(each.out),
        )
        for each in found.for_whom
    ]
    head = ("best for", *times_in_words(), "costs all", "ruled out for")
    with st.expander("Each machine: at other prices, and if all bought it"):
        text.table(head, rows, range(1, len(head)), "Each machine among the buyers")


def _middles(found):
    population = found.population
    some = [each for each in found.for_whom if each.share >= LEAST]
    head = ("", *(population.names[each.machine] for each in some), "all")
    rows = [
        (
            differs.name,
            *(middle_in_words(differs, each.middles[k]) for each in some),
            middle_in_words(differs, found.middles[k]),
        )
        for k, differs in enumerate(population.differs)
    ]
    with st.expander("The middle buyer of each machine"):
        text.table(head, rows, (), "The middle buyer of each machine")
