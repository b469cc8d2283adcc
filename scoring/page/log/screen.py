"""The screen "Jobs done": what a job log tells, changes, and makes of predictions."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.job_log import job_log_template
from scoring.page import text
from scoring.page.log.predicted import predicted
from scoring.page.log.taking_over import taking_over
from scoring.page.state.files import header, loaded
from scoring.page.state.folds import fold
from scoring.page.state.log_files import LOG, held, is_kept, leave, name_of, take
from scoring.page.state.memory import echo, keep, remembered
from scoring.questions.job_log import from_log
from scoring.words.job_log import (
    FEW_JOBS,
    LEARNT_HEAD,
    SEEN_HEAD,
    heading,
    in_short,
    kept_in_words,
    learnt_rows,
    reckoned,
    seen_rows,
)

WHAT = (
    "A row for each job: the day and the kind; minutes, ink and money where you have "
    "them. Ten jobs already tell something."
)


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "Jobs done")
    if brief is None or not files.machines:
        echo()
        return
    names = [machine.name for machine in files.machines]
    keep("job_log_machine", names, names[0])
    st.selectbox(
        "The jobs were done with",
        names,
        key="job_log_machine",
        persist_state="session",
    )
    machine = files.machines[names.index(st.session_state["job_log_machine"])]
    done = log_sent(brief)
    if done is not None:
        try:
            told(done, machine, brief, names, is_us)
        except ScoringError as error:
            text.faults("This log does not go with that machine.", error)
    predicted(files, brief, machine, done, is_us)
    echo(job_log_machine=machine.name, job_log=None if done is None else len(done.rows))


def log_sent(brief):
    """Draw template and uploader; return the JobsDone sent, None without any."""
    text.say(WHAT)
    st.download_button(
        "A table to fill in (CSV)",
        job_log_template([job.name for job in brief.work]),
        "jobs-done.csv",
        "text/csv",
        key="download_job_log",
        on_click="ignore",
    )
    st.file_uploader(
        "Your table of jobs done (CSV or XLSX)",
        type=["csv", "xlsx"],
        key="upload_job_log",
        on_change=_take,
    )
    done, wrong = held(LOG)
    if done is not None:
        kept_log()
    if wrong:
        text.faults("This table cannot be used; what was read before stays.", wrong)
    return done


def kept_log():
    """Say which table is there, and offer to leave it out."""
    left, right = st.columns([3, 1], vertical_alignment="center")
    stays = "" if is_kept(LOG) else ": too large to be kept over a reload"
    with left:
        text.note(f"Read: {name_of(LOG)}{stays}")
    right.button("Leave it out", key="drop_job_log", on_click=leave, args=(LOG,))


def _take():
    sent = st.session_state["upload_job_log"]
    if sent is None:
        leave(LOG)
    else:
        take(LOG, sent.name, sent.getvalue(), keeps_before=True)


def told(done, machine, brief, names, is_us):
    """Draw what the log tells, and what it would change."""
    found = remembered(
        "job_log",
        (done, machine, brief),
        (),
        lambda: from_log(done, machine, brief, None, names),
    )
    text.heading(heading(found))
    text.say(in_short(found, is_us))
    taking_over(found)
    fold("All that the log tells", "job_log_seen", lambda: all_of_it(found, is_us))
    if found.claims:
        fold("What sellers' claims are worth", "job_log_claims", lambda: claims(found))
    if found.notes:
        fold("What it leaves as it is", "job_log_left", lambda: left(found))


def all_of_it(found, is_us):
    """Draw every figure of the log, with its interval."""
    text.note(FEW_JOBS)
    text.table(SEEN_HEAD, seen_rows(found, is_us), numbers=(1, 2, 3, 4))


def claims(found):
    """Draw what was learnt of sellers' claims."""
    text.table(LEARNT_HEAD, learnt_rows(found.claims), numbers=(1, 2))
    text.say(*(reckoned(kind, one) for kind, one in found.claims.items()))


def left(found):
    """Draw what the log tells and does not change."""
    text.say(*kept_in_words(found))


main()
