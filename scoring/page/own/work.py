"""Work in a case of one's own: a card for each kind of job, leads, artwork, and you."""

import streamlit as st

from scoring.inputs.brief import Brief, JobType
from scoring.inputs.case.edit import REMOVED, at
from scoring.inputs.case.fields import fields_of
from scoring.inputs.case.starter import assumptions
from scoring.page import text
from scoring.page.own.entry import Edited, entry, place_of
from scoring.page.own.judged import judged
from scoring.page.own.leads import own_leads
from scoring.page.own.more_work import aids, size_bands, used_machines
from scoring.page.own.pictures import own_artwork
from scoring.page.own.rigs import own_rigs
from scoring.page.state.folds import fold
from scoring.page.state.jobs import mean_jobs
from scoring.page.state.memory import keep
from scoring.page.state.own import change, wrong_at
from scoring.words.evidence import counted_as_nothing
from scoring.words.figures import number
from scoring.words.keys import WORDS, in_words

FEW = ("name", "per_month", "basis", "width", "height", "walls")
FEW += ("price.per_m2", "price.minimum", "price.per_job", "distance")
LABELS = {"name": "Its name", "per_month": "Jobs a month", "basis": "They are"}
LABELS |= {"price.per_m2": "Price by area", "price.minimum": "At least"}
LABELS |= {"price.per_job": "Or price for the job", "walls": "Walls a job"}
MORE_CAUTIONS = ("wall", "height", "odour")
SECTIONS = {
    "crew": "Who goes, and what you lift",
    "working_time": "Hours and days",
    "money": "Money",
    "travel": "The way to the client",
    "vehicle": "Your vehicle",
    "payment": "How the machine is paid for",
    "trade": "How work comes, is learned and is paid",
    "limits": "Limits",
    "bank": "What a lender asks",
    "also": "Other ways than buying",
}
CAUTIONS_OF = {"crew": ("lifting",), "vehicle": ("van",), "money": ("money",)}
BESIDE = {"trade": ("demand", "work_order")}
BESIDE_SAID = {"demand": "Of these jobs come", "work_order": "Where days run short"}
LISTS = {"crew": aids, "also": used_machines}
HELP = {
    "trade.seasonality": "Twelve numbers, January first, a space between: 0,6 is a "
    "month with 6 of 10 usual jobs.",
    "demand": "Of the jobs you tell, how many come: 1 is all. A thin year is thin for "
    "all kinds.",
}
APART = ("artwork", "leads")  # files, which have places of their own


def own_work(brief):
    """Draw the forms of the open Case's brief."""
    sheet = Edited()
    jobs(sheet, brief)
    fold("Your leads", "own_leads", lambda: own_leads(brief))
    fold("Artwork", "own_artwork", lambda: own_artwork(brief))
    st.page_link("scoring/page/log/screen.py", label="Jobs done ▸")
    text.heading("You")
    for key, words in SECTIONS.items():
        fold(words, f"own_{key}", lambda key=key: section(sheet, brief, key))
    fold("Rigs that you have", "own_rigs", lambda: own_rigs(sheet, brief))
    fold("How machines are judged", "own_judged", lambda: judged(sheet))
    n = len(assumptions(sheet.text))
    fold(f"What is assumed ({n})", "own_assumed", lambda: assumed(sheet, brief))


def jobs(sheet, brief):
    """Draw the kinds of job as cards, and the form of the one chosen."""
    text.heading("Your work", "Touch a kind of job to change it.")
    names = [job.name for job in brief.work]
    cards = [_card(job) for job in brief.work]
    text.cards(cards)
    keep("own_job", names, names[0])
    st.pills(
        "Kind of job",
        names,
        key="own_job",
        format_func=text.escaped,
        label_visibility="collapsed",
        persist_state="session",
    )
    j = names.index(st.session_state["own_job"])
    job_form(sheet, brief, j)
    text.say(counted_as_nothing(brief))
    with st.container(horizontal=True):
        st.button("Add a kind of job", key="add_job", on_click=_add, args=(names,))
        if len(names) > 1:
            st.button("Take this one away", key="drop_job", on_click=_drop, args=(j,))
    if wrong_at("drop_job"):
        text.wrong(wrong_at("drop_job"))


def _card(job):
    """Return (name, lines) of a kind of job."""
    price = job.price
    asked = price.per_job or price.per_m2
    by_size = "by size" if price.bands else ""
    return job.name, [
        f"{job.width.text} × {job.height.text}"
        + (f", {job.walls} walls" if job.walls > 1 else ""),
        f"{number(mean_jobs(job), 2)} a month, {BASIS[job.basis]}",
        asked.text if asked is not None else by_size,
    ]


BASIS = {"sold": "sold", "enquiries": "asked for", "guess": "hoped for"}


def job_form(sheet, brief, j):
    """Draw the few fields of a kind of job that matter most; the rest folds."""
    place, job = f"work.{j}.", brief.work[j]
    by_path = {field.path: field for field in fields_of(JobType)}
    with st.container(border=True, key="job_form"):
        columns = []
        for n, path in enumerate(FEW):
            with place_of(columns, n, 3):
                label = LABELS.get(path) or _label(job, path)
                entry(sheet, by_path[path], label, place, _key(j, path))
        rest = [path for path in by_path if path not in (*FEW, *APART)]
        fold("More", "own_job_more", lambda: _more(sheet, job, place, rest, by_path, j))


def _more(sheet, job, place, paths, by_path, j):
    columns = []
    for n, path in enumerate(paths):
        with place_of(columns, n, 3):
            entry(sheet, by_path[path], _label(job, path), place, _key(j, path))
    size_bands(sheet, j)
    text.caution(*MORE_CAUTIONS)


def _key(j, path):
    return f"own_job_{j}_{path}"


def _label(record, path):
    """Return what a field is called, its first letter large."""
    said = WORDS.get(path.rpartition(".")[2]) or in_words(record, path)
    return said[:1].upper() + said[1:]


def section(sheet, brief, key):
    """Draw one part of the brief as fields."""
    fields = [
        field
        for field in fields_of(Brief)
        if field.path.startswith(f"{key}.") or field.path in BESIDE.get(key, ())
    ]
    columns = []
    names = [job.name for job in brief.work]
    for n, field in enumerate(fields):
        with place_of(columns, n, 3):
            choices = names if field.path == "limits.must_serve" else None
            label = _of_section(field.path, key)
            entry(sheet, field, label, choices=choices, help=HELP.get(field.path))
    if key in LISTS:
        LISTS[key](sheet)
    if key in CAUTIONS_OF:
        text.caution(*CAUTIONS_OF[key])


def _of_section(path, key):
    """Return a field's label: its words, with what it belongs to within the part."""
    if path in BESIDE_SAID:
        return BESIDE_SAID[path]
    parts = path.removeprefix(f"{key}.").split(".")
    said = ": ".join(WORDS.get(part, part.replace("_", " ")) for part in parts)
    return said[:1].upper() + said[1:]


def assumed(sheet, brief):
    """Draw every figure that nobody told, each in a field that takes another."""
    paths = assumptions(sheet.text)
    if not paths:
        text.say("Nothing: every figure is your own.")
        return
    text.note("Our own estimates [e], until you type yours over them.")
    columns = []
    of_job = {field.path: field for field in fields_of(JobType)}
    of_brief = {field.path: field for field in fields_of(Brief)}
    for n, path in enumerate(paths):
        place, rest = _split(path)
        field = (of_job if place else of_brief)[rest]
        with place_of(columns, n, 3):
            said = in_words(brief, path).removeprefix("work: ")
            label = said[:1].upper() + said[1:]
            entry(sheet, field, label, place, key=f"assumed_{path}")


def _split(path):
    """Return (where the kind of job stands or "", the rest of the path)."""
    parts = path.split(".")
    if parts[0] != "work":
        return "", path
    return ".".join(parts[:2]) + ".", ".".join(parts[2:])


def _add(names):
    """Add a kind of job of a usual size, marked as assumed."""
    from scoring.inputs.case.record import with_brief
    from scoring.inputs.case.starter import new_job

    n = len(names)
    new = (f"wall {k}" for k in range(n + 1, 2 * n + 3))
    name = next(each for each in new if each not in names)
    made = {f"work.{n}": new_job(name, Edited().data)}
    if change(lambda case: with_brief(case, made), "drop_job"):
        st.session_state["own_job"] = name


def _drop(j):
    """Take a kind of job away, and out of what must be served."""
    from scoring.inputs.case.record import with_brief

    sheet = Edited()
    name = at(sheet.data, f"work.{j}.name")
    must = [each for each in at(sheet.data, "limits.must_serve", []) if each != name]
    changes = {f"work.{j}": REMOVED}
    if at(sheet.data, "limits.must_serve"):
        changes["limits.must_serve"] = must or REMOVED
    change(lambda case: with_brief(case, changes), "drop_job")
