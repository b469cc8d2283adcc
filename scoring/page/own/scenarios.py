"""Named scenarios side by side: what was changed, and which machine comes first."""

import json

import streamlit as st

from scoring.answer.evaluation import evaluate
from scoring.answer.one_machine import at
from scoring.errors import ScoringError
from scoring.inputs.case.record import read
from scoring.inputs.case.scenarios import (
    Scenario,
    changes_between,
    check_name,
    drop_scenario,
    keep_scenario,
    scenarios_in,
)
from scoring.page import text
from scoring.page.state.moved import moves_of, note_moves, put_moves
from scoring.page.state.own import WRONG, change, own, plain, records, wrong_at
from scoring.page.state.place import own_folder
from scoring.page.state.shared import shared
from scoring.page.state.what_if import said_of
from scoring.page.state.work import as_moved, draws
from scoring.words.figures import figure, joined
from scoring.words.keys import WORDS

NOW = "as it stands"
MOST_ROWS = 12


def scenarios(files, brief):
    """Draw the scenarios that are kept, and two of them against each other."""
    text.heading("Scenarios", "Name how the case stands now; change it; compare.")
    left, right = st.columns([3, 1], vertical_alignment="bottom")
    with left:
        st.text_input(
            "Name, such as alone, with a helper, price −10 %", key="scenario_name"
        )
    with right:
        st.button("Keep it", key="keep_scenario", on_click=_keep)
    if wrong_at("scenario"):
        text.wrong(wrong_at("scenario"))
    held = _held()
    if held:
        against(held)


def _held():
    """Return {name: Scenario} of those kept."""
    folder = own_folder()
    if folder is None:
        return st.session_state.get("own_scenarios", {})
    return scenarios_in(folder)


def _keep():
    name = st.session_state["scenario_name"].strip()
    wrong = st.session_state.setdefault(WRONG, {})
    wrong.pop("scenario", None)
    try:
        check_name(name)
        folder = own_folder()
        if folder is None:
            held = st.session_state.setdefault("own_scenarios", {})
            held[name] = now()
        else:
            keep_scenario(folder, name, own(), now().moved)
    except ScoringError as error:
        wrong["scenario"] = plain(error)
        return
    st.session_state["scenario_name"] = ""


def now():
    """Return the case as it stands, with what is supposed, as a Scenario."""
    base = st.session_state.get("seeded_for")
    if base is not None:
        note_moves(base)
    return Scenario(own(), None, moves_of(records().brief))


def against(held):
    """Draw two scenarios: what differs in what was told, and in places."""
    names = [NOW, *held]
    left, right = st.columns(2)
    for column, key, usual in ((left, "scenario_a", 1), (right, "scenario_b", 0)):
        with column:
            if st.session_state.get(key) not in names:
                st.session_state[key] = names[usual]
            st.selectbox(
                "This" if usual else "against",
                names,
                key=key,
                persist_state="session",
            )
    every = {NOW: now()} | held
    chosen = [st.session_state["scenario_a"], st.session_state["scenario_b"]]
    if chosen[0] == chosen[1]:
        text.note("Choose two different ones.")
    else:
        both = [every[name] for name in chosen]
        sides = [_evaluated(each) for each in both]
        told(chosen, [each.case for each in both], [side and side[1] for side in sides])
        places(chosen, sides)
    with st.container(horizontal=True):
        for name in held:
            st.button(
                text.escaped(f"Go back to “{name}”"),
                key=f"back_{name}",
                on_click=_back,
                args=(held[name],),
            )
            st.button(
                text.escaped(f"Delete “{name}”"),
                key=f"gone_{name}",
                on_click=_gone,
                args=(name,),
            )


def _back(scenario):
    """Bring a scenario back, with what was supposed then."""
    if change(lambda _: scenario.case, "scenario"):
        put_moves(records().brief, scenario.moved)


def _gone(name):
    folder = own_folder()
    if folder is None:
        st.session_state.get("own_scenarios", {}).pop(name, None)
    else:
        drop_scenario(folder, name)


def told(names, cases, supposed):
    """Draw what two cases say differently, and what is supposed in each."""
    rows = [
        [_where(where, path), before or "not told", after or "not told"]
        for where, path, before, after in changes_between(*cases)
    ]
    if None not in supposed and supposed[0] != supposed[1]:
        rows.insert(0, ["supposed", *(joined(each) or "nothing" for each in supposed)])
    if not rows:
        text.say("Both say the same.")
        return
    text.table(["what was changed", *names], rows[:MOST_ROWS], label="what was changed")
    if len(rows) > MOST_ROWS:
        with st.expander(f"{len(rows) - MOST_ROWS} more changes"):
            text.table(["", *names], rows[MOST_ROWS:], label="more changes")


def _where(where, path):
    parts = [
        WORDS.get(part, part.replace("_", " ")) for part in path.split(".") if part
    ]
    owner = [] if where == "brief" else [where.rpartition(".")[0]]
    return ": ".join([*owner, *(part for part in parts if part not in ("", "work"))])


def places(names, sides):
    """Draw each machine's place and what it leaves in a year, in both."""
    if None in sides:
        text.note("One of them cannot be ranked yet: it has no machine, or a fault.")
        return
    sides = [evaluation for evaluation, _ in sides]
    machines = dict.fromkeys(name for side in sides for name in side.names)
    rows = [[name, *(_place(side, name) for side in sides)] for name in machines]
    text.table(["place, and left in a year", *names], rows, label="places")


def _evaluated(scenario):
    """Return (Evaluation, what is supposed), None where it cannot be ranked."""
    case = scenario.case
    key = (case.brief, tuple(case.sheets.items()), tuple(case.files.items()))
    key += (case.retired, json.dumps(scenario.moved, sort_keys=True))
    try:
        return shared("scenario", (), key, lambda: _run(scenario))
    except ScoringError:
        return None


def _run(scenario):
    found = read(scenario.case)
    base = evaluate(found.brief, found.machines, n_draws=draws())
    return as_moved(base, scenario.moved), said_of(base, scenario.moved)


def _place(evaluation, name):
    """Return a machine's place and its year's result in words."""
    if name not in evaluation.names:
        return "not there"
    k = evaluation.index(name)
    unit = f"{evaluation.brief.currency}/year"
    result = figure(float(at(evaluation, k).year.result), unit)
    if not evaluation.is_ranked[k]:
        return f"ruled out, {result}"
    return f"place {int(evaluation.rank_weighted_sum[k])}, {result}"
