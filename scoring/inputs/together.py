"""What brief and machine sheets say together; every fault of every file at once."""

import os
from pathlib import Path

from scoring.errors import InputFault, InputFaults, ScoringError, shown
from scoring.inputs.brief import Brief
from scoring.inputs.brief_checks import without_rate
from scoring.inputs.brief_files import load_brief
from scoring.inputs.files import named, read_bytes, sheets_below
from scoring.inputs.machine import Machine
from scoring.inputs.machine_folder import read_machine, same_names
from scoring.inputs.quantity import Wrong, nearest
from scoring.inputs.template_files import load_template
from scoring.inputs.yaml_lines import MAX_BYTES, read_yaml

# Kinds of job times machines: each pair takes about 1 MB while a year is worked out.
MOST_PAIRS = 500

PACK = "pack.yaml"  # what an exercise's scenario pack is written in


def check_together(brief, machines, criterion_ids):
    """Raise InputFaults for what brief and machines say only together.

    Missing exchange rates, machines owned or bought used that are not there, criteria
    and ratings that nobody knows.
    """
    faults = [
        *_of_brief(brief, _size_check(brief, machines)),
        *_of_machines(brief, machines),
        *_of_brief(brief, _owned_check(brief, machines)),
        *_of_brief(brief, _criteria_check(brief, machines, criterion_ids)),
    ]
    if faults:
        raise InputFaults(faults)


def _of_brief(brief, found):
    for path, wrong in found:
        dotted = ".".join(map(str, path))
        line = brief.line_of(dotted)
        yield InputFault(brief.source, line, dotted, wrong.what, wrong.allowed)


def _of_machines(brief, machines):
    for machine in machines:
        for path, wrong in without_rate(brief, machine):
            dotted = ".".join(path)
            line = machine.line_of(dotted)
            yield InputFault(machine.source, line, dotted, wrong.what, wrong.allowed)


def _size_check(brief, machines):
    if len(brief.work) * len(machines) > MOST_PAIRS:
        what = f"{len(brief.work)} kinds of job with {len(machines)} machines"
        yield ("work",), Wrong(what, f"{MOST_PAIRS} or less if multiplied")


def _owned_check(brief, machines):
    names = [machine.name for machine in machines]
    for where, some in ((("owned",), brief.owned), (("also", "used"), brief.also.used)):
        for k, each in enumerate(some):
            if each.machine not in names:
                near = nearest(each.machine, names)
                what = f"no machine sheet is called {shown(each.machine)}{near}"
                allowed = f"one of {', '.join(map(shown, names))}"
                yield (*where, k, "machine"), Wrong(what, allowed)


def _criteria_check(brief, machines, criterion_ids):
    rated = {name for machine in machines for name in machine.ratings}
    own = [name for name in brief.criteria if name not in criterion_ids]
    known = [*criterion_ids, *own]
    named = [("scale", name) for name in brief.scale]
    if brief.weights is not None:
        way = brief.weights.way
        here = ("weights",) if way == "numbers" else ("weights", way)
        named += [(*here, name) for name in dict.fromkeys(brief.weights.ids)]
    for path in named:
        if path[-1] not in known:
            what = f"no criterion is called {shown(path[-1])}{nearest(path[-1], known)}"
            yield path, Wrong(what, f"one of {', '.join(known)}")
    for name in own:
        rating = brief.criteria[name].rating or name
        if rating not in rated:
            near = nearest(rating, rated)
            what = f"no machine sheet has the rating {shown(rating)}{near}"
            yield ("criteria", name), Wrong(what, f"one of {', '.join(sorted(rated))}")


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
    machines, briefs, kinds, faults = [], [], [], []
    for path in _files(paths):
        try:
            records = _read(path)
        except InputFaults as found:
            faults += found.faults
        else:
            is_sheet = isinstance(records[0], Machine)
            (machines if is_sheet else briefs).append(records[0])
            kinds += () if is_sheet else records
    faults += same_names(machines)
    if not faults and machines:
        for brief in kinds:
            faults += _together(brief, machines, criterion_ids)
    if faults:
        raise InputFaults(dict.fromkeys(faults))
    return tuple(machines), tuple(briefs)


def _files(paths):
    """Return the YAML files among the paths and below the folders."""
    files = []
    for path in paths:
        if os.path.isdir(path):
            found = sheets_below(path, is_deep=True)
            files += [file for file in found if file.name != PACK]
        elif os.path.exists(path):
            files.append(Path(path))
        else:
            raise ScoringError(f"{named(path)}: there is no such file or folder")
    files = list({os.path.realpath(file): file for file in files}.values())
    if not files:
        folders = ", ".join(map(named, paths))
        raise ScoringError(f"{folders}: no YAML file (*.yaml) in it")
    return files


def _read(path):
    """Return (Machine,) or (Brief,) of a file; its keys tell which it is.

    Of a template of many buyers the Brief of each kind of buyer.
    """
    if "buyers" in _keys(path):
        return load_template(path).briefs
    return (load_brief(path) if is_brief(path) else read_machine(path),)


def _keys(source):
    """Return the keys of a file, none where it cannot be read."""
    try:
        name, data = read_bytes(source, MAX_BYTES, "a YAML file")
        return set(read_yaml(data, name)[0].data)
    except InputFaults:
        return set()


def is_brief(source):
    """Return whether a path or (name, bytes) has the keys of a brief."""
    keys = _keys(source)
    only_brief = keys & (set(Brief.model_fields) - set(Machine.model_fields))
    only_machine = keys & (set(Machine.model_fields) - set(Brief.model_fields))
    return len(only_brief) > len(only_machine)


def _together(brief, machines, criterion_ids):
    try:
        check_together(brief, machines, criterion_ids)
    except InputFaults as found:
        return found.faults
    return ()
