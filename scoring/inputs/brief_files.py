"""A brief, with the artwork and leads that lie beside it."""

import os
from functools import partial
from pathlib import Path

from scoring.errors import InputFault, InputFaults, shown
from scoring.inputs.brief import Brief
from scoring.inputs.brief_checks import check_brief
from scoring.inputs.dimensions import NUMBER
from scoring.inputs.faults import load
from scoring.inputs.files import beside
from scoring.inputs.leads import matched, mix, months_spanned
from scoring.inputs.leads_file import load_leads
from scoring.inputs.picture_file import BLANKS, load_artwork
from scoring.inputs.quantity import STATED, Quantity

BRIEF = "brief.yaml"  # in the folder of a case


def is_case(source):
    """Return whether a path is a folder that holds the brief of a case."""
    is_path = not isinstance(source, tuple)
    return is_path and os.path.isfile(os.path.join(source, BRIEF))


def load_brief(source, files=None):
    """Return the Brief of a path, or of (name, bytes); InputFaults if it has faults.

    Artwork and leads that it names lie beside a file that has a path. A folder stands
    for the brief of the case in it.

    Parameters
    ----------
    files : {name: bytes}, optional
        What lies beside a brief that has no path.
    """
    if is_case(source):
        source = Path(source) / BRIEF
    context = {"is_buyers_own": True}
    brief, document = load(Brief, source, context, check_brief)
    brief = brief.keep(document)
    folder = None if isinstance(source, tuple) else Path(source).parent
    folder = folder if files is None else files
    faults = []
    for j, job in enumerate(brief.work):
        if job.artwork is not None:
            key, name = f"work.{j}.artwork", job.artwork
            blank = BLANKS[job.underbase]  # what is white is printed over an underbase
            read = partial(load_artwork, blank=blank)
            picture = _beside(brief, folder, key, name, read, faults)
            brief = with_picture(brief, j, picture)
    if brief.leads is not None:
        leads = _beside(brief, folder, "leads", brief.leads, load_leads, faults)
        if leads:
            brief = _try_leads(brief, leads, faults)
    if faults:
        raise InputFaults(faults)
    return brief


def _beside(brief, folder, key, name, read, faults):
    """Return what a file beside the brief holds; None, with faults, if it cannot.

    `folder` is a path, {name: bytes}, or None.
    """

    def refuse(what, allowed):
        what = f"{shown(name)} is not {what}"
        faults.append(InputFault(brief.source, brief.line_of(key), key, what, allowed))

    if isinstance(folder, dict):
        if name not in folder:
            return refuse("in the case", "a file of the case")
        return _read((name, folder[name]), read, faults)
    if folder is None:
        allowed = "leave it out here and add the file on the page"
        return refuse("at hand with an uploaded brief", allowed)
    try:
        path = beside(folder, name)
    except (OSError, ValueError, RuntimeError):  # outside, no path, links in a ring
        return refuse("in the brief's folder", "a file there, or in a folder below it")
    return _read(path, read, faults)


def _read(source, read, faults):
    try:
        return read(source)
    except InputFaults as found:
        faults += found.faults
        return None


def _try_leads(brief, leads, faults):
    try:
        return with_leads(brief, leads)
    except InputFaults as found:
        faults += found.faults
        return brief


def with_picture(brief, j, inked):
    """Return the brief with a kind of job's artwork: bool (h, w), None for none."""
    pictures = {k: v for k, v in brief.pictures.items() if k != j}
    changed = brief.model_copy()
    changed._pictures = pictures if inked is None else {**pictures, j: inked}
    return changed


def with_leads(brief, leads):
    """Return the brief with its jobs a month from leads; InputFaults if they are none.

    Leads without a job type get the one nearest in size; they stand for the months that
    they span.
    """
    leads = matched(
        leads, {j.name: (j.width.likely, j.height.likely) for j in brief.work}
    )
    names = [job.name for job in brief.work]
    per_month = mix(leads, names, months_spanned(leads))
    text = f"from {len(leads)} leads"
    work = [
        job.model_copy(update={"per_month": _from_leads(number, text)})
        for job, number in zip(brief.work, per_month.tolist(), strict=True)
    ]
    changed = brief.model_copy(update={"work": tuple(work)})
    changed._leads = tuple(leads)
    return changed


def _from_leads(number, text):
    kind, bounds = NUMBER.kind, NUMBER.bounds
    return Quantity(number, number, number, "", kind, STATED, bounds, text)
