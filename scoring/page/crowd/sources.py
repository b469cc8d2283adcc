"""Where many buyers come from: a template worked out here, or files of a long run."""

import streamlit as st

from scoring.inputs.machine_folder import sheets_in
from scoring.inputs.template_files import load_template
from scoring.page import text
from scoring.page.state.files import profiles
from scoring.page.state.memory import keep, remembered
from scoring.page.state.shared import shared

NUMBERS = (200, 500, 1_000, 2_000)
DRAWS = 60  # of each buyer: more take a command line's time


def sent():
    """Return the Population of files that were sent, None where none were."""
    from scoring.population.buyers import population_of
    from scoring.population.folder import columns_of

    with st.expander("Open a long run: the files of its folder"):
        text.note(
            "`python -m scoring population TEMPLATE --buyers 10000 --out FOLDER` works "
            "out many more; send all files of that folder."
        )
        found = st.file_uploader(
            "Files", ["json", "parquet"], accept_multiple_files=True, key="crowd_files"
        )
    if not found:
        return None
    ids = tuple(each.file_id for each in found)

    def read():
        return population_of(*columns_of({f.name: f.getvalue() for f in found}))

    return remembered("crowd_sent", (), ids, read)


def asked_for(files):
    """Return the Population of the template chosen; None until it is asked for."""
    from scoring.population.run import worked_here
    from scoring.population.unit import Task

    source = _template()
    if source is None:
        text.say("There is no template here; send one.")
        return None
    crowd = remembered("crowd_template", (), source, lambda: load_template(source))
    text.say(
        f"{crowd.title}. They differ in: {', '.join(d.name for d in crowd.differ)}."
    )
    keep("crowd_number", NUMBERS, NUMBERS[1])
    left, right = st.columns([3, 2], vertical_alignment="bottom")
    n_buyers = left.select_slider("How many buyers", NUMBERS, key="crowd_number")
    sheets = tuple((m.source, m.text.encode()) for m in files.machines)
    task = Task(source, sheets, DRAWS, 1)
    if right.button("Work them out", key="crowd_go", type="primary"):
        st.session_state["crowd_asked"] = (task, n_buyers)
    asked = st.session_state.get("crowd_asked")
    if asked is None:
        return None
    if asked != (task, n_buyers):
        text.note("Worked out for what was asked last; press the button for this.")
    bar = st.empty()

    def made():
        told = bar.progress(0.0, "Working them out …")
        return worked_here(*asked, lambda share: told.progress(min(share, 1.0)))

    population = shared("crowd", (), asked, made)
    bar.empty()
    return population


def _template():
    """Return (name, bytes) of the template chosen or sent, None where there is none."""
    folder = profiles() / "populations"
    paths = sheets_in(folder) if folder.is_dir() else []
    known = {path.name: path for path in paths}
    up = st.file_uploader("A template of your own", ["yaml", "yml"], key="crowd_yaml")
    if up is not None:
        return up.name, up.getvalue()
    if not known:
        return None
    keep("crowd_template", list(known), next(iter(known)))
    name = st.selectbox("Template", list(known), key="crowd_template")
    return name, known[name].read_bytes()
