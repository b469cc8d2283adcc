"""Machine sheets read from files and folders."""

import os
from pathlib import Path

from scoring.errors import InputFault, InputFaults, ScoringError, shown
from scoring.inputs.faults import load
from scoring.inputs.files import named, sheets_below, why_not
from scoring.inputs.machine import Machine
from scoring.inputs.machine_checks import check_sheet

MAX_SHEETS = 50
MACHINES = "machines"  # the folder of sheets that goes with a brief


def load_machines(source):
    """Return the machines of a folder, or of some files, sorted by name.

    Raises
    ------
    InputFaults
        With every fault of all files; two machines with one name are a fault.
    ScoringError
        If there is no machine sheet.
    """
    paths = sheets_in(source) if isinstance(source, str | Path) else list(source)
    if not paths:
        raise ScoringError(f"{source}: no machine sheet (*.yaml) in this folder")
    machines, faults = [], []
    for path in paths:
        try:
            machines.append(read_machine(path))
        except InputFaults as found:
            faults += found.faults
    faults += same_names(machines)
    if faults:
        raise InputFaults(faults)
    return tuple(sorted(machines, key=lambda machine: machine.name))


def sheets_in(folder):
    """Return the YAML files of a folder in order; a file stands for itself.

    Raises
    ------
    ScoringError
        If there is no such folder, it cannot be read, or holds more than 50 of them.
    """
    if not os.path.exists(folder):
        raise ScoringError(f"{named(folder)}: there is no such folder")
    if not os.path.isdir(folder):
        return [Path(folder)]
    try:
        found = sheets_below(folder)
    except OSError as error:
        raise ScoringError(f"{folder}: {why_not(error)}") from None
    if len(found) > MAX_SHEETS:
        what = f"holds {len(found)} files *.yaml"
        raise ScoringError(f"{folder}: {what}; {MAX_SHEETS} or fewer")
    return found


def folder_beside(brief):
    """Return the folder `machines` beside a brief's file, else beside its folder.

    Where the brief is the folder of a case, it is the one in there.

    Raises
    ------
    ScoringError
        If there is neither.
    """
    here = Path(brief).absolute()
    here = here if here.is_dir() else here.parent
    places = [here / MACHINES, here.parent / MACHINES]
    for place in places:
        if place.is_dir():
            return Path(os.path.relpath(place))
    looked = " and ".join(os.path.relpath(place) for place in places)
    raise ScoringError(
        f"{brief}: no folder of machine sheets near it (looked for {looked}); name one "
        "with --machines"
    )


def same_names(machines):
    """Return a fault for each machine whose name another one has before it."""
    first, faults = {}, []
    for machine in machines:
        if machine.name in first:
            what = f"{shown(machine.name)} is the name of {first[machine.name]} too"
            line = machine.line_of("name")
            faults.append(
                InputFault(machine.source, line, "name", what, "a name of its own")
            )
        first.setdefault(machine.name, machine.source)
    return faults


def read_machine(source):
    """Return the Machine of a path, or of (name, bytes), or raise InputFaults."""
    machine, document = load(Machine, source, cross_check=check_sheet)
    return machine.keep(document)
