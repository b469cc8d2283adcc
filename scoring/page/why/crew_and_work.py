"""The controls of who goes to the site and how many jobs come."""

import streamlit as st

from scoring.page import text
from scoring.page.state.work import crews_of, most_jobs, reset_work
from scoring.words.what_if import crew


def work_controls(brief):
    """Draw the switch for the crew and a slider for each type of job."""
    text.heading("Your crew, and jobs a month")
    st.radio(
        "Who goes to the site",
        crews_of(brief),
        format_func=crew,
        key="crew",
        horizontal=True,
        persist_state="session",
    )
    for n, job in enumerate(brief.work):
        st.slider(
            text.escaped(job.name),
            0.0,
            most_jobs(job),
            step=0.1,
            format="%.1f",
            key=f"jobs_{n}",
            persist_state="session",
        )
    st.button(
        "Back to the brief",
        key="reset_work",
        on_click=reset_work,
        args=(brief,),
    )
