"""Rigs that the buyer has: which machine, how old, what is still owed on it."""

import streamlit as st

from scoring.inputs.brief import Owned
from scoring.inputs.case.edit import REMOVED
from scoring.inputs.case.fields import fields_of
from scoring.page import text
from scoring.page.own.entry import Edited, entry
from scoring.page.state.own import records, wrong_at
from scoring.words.keys import WORDS

LABELS = {"machine": "Machine", "age": "Age, years", "resale": "Sells for today"}


def own_rigs(sheet, brief):
    """Draw each rig's fields, and the way to add one."""
    of = records()
    names = [machine.name for machine in of.machines]
    if not names:
        text.say("Type the machine's sheet on the screen Machines first.")
        return
    for k, rig in enumerate(brief.owned):
        with st.container(border=True, key=f"rig_{k}"):
            st.markdown(f"**{text.escaped(rig.machine)}**")
            columns = st.columns(4)
            fields = [f for f in fields_of(Owned) if f.path != "machine"]
            for column, field in zip(columns, fields, strict=False):
                with column:
                    said = WORDS.get(field.path, field.path.replace("_", " "))
                    label = LABELS.get(field.path) or said[:1].upper() + said[1:]
                    entry(
                        sheet, field, label, f"owned.{k}.", f"own_rig_{k}_{field.path}"
                    )
            st.button("Take it away", key=f"drop_rig_{k}", on_click=_drop, args=(k,))
    left, right = st.columns([3, 1], vertical_alignment="bottom")
    with left:
        st.selectbox("Machine that you run", names, key="rig_to_add")
    with right:
        st.button("I have this rig", key="add_rig", on_click=_add, args=(brief,))
    if wrong_at("rigs"):
        text.wrong(wrong_at("rigs"))


def _add(brief):
    k, name = len(brief.owned), st.session_state["rig_to_add"]
    rigs = {f"owned.{k}": {"machine": name, "age": 1}} if k else {}
    first = {"owned": [{"machine": name, "age": 1}]}
    Edited().apply(rigs or first, "rigs")


def _drop(k):
    Edited().apply({f"owned.{k}": REMOVED}, "rigs")
