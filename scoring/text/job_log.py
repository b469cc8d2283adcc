"""A job log as text."""

from textwrap import fill

from scoring.questions.job_log import BRIEF, SHEET
from scoring.text.layout import WIDTH, cautions_text, columns
from scoring.words.job_log import (
    CHANGES_HEAD,
    FEW_JOBS,
    FILES,
    LEARNT_HEAD,
    NOT_YET,
    SEEN_HEAD,
    change_rows,
    heading,
    in_short,
    kept_in_words,
    learnt_of_sellers,
    learnt_rows,
    reckoned,
    seen_rows,
)


def job_log_text(found, written=()):
    """Return what a log tells and what it would change; `written` are files made."""
    parts = [heading(found), fill(in_short(found), WIDTH)]
    parts.append(columns([SEEN_HEAD, *seen_rows(found)], "<"))
    parts.append(fill(FEW_JOBS, WIDTH))
    for file in (SHEET, BRIEF):
        rows = change_rows(found, file)
        if rows:
            head = (f"{FILES[file]}: {CHANGES_HEAD[0]}", *CHANGES_HEAD[1:])
            parts.append(columns([head, *rows], "<<<"))
    if found.claims:
        parts.append(claims_text(found.claims))
    notes = [
        fill(f"- {said}", WIDTH, subsequent_indent="  ")
        for said in kept_in_words(found)
    ]
    if notes:
        parts.append("\n".join(["Left as it is:", *notes]))
    parts.append("\n".join(written) if written else fill(NOT_YET, WIDTH))
    return "\n\n".join([*parts, cautions_text(("money",))])


def claims_text(claims, with_sellers=False):
    """Return what was learnt of claims, and what a quoted figure now counts as."""
    parts = [columns([LEARNT_HEAD, *learnt_rows(claims)], "<<<")]
    parts.append("\n".join(reckoned(kind, one) for kind, one in claims.items()))
    if with_sellers:
        head = ("seller of", "figures of", "timed as a share of claimed")
        parts.append(columns([head, *learnt_of_sellers(claims)], "<<<"))
    return "\n\n".join(parts)
