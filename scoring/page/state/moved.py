"""What was moved away from a brief: it is kept for that brief, and comes back with it.

By names, not by places: a brief that is sent again with other jobs keeps what still
fits. What was not moved follows the brief.
"""

import streamlit as st

from scoring.page.state.jobs import jobs_of
from scoring.page.state.weights import TOLD, brief_points, shown_points

HUGE = 1e12
WAYS = ("order", "money", "pairs")
NOTHING = {"weights": {}, "jobs": {}, "prices": {}}
NOTHING |= {"crew": None, "work_share": None, "rate": None, "told": None}


def note_moves(base):
    """Note what stands elsewhere than in the brief: weights, crew, work, money."""
    state = st.session_state
    usual = dict(zip(_jobs(base.brief), jobs_of(base.brief), strict=True))
    jobs = {name: state.get(f"jobs_{n}") for n, name in enumerate(usual)}
    points = {name: state.get(f"weight_{name}") for name in brief_points(base)}
    at_first = {name: shown_points(x) for name, x in brief_points(base).items()}
    rate = round(100 * float(base.figures.buyer.discount_rate[0, 0, 0]), 1)
    _all_moved()[base.brief.source] = {
        "weights": _unlike(points, at_first),
        "jobs": _unlike(jobs, usual),
        "prices": dict(state.get("prices_asked", {})),
        "crew": _moved("crew", base.brief.crew.people),
        "work_share": _moved("work_share", 100),
        "rate": _moved("rate", rate),
        "told": state.get(TOLD),
    }


def moves_of(brief):
    """Return what was moved away from a brief, {what: value}, as NOTHING has it."""
    return NOTHING | _all_moved().get(brief.source, {})


def sound(moves):
    """Return what of moves out of anybody's file can stand for moves."""
    if not isinstance(moves, dict):
        return {}
    found = {key: moves[key] for key in NOTHING if _fits(key, moves.get(key))}
    return found


def _fits(key, value):
    if key == "told":
        is_told = isinstance(value, dict) and value.get("way") in WAYS
        return is_told and _are_numbers(value.get("points"))
    if NOTHING[key] is None:
        return _is_number(value)
    return _are_numbers(value)


def _are_numbers(value):
    return isinstance(value, dict) and all(map(_is_number, value.values()))


def _is_number(value):
    is_one = isinstance(value, int | float) and not isinstance(value, bool)
    return is_one and abs(value) < HUGE


def rename_machine(old, new):
    """Let what is supposed of a machine go on under its new name, with each brief."""
    state = st.session_state
    asked = [state.get("prices_asked", {})]
    asked += [moves["prices"] for moves in _all_moved().values()]
    for prices in asked:
        if old in prices:
            prices[new] = prices.pop(old)
    out = state.get("left_out", frozenset())
    if old in out:
        state["left_out"] = (out - {old}) | {new}
    for key in ("money_machine", "price_of", "own_machine", "show_machine"):
        if state.get(key) == old:
            state[key] = new


def put_moves(brief, moves):
    """Let other moves stand for a brief; all sliders are set when it is shown next."""
    known = {key: value for key, value in moves.items() if key in NOTHING}
    _all_moved()[brief.source] = NOTHING | known
    st.session_state.pop("seeded_for", None)


def _jobs(brief):
    return [job.name for job in brief.work]


def _all_moved():
    return st.session_state.setdefault("moved", {})


def _moved(key, usual):
    value = st.session_state.get(key)
    return None if value == usual else value


def _unlike(now, usual):
    """Return the values that are there and are not the usual ones."""
    return {
        name: value
        for name, value in now.items()
        if value is not None and value != usual[name]
    }


def put_away(group, keys, brief, fresh):
    """Let each brief have its own values of some widgets, put away and brought back.

    Parameters
    ----------
    group : name of these widgets
    keys : function () → the keys in the session that belong to them now
    fresh : function () that sets them for a brief that was not seen yet
    """
    last = st.session_state.get(f"{group}_of")
    if last == brief.source:
        return
    away = st.session_state.setdefault("put_away", {}).setdefault(group, {})
    if last is not None:
        held = {key: st.session_state.pop(key, None) for key in keys()}
        away[last] = {key: value for key, value in held.items() if value is not None}
    st.session_state[f"{group}_of"] = brief.source
    fresh()
    for key, value in away.get(brief.source, {}).items():
        st.session_state[key] = value
