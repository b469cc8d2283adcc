"""Machine sheets and briefs checked together: every fault of every file at once."""

from pathlib import Path

from scoring.errors import InputFaults, ScoringError
from scoring.inputs.agreement import check_together
from scoring.inputs.brief import Brief, load_brief
from scoring.inputs.files import read_yaml
from scoring.inputs.machine import SUFFIXES, Machine, read_machine, same_names


def check_paths(paths, criterion_ids):
    """Return (machines, briefs) of files, and of all files in folders.

    Where sheets and briefs are both given, each brief is checked against the sheets.

    Raises
    ------
    InputFaults
        With every fault of all files.
    ScoringError
        If there is no such path, or no YAML file in it.
    """
    machines, briefs, faults = [], [], []
    for path in _files(paths):
        try:
            record = _read(path)
        except InputFaults as found:
            faults += found.faults
        else:
            (machines if isinstance(record, Machine) else briefs).append(record)
    faults += same_names(machines)
    if not faults and machines:
        for brief in briefs:
            faults += _together(brief, machines, criterion_ids)
    if faults:
        raise InputFaults(dict.fromkeys(faults))
    return tuple(machines), tuple(briefs)


def _files(paths):
    """Return the YAML files among the paths and below the folders."""
    files = []
    for path in map(Path, paths):
        if path.is_dir():
            files += sorted(p for p in path.rglob("*") if p.suffix in SUFFIXES)
        elif path.exists():
            files.append(path)
        else:
            raise ScoringError(f"{path}: there is no such file or folder")
    files = list({file.resolve(): file for file in files}.values())
    if not files:
        raise ScoringError(f"{', '.join(map(str, paths))}: no YAML file (*.yaml) in it")
    return files


def _read(path):
    """Return the Machine or the Brief of a file; its keys tell which it is."""
    return load_brief(path) if is_brief(path) else read_machine(path)


def is_brief(source):
    """Return whether a path or (name, bytes) has the keys of a brief."""
    name, data = source if isinstance(source, tuple) else (str(source), None)
    try:
        keys = set(read_yaml(_bytes(source) if data is None else data, name)[0].data)
    except InputFaults:
        return False
    only_brief = keys & (set(Brief.model_fields) - set(Machine.model_fields))
    only_machine = keys & (set(Machine.model_fields) - set(Brief.model_fields))
    return len(only_brief) > len(only_machine)


def _bytes(path):
    """Return the start of a file, enough to tell what it is."""
    with Path(path).open("rb") as file:
        return file.read(300_000)


def _together(brief, machines, criterion_ids):
    try:
        check_together(brief, machines, criterion_ids)
    except InputFaults as found:
        return found.faults
    return ()
