"""Machine sheets read from files and folders."""

import os
from pathlib import Path

from scoring.errors import InputFault, InputFaults, ScoringError, shown
from scoring.inputs.faults import load
from scoring.inputs.machine import Machine
from scoring.inputs.machine_checks import check_sheet

SUFFIXES = (".yaml", ".yml")
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
    """Return the YAML files of a folder in order; a file stands for itself."""
    folder = Path(folder)
    if folder.is_file():
        return [folder]
    if not folder.is_dir():
        raise ScoringError(f"{folder}: there is no such folder")
    return sorted(path for path in folder.iterdir() if path.suffix in SUFFIXES)


def folder_beside(brief):
    """Return the folder `machines` beside a brief's file, else beside its folder.

    Raises
    ------
    ScoringError
        If there is neither.
    """
    here = Path(brief).absolute().parent
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
