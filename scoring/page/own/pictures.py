"""Artwork of each kind of job: dropped in; what skipping empty areas saves on it."""

from dataclasses import replace

import streamlit as st

from scoring.inputs.case.edit import REMOVED, edited
from scoring.inputs.case.record import checked, file_name
from scoring.page import text
from scoring.page.state.files import loaded
from scoring.page.state.memory import keep
from scoring.page.state.own import change, wrong_at
from scoring.page.state.work import ranked
from scoring.questions.skipped_artwork import drawing, savings, strip_of
from scoring.words.figures import figure


def own_artwork(brief):
    """Draw the choice of a kind of job, and its artwork."""
    names = [job.name for job in brief.work]
    keep("artwork_job", names, names[min(brief.pictures, default=0)])
    st.selectbox("Kind of job", names, key="artwork_job", persist_state="session")
    j = names.index(st.session_state["artwork_job"])
    st.file_uploader(
        "Its artwork (PNG, JPEG or SVG)",
        type=["png", "jpg", "jpeg", "svg"],
        key=f"upload_art_{j}",
        on_change=_take,
        args=(j, names[j]),
    )
    if wrong_at("artwork"):
        text.wrong(wrong_at("artwork"))
    if j not in brief.pictures:
        st.caption("No artwork yet: the share left empty is the one told above.")
        return
    st.button("Take it away", key="drop_artwork", on_click=_drop, args=(j,))
    files = loaded()
    base = ranked(files, brief)
    if base is not None:
        saved(base, j)


def saved(evaluation, j):
    """Draw the strips, and the minutes saved on each machine."""
    inked = evaluation.brief.pictures[j]
    width_m = float(evaluation.figures.jobs.width_m[0, 0, j])
    st.image(
        drawing(inked, width_m, strip_of(evaluation, evaluation.order[0])),
        caption="Dark: ink. Yellow: travel without ink. Blue: travel that a machine "
        "which skips empty areas saves. In strips of the first machine's width.",
        alt="The artwork in strips, each with the part of it that is travelled.",
    )
    rows = [
        [
            saving.name,
            figure(saving.share, "share"),
            figure(saving.minutes, "min"),
            "yes" if saving.is_skipping else "no: would save",
        ]
        for saving in savings(evaluation, j)
    ]
    head = ["machine", "of the travel is empty", "minutes saved a job", "skips it"]
    with st.expander("What each machine would save"):
        text.table(head, rows, [1, 2], "minutes saved by skipping empty areas")


def _take(j, name):
    sent = st.session_state[f"upload_art_{j}"]
    if sent is None:
        return
    stem = file_name(name).removesuffix(".yaml")
    end = sent.name.rpartition(".")[2].lower()
    path, data = f"artwork/{stem}.{end}", sent.getvalue()

    def taken(case):
        brief = edited(case.brief, {f"work.{j}.artwork": path})
        return checked(replace(case, brief=brief, files=case.files | {path: data}))

    change(taken, "artwork")


def _drop(j):
    def dropped(case):
        return checked(
            replace(case, brief=edited(case.brief, {f"work.{j}.artwork": REMOVED}))
        )

    change(dropped, "artwork")
