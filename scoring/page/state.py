"""What the page knows between runs: files, uploads, choices, evaluations."""

import html
import json
import os
from dataclasses import dataclass
from pathlib import Path

import streamlit as st

from scoring.answer.evaluation import evaluate
from scoring.errors import ScoringError
from scoring.inputs.brief_files import load_brief, with_leads, with_picture
from scoring.inputs.machine_folder import read_machine, same_names, sheets_in
from scoring.inputs.quantity import pert_mean
from scoring.page import text
from scoring.questions.changed import exactly, scaled

HERE = Path(__file__).parents[2]
METRIC, US = "metric", "US customary"


@dataclass(frozen=True)
class Loaded:
    """The files that the page works with, and what is wrong with the others."""

    briefs: dict  # file name → Brief, uploads last
    machines: tuple  # sorted by name
    faults: tuple[str, ...]


def profiles():
    """Return the folder of machine sheets and briefs."""
    return Path(os.environ.get("MURAL_PROFILES") or HERE / "profiles")


def loaded():
    """Return what is loaded: the files of the folder, and uploads over them."""
    folder = profiles()
    briefs, machines, faults = _read(str(folder), _stamp(folder))
    sent = st.session_state.setdefault("sent", {"brief": {}, "machine": {}})
    named = {machine.name: machine for machine in machines} | sent["machine"]
    return Loaded(
        briefs | sent["brief"],
        tuple(named[name] for name in sorted(named)),
        faults,
    )


def _stamp(folder):
    """Return what changes when a file of the folder does."""
    files = sorted(folder.glob("*/*.y*ml"))
    return tuple((str(p), p.stat().st_mtime_ns, p.stat().st_size) for p in files)


@st.cache_resource(show_spinner=False, max_entries=4)
def _read(folder, stamp):
    """Return (briefs by file name, machines, faults) of a folder in this state."""
    briefs, faults = _each(load_brief, Path(folder) / "briefs")
    machines, more = _each(read_machine, Path(folder) / "machines")
    doubles = same_names(machines)
    told = {fault.file for fault in doubles}
    machines = [machine for machine in machines if machine.source not in told]
    faults += [*more, *map(str, doubles)]
    by_file = {Path(brief.source).name: brief for brief in briefs}
    return by_file, tuple(machines), tuple(faults)


def _each(read, folder):
    """Return what could be read from the files of a folder, and faults as lines."""
    found, faults = [], []
    try:
        paths = sheets_in(folder)
    except ScoringError as error:
        return [], [str(error)]
    for path in paths:
        try:
            found.append(read(path))
        except ScoringError as error:
            faults.append(str(error))
    return found, faults


def header(files, title):
    """Draw what every screen starts with; return the Brief chosen and is_us.

    The Brief is None, with sentences on the screen, where none could be read.
    """
    st.subheader(title, anchor=False)
    if files.faults:
        heading = "Some files cannot be used; the others are loaded."
        text.faults(heading, "\n".join(files.faults))
    if not files.briefs:
        st.warning("There is no brief to work with; upload one on the work screen.")
        return None, False
    keep("brief", list(files.briefs), next(iter(files.briefs)))
    keep("units", [METRIC, US], METRIC)
    left, right = st.columns([3, 2], vertical_alignment="bottom")
    left.selectbox(
        "Brief: whose work the machines are ranked for",
        list(files.briefs),
        format_func=lambda name: files.briefs[name].title,
        key="brief",
        persist_state="session",
    )
    right.radio(
        "Units", [METRIC, US], key="units", horizontal=True, persist_state="session"
    )
    brief = with_own(files.briefs[st.session_state["brief"]])
    return brief, st.session_state["units"] == US


def with_own(brief):
    """Return the brief with the leads and the artwork that were added on the page."""
    own = added(brief)
    if not own:
        return brief
    return _remembered(
        "own", (brief, *own.values()), tuple(own), lambda: _own(brief, own)
    )


def _own(brief, own):
    for key, found in own.items():
        if key == "leads":
            brief = with_leads(brief, found)
        else:
            brief = with_picture(brief, int(key), found)
    return brief


def added(brief):
    """Return what was added on the page to a brief: {"leads" or a job's place: …}."""
    return st.session_state.setdefault("added", {}).get(brief.source, {})


def add(brief, key, found):
    """Add leads or artwork to a brief; None takes them away again."""
    own = {k: v for k, v in added(brief).items() if k != key}
    if found is not None:
        own[key] = found
    st.session_state["added"][brief.source] = own


def keep(key, allowed, default):
    """Make sure that a widget's value is one of those allowed."""
    if st.session_state.get(key) not in allowed:
        st.session_state[key] = default


def left_out(files):
    """Return the names of the loaded machines that the buyer does not consider."""
    names = {machine.name for machine in files.machines}
    return frozenset(st.session_state.get("left_out", frozenset()) & names)


def baseline(files, brief):
    """Return the Evaluation of the brief as it is written; it sets the scale.

    Raises
    ------
    ScoringError
        For what brief and machines say only together.
    """
    key = (brief, *files.machines)
    out = left_out(files)
    return _remembered(
        "baseline", key, out, lambda: evaluate(brief, files.machines, left_out=out)
    )


def asked(files, brief):
    """Return the Evaluation for the crew and the work as the controls stand.

    Raises
    ------
    ScoringError
        For what brief and machines say only together.
    """
    base = baseline(files, brief)
    seed(base)
    return changed(base, *work_chosen(brief))


def changed(base, people, jobs):
    """Return the Evaluation with another crew and other numbers of jobs a month.

    It keeps the scale of the brief as written, so that weights keep their meaning.
    """
    brief = _changed_brief(base.brief, people, jobs)
    if brief is base.brief:
        return base
    return _remembered(
        "changed",
        (base,),
        (people, jobs),
        lambda: evaluate(
            brief, base.machines, scale=base.scale, left_out=base.left_out
        ),
    )


def _remembered(name, objects, values, make):
    """Return what was made last for these very objects and equal values, or make it."""
    known = st.session_state.get(f"made_{name}")
    if known and known[1] == values and len(known[0]) == len(objects):
        if all(a is b for a, b in zip(known[0], objects, strict=True)):
            return known[2]
    made = make()
    st.session_state[f"made_{name}"] = (objects, values, made)
    return made


def _changed_brief(brief, people, jobs):
    """Return the brief with these people and jobs a month; itself if they are its."""
    if people == brief.crew.people and jobs == jobs_of(brief):
        return brief
    crew = brief.crew.model_copy(update={"people": people})
    work = tuple(map(_with_per_month, brief.work, jobs))
    return brief.model_copy(update={"crew": crew, "work": work})


def _with_per_month(job, per_month):
    """Return the job with so many a month on average, its range in proportion."""
    mean = _mean(job)
    if per_month == _shown_jobs(job):
        return job
    moved = scaled(job.per_month, per_month / mean) if mean else None
    moved = moved or exactly(job.per_month, per_month)
    return job.model_copy(update={"per_month": moved})


def _mean(job):
    n_jobs = job.per_month
    return pert_mean(n_jobs.low, n_jobs.likely, n_jobs.high)


def _shown_jobs(job):
    """Return the mean jobs a month as a slider shows them."""
    return round(_mean(job), 1)


def jobs_of(brief):
    """Return the mean jobs a month of each job type, as the sliders show them."""
    return tuple(map(_shown_jobs, brief.work))


def seed(base):
    """Set weights, crew and jobs to the brief's when it is first shown."""
    if st.session_state.get("seeded_for") is not base.brief:
        st.session_state["seeded_for"] = base.brief
        reset_weights(base)
        reset_work(base.brief)
        names = [base.names[k] for k in base.order]
        st.session_state["show_machine"] = names[0]


def reset_weights(base):
    """Set the points of all criteria back to the brief's weights."""
    for name, points in _brief_points(base).items():
        st.session_state[f"weight_{name}"] = _shown(points)


def _brief_points(base):
    """Return {criterion: the brief's weight in per cent}."""
    ids = [criterion.id for criterion in base.criteria]
    return dict(zip(ids, map(float, 100 * base.weights), strict=True))


def _shown(weight):
    """Return a weight as its slider shows it: a slider moves values off its steps."""
    return float(round(weight))


def points(base):
    """Return {criterion: points} as the sliders stand; only their proportions count.

    A slider that stands where the brief puts it means the brief's own weight, exactly.
    """
    chosen = {}
    for name, weight in _brief_points(base).items():
        slider = float(st.session_state[f"weight_{name}"])
        chosen[name] = weight if slider == _shown(weight) else slider
    return chosen


def sliders(base):
    """Return {key: value} of the sliders of the weights."""
    keys = (f"weight_{criterion.id}" for criterion in base.criteria)
    return {key: float(st.session_state[key]) for key in keys}


def reset_work(brief):
    """Set crew and jobs a month back to the brief's."""
    st.session_state["crew"] = brief.crew.people
    for n, per_month in enumerate(jobs_of(brief)):
        st.session_state[f"jobs_{n}"] = per_month


def work_chosen(brief):
    """Return (people, jobs a month of each type) as the controls stand."""
    jobs = tuple(float(st.session_state[f"jobs_{n}"]) for n, _ in enumerate(brief.work))
    return int(st.session_state["crew"]), jobs


def echo(**inputs):
    """Write the inputs that this run rendered, unseen, for whoever drives the page."""
    with st.container(key="echo"):
        st.html(echo_html(**inputs))


def echo_html(**inputs):
    """Return the inputs that this run rendered as HTML that is not seen."""
    shared = {key: st.session_state.get(key) for key in ("brief", "units")}
    said = html.escape(json.dumps(shared | inputs))
    return f'<div class="echo" data-echo="{said}" hidden></div>'


def upload(kind, read):
    """Draw an uploader; a file with faults leaves what was loaded in place."""
    st.file_uploader(
        f"Your own {kind} (YAML)",
        type=["yaml", "yml"],
        key=f"upload_{kind}",
        on_change=_take_upload,
        args=(kind, read),
    )
    note, wrong = st.session_state.get(f"uploaded_{kind}", ("", ""))
    if wrong:
        text.faults("This file cannot be used; what was loaded before stays.", wrong)
    elif note:
        text.say(note)


def _take_upload(kind, read):
    sent = st.session_state[f"upload_{kind}"]
    if sent is None:
        st.session_state[f"uploaded_{kind}"] = ("", "")
        return
    try:
        record = read((sent.name, sent.getvalue()))
    except ScoringError as error:
        st.session_state[f"uploaded_{kind}"] = ("", str(error))
        return
    if kind == "brief":
        name = f"{record.source} (uploaded)"
        st.session_state["brief"] = name
        note = f"Loaded and chosen: {record.title}"
    else:
        name = record.name
        note = f"Loaded, in place of any other sheet of this name: {name}"
    st.session_state["sent"][kind][name] = record
    st.session_state[f"uploaded_{kind}"] = (note, "")
