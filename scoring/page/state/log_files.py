"""The job log and the frozen prediction of a case: sent once, there after a reload."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.job_log import load_job_log
from scoring.inputs.prediction import load_prediction

LOG, PREDICTION = "job_log_done", "job_log_prediction"  # (record, what is wrong)
READERS = {LOG: load_job_log, PREDICTION: load_prediction}
RAW = "job_log_raw"  # {LOG or PREDICTION: (name, bytes)} of what is read
MOST_BYTES = 2_100_000  # of a file that is kept over a reload: all that may be sent


def held(kind):
    """Return (the JobsDone or PredictionFile there is or None, what was wrong)."""
    return st.session_state.get(kind, (None, ""))


def name_of(kind):
    """Return the name of the file that is there, "" without one."""
    return _raw().get(kind, ("", b""))[0]


def take(kind, name, data, keeps_before=False):
    """Read a file; what is wrong with it is kept to be said.

    `keeps_before`: whether what was read before stays then.
    """
    before, _ = held(kind)
    try:
        st.session_state[kind] = READERS[kind]((name, data)), ""
        _raw()[kind] = name, data
    except ScoringError as error:
        st.session_state[kind] = before if keeps_before else None, str(error)
        if not keeps_before:
            _raw().pop(kind, None)


def leave(kind):
    """Leave a file out again."""
    st.session_state[kind] = None, ""
    _raw().pop(kind, None)


def kept_files():
    """Return [kind, name, data as hex] of the files to be kept over a reload."""
    return [
        [kind, name, data.hex()]
        for kind, (name, data) in _raw().items()
        if len(data) <= MOST_BYTES
    ]


def is_kept(kind):
    """Return whether a file is small enough to be kept over a reload."""
    return len(_raw().get(kind, ("", b""))[1]) <= MOST_BYTES


def set_kept(files):
    """Read the files that were kept; what cannot be read any more is left out."""
    for kind, name, data in files:
        if kind in READERS:
            take(kind, name, bytes.fromhex(data))
            if held(kind)[0] is None:
                leave(kind)


def _raw():
    return st.session_state.setdefault(RAW, {})
