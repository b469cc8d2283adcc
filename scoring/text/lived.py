"""Predicted against lived as text."""

from textwrap import fill

from scoring.text.layout import WIDTH, columns
from scoring.words.lived import (
    BIAS_HEAD,
    LIVED_HEAD,
    MEANING,
    bias_rows,
    lived_rows,
    not_scored,
    verdict,
)


def lived_text(found, card):
    """Return one prediction as it came out; `card` is the report card of it alone."""
    record = found.prediction
    jobs = "1 job" if found.n_jobs == 1 else f"{found.n_jobs} jobs"
    parts = [
        f"{record.machine}: predicted {record.frozen}, {jobs} since",
        fill(verdict(card), WIDTH),
        columns([LIVED_HEAD, *lived_rows(found)], "<"),
        fill(not_scored(found), WIDTH),
        fill(MEANING, WIDTH),
    ]
    return "\n\n".join(filter(None, parts))


def card_text(card):
    """Return the report card of many predictions."""
    parts = [
        fill(verdict(card), WIDTH),
        columns([BIAS_HEAD, *bias_rows(card)], "<>>><"),
        fill(MEANING, WIDTH),
    ]
    return "\n\n".join(parts)
