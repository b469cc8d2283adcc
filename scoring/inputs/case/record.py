"""A case: one buyer's brief, machine sheets, leads and artwork, as texts and bytes.

A change makes another Case, checked by the same readers as files are, so that a fault
is the same sentence whether it was typed into a form or written in a file.
"""

import re
from dataclasses import dataclass, field, replace

from scoring.errors import InputFaults, ScoringError
from scoring.inputs.brief_checks import without_rate
from scoring.inputs.brief_files import BRIEF, load_brief
from scoring.inputs.case.edit import at, data_of, edited
from scoring.inputs.case.in_step import brief_in_step, sheet_in_step
from scoring.inputs.machine_folder import MAX_SHEETS, read_machine, same_names

SHEET = re.compile(r"[a-z0-9][a-z0-9-]{0,60}\.ya?ml")


@dataclass(frozen=True)
class Case:
    """What a person works on.

    `sheets` are {file name: YAML}, `files` what the brief names, {name: bytes}.
    `retired` are the file names of sheets that are kept and take no part.
    """

    brief: str
    sheets: dict = field(default_factory=dict)
    files: dict = field(default_factory=dict)
    retired: frozenset = frozenset()


@dataclass(frozen=True)
class Read:
    """A Case as records; `waiting` are (Machine, currency without a rate) pairs."""

    brief: object
    machines: tuple  # sorted by name, those that take part
    waiting: tuple = ()
    retired: tuple = ()


def read(case, read_sheet=read_machine):
    """Return what a Case says; InputFaults with every fault of all its files.

    A machine with a sum in a currency without a rate waits: it takes no part, and no
    fault is told of it.

    Parameters
    ----------
    read_sheet : function ((name, bytes)) → Machine, optional
    """
    faults, brief, sheets = [], None, {}
    try:
        brief = load_brief((BRIEF, case.brief.encode("utf-8")), case.files)
    except InputFaults as found:
        faults += found.faults
    for name, text in case.sheets.items():
        try:
            sheets[name] = read_sheet((name, text.encode("utf-8")))
        except InputFaults as found:
            faults += found.faults
    faults += same_names(sheets.values())
    if faults:
        raise InputFaults(faults)
    waiting = {name: code_without_rate(brief, sheets[name]) for name in sheets}
    by_name = sorted(sheets.items(), key=lambda pair: pair[1].name)
    part = [(n, m) for n, m in by_name if n not in case.retired]
    return Read(
        brief,
        tuple(machine for name, machine in part if not waiting[name]),
        tuple((machine, waiting[name]) for name, machine in part if waiting[name]),
        tuple(machine for name, machine in by_name if name in case.retired),
    )


def code_without_rate(brief, machine):
    """Return the first currency of a sheet for which the brief has no rate, or ""."""
    for path, _ in without_rate(brief, machine):
        here = machine
        for key in path:
            here = here[int(key)] if isinstance(here, tuple) else _of(here, key)
        return here.currency
    return ""


def _of(record, key):
    return record[key] if isinstance(record, dict) else getattr(record, key)


def with_brief(case, changes):
    """Return the Case with {dotted path: value} changed in its brief, checked."""
    return checked(replace(case, brief=edited(case.brief, changes, brief_in_step)))


def with_sheet(case, name, changes):
    """Return the Case with {dotted path: value} changed in one of its sheets.

    A machine that is called otherwise is so among the rigs in the brief too.
    """
    old = data_of(case.sheets[name]).get("name")
    text = edited(case.sheets[name], changes, sheet_in_step)
    case = replace(case, sheets=case.sheets | {name: text})
    if "name" in changes:
        case = replace(case, brief=_renamed(case.brief, old, changes["name"]))
    return checked(case)


def _renamed(brief, old, new):
    """Return a brief's text with a machine under another name, wherever it stands."""
    data = data_of(brief)
    places = [
        f"{path}.{n}.machine"
        for path in ("owned", "also.used")
        for n, each in enumerate(at(data, path, []))
        if at(each, "machine") == old
    ]
    return edited(brief, dict.fromkeys(places, new))


def with_sheet_text(case, name, text):
    """Return the Case with another text for one of its sheets, checked."""
    return checked(replace(case, sheets=case.sheets | {name: text}))


def with_new_sheet(case, text):
    """Return (Case with one more sheet, its file name), checked."""
    if len(case.sheets) >= MAX_SHEETS:
        raise ScoringError(f"{len(case.sheets)} machines; {MAX_SHEETS} or fewer")
    name = file_name(data_of(text).get("name", ""), case.sheets)
    return checked(replace(case, sheets=case.sheets | {name: text})), name


def without_sheet(case, name):
    """Return the Case without one of its sheets."""
    sheets = {key: text for key, text in case.sheets.items() if key != name}
    return checked(replace(case, sheets=sheets, retired=case.retired - {name}))


def with_file(case, name, data):
    """Return the Case with one more file; nothing is checked until it is named."""
    return replace(case, files=case.files | {name: data})


def checked(case):
    """Return the Case without files that nobody names; InputFaults if it is faulty."""
    brief = read(case).brief
    named = {job.artwork for job in brief.work} | {brief.leads}
    files = {name: data for name, data in case.files.items() if name in named}
    return case if len(files) == len(case.files) else replace(case, files=files)


def file_name(machine, taken=()):
    """Return a file's name for a machine's sheet, unlike those taken.

    Examples
    --------
    >>> file_name("Alder №2 (used)"), file_name("墙", {"machine.yaml"})
    ('alder-2-used.yaml', 'machine-2.yaml')
    """
    words = re.sub(
        r"[^a-z0-9]+", "-", str(machine).lower().encode("ascii", "ignore").decode()
    )
    stem = words.strip("-")[:50].strip("-") or "machine"
    taken = {name.casefold() for name in taken}
    n, found = 1, f"{stem}.yaml"
    while found in taken:
        n += 1
        found = f"{stem}-{n}.yaml"
    return found
