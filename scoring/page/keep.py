"""The screen "Save and compare": the case as one file, its versions, its scenarios."""

import streamlit as st

from scoring.inputs.case.fields import TEXT, FormField
from scoring.inputs.case.zipped import zipped
from scoring.page import text
from scoring.page.own.cases import deleting, kept_here, said_deleted
from scoring.page.own.entry import Edited, entry
from scoring.page.own.opened import open_file
from scoring.page.own.scenarios import scenarios
from scoring.page.state.files import header, loaded
from scoring.page.state.kept import page_of
from scoring.page.state.memory import echo
from scoring.page.state.own import own, step_back, steps_back
from scoring.page.state.place import folder

TITLE = FormField("title", TEXT, is_required=True)


def main():
    """Draw the screen."""
    files = loaded()
    brief, _ = header(files, "Save and compare", needs_machines=False)
    said_deleted()
    if own() is None:
        text.say("The example is open: nothing of it is yours to save.")
        st.page_link("scoring/page/start/screen.py", label="Start your own case ▸")
    else:
        saving(brief)
        scenarios(files, brief)
    text.heading("Open")
    open_file()
    kept_here()
    if own() is not None:
        deleting(brief)
    echo(is_own=own() is not None)


def saving(brief):
    """Draw the case as one file, and the way back."""
    if folder() is None:
        text.say(
            "Nothing is written on this computer: it is hosted for others. Save your "
            "case as a file before you close the page."
        )
    else:
        text.say(
            "Each change is kept at once on this computer. The address above brings it "
            "back: keep it to yourself, who has it has the case."
        )
    entry(Edited(), TITLE, "Name of this case")
    with st.container(horizontal=True):
        st.download_button(
            "Save my case (.zip)",
            zipped(own(), page_of(brief)),
            "case.zip",
            "application/zip",
            key="save_case",
            on_click="ignore",
            type="primary",
        )
        n = steps_back()
        st.button(
            f"Undo the last change ({n})" if n else "Nothing to undo",
            key="undo_change",
            on_click=step_back,
            disabled=not n,
        )


main()
