"""A scenario pack: a folder, or the .zip that is made of it → Pack."""

import io
import zipfile
import zlib
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from scoring.errors import InputFault, InputFaults, ScoringError, shown
from scoring.inputs.brief import Brief
from scoring.inputs.brief_files import load_brief
from scoring.inputs.faults import load
from scoring.inputs.files import SUFFIXES, read_bytes
from scoring.inputs.machine import Machine
from scoring.inputs.machine_folder import (
    MACHINES,
    read_machine,
    same_names,
    sheets_in,
)
from scoring.inputs.quantity import nearest
from scoring.inputs.records import dimension_of
from scoring.inputs.together import PACK
from scoring.inputs.yaml_lines import MAX_BYTES
from scoring.workshop.pack import N_BUYERS, ExercisePlan, check_plan

MOST_FILES = 60
MOST_BYTES = 4_000_000  # of a packed file, and of all that is in it
NOT_A_PACK = (
    zipfile.BadZipFile,
    zlib.error,
    NotImplementedError,  # a way of packing that is not known
    RuntimeError,  # encrypted
    EOFError,
    OSError,
)
EPOCH = (1980, 1, 1, 0, 0, 0)  # the same files give the same bytes


@dataclass(frozen=True)
class Pack:
    """A pack that was read whole; buyers and machines are checked records."""

    name: str
    plan: ExercisePlan
    buyers: tuple[Brief, ...]  # the five and the sixth
    visitor: Brief  # for whom the seller is visited
    machines: tuple[Machine, ...]  # in the order of their letters
    files: dict  # {name: bytes}, as it is packed

    @property
    def letters(self):
        """The letters, in the order of the machines."""
        return tuple(sorted(self.plan.letters))

    def letter_of(self, name):
        """Return the letter that hides a machine's name."""
        return next(k for k, hidden in self.plan.letters.items() if hidden == name)


def load_pack(source):
    """Return the Pack of a folder, a .zip, or (name, bytes) of a .zip.

    Raises
    ------
    InputFaults
        With every fault of all its files.
    ScoringError
        If it is no pack at all.
    """
    if isinstance(source, tuple):
        name, files = source[0], _unpacked(*source)
    elif Path(source).is_dir():
        name, files = str(source), _in_folder(Path(source))
    else:
        name, data = read_bytes(source, MOST_BYTES, "a folder or a .zip")
        files = _unpacked(name, data)
    return _pack_of(name, files)


def packed(pack):
    """Return the bytes of the .zip; the same pack gives the same bytes."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(pack.files):
            entry = zipfile.ZipInfo(name, EPOCH)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, pack.files[name])
    return buffer.getvalue()


def _in_folder(folder):
    """Return {name in the pack: bytes} of a folder."""
    if not (folder / PACK).is_file():
        raise ScoringError(f"{folder}: no {PACK} in this folder")
    files = {PACK: _read(folder / PACK)}
    plan, _ = load(ExercisePlan, _named(folder, files, PACK), cross_check=check_plan)
    for file in (*(buyer.file for buyer in plan.all_buyers), plan.visit.file):
        if _is_within(file) and (folder / file).is_file():
            files[file] = _read(folder / file)
    for sheet in sheets_in(folder / plan.machines):
        files[f"{MACHINES}/{sheet.name}"] = _read(sheet)
    return files


def _read(path):
    return read_bytes(path, MAX_BYTES, "a YAML file")[1]


def _unpacked(name, data):
    """Return {name: bytes} of a .zip, which may not be larger than it says."""
    if len(data) > MOST_BYTES:
        raise ScoringError(f"{name}: is too large for a pack; {MOST_BYTES / 1e6:g} MB")
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return _members(name, archive)
    except NOT_A_PACK:
        raise ScoringError(
            f"{name}: is no pack; a folder with {PACK}, or the .zip made of it"
        ) from None


def _members(name, archive):
    entries = [entry for entry in archive.infolist() if not entry.is_dir()]
    if len(entries) > MOST_FILES:
        raise ScoringError(f"{name}: {len(entries)} files; {MOST_FILES} or fewer")
    files, whole = {}, 0
    for entry in entries:
        if not _is_within(entry.filename):
            raise ScoringError(
                f"{name}: {shown(entry.filename)} leads out of the pack; a plain name"
            )
        with archive.open(entry) as member:
            data = member.read(MAX_BYTES + 1)
        whole += len(data)
        if len(data) > MAX_BYTES or whole > MOST_BYTES:
            raise ScoringError(f"{name}: {shown(entry.filename)} is too large")
        files[entry.filename] = data
    if PACK not in files:
        raise ScoringError(f"{name}: no {PACK} in it")
    return files


def _is_within(name):
    path = PurePosixPath(name)
    is_plain = not path.is_absolute() and ".." not in path.parts
    return is_plain and "\\" not in name and ":" not in name


def _named(name, files, file):
    """Return (shown name, bytes) of one file of a pack."""
    return f"{name}/{file}", files[file]


def _pack_of(name, files):
    faults = []
    plan = _tried(faults, _plan, _named(name, files, PACK))
    briefs = [
        _tried(faults, load_brief, _named(name, files, file))
        if file in files
        else faults.append(_missing(plan, key, file))
        for key, file in (_brief_files(plan) if plan else ())
    ]
    machines = [
        _tried(faults, read_machine, _named(name, files, file))
        for file in sorted(files)
        if file.startswith(f"{MACHINES}/") and file.endswith(SUFFIXES)
    ]
    if not faults:
        faults += same_names(machines)
        faults += _together(plan, briefs, machines)
    if faults:
        raise InputFaults(faults)
    by_name = {machine.name: machine for machine in machines}
    in_order = [by_name[plan.letters[letter]] for letter in sorted(plan.letters)]
    return Pack(name, plan, tuple(briefs[:-1]), briefs[-1], tuple(in_order), files)


def _plan(source):
    plan, document = load(ExercisePlan, source, cross_check=check_plan)
    return plan.keep(document)


def _tried(faults, read, source):
    try:
        return read(source)
    except InputFaults as found:
        faults += found.faults
        return None


def _brief_files(plan):
    """Yield (key, file) of each brief: the five, the sixth, the visitor's."""
    for k, buyer in enumerate(plan.all_buyers):
        yield ("sixth.file" if k == N_BUYERS else f"buyers.{k}.file"), buyer.file
    yield "visit.file", plan.visit.file


def _missing(plan, key, file):
    return _fault(plan, key, f"no {shown(file)} in the pack", "a file in it")


def _fault(plan, key, what, allowed):
    return InputFault(plan.source, plan.line_of(key), key, what, allowed)


def _together(plan, briefs, machines):
    """Yield what plan, briefs and sheets say only together."""
    by_name = {machine.name: machine for machine in machines}
    for letter, name in plan.letters.items():
        if name not in by_name:
            what = f"no machine sheet is called {shown(name)}{nearest(name, by_name)}"
            yield _fault(plan, f"letters.{letter}", what, "a machine's name")
    for name in sorted(set(by_name) - set(plan.letters.values())):
        yield _fault(plan, "letters", f"{shown(name)} has no letter", "eight machines")
    for k, (buyer, brief) in enumerate(zip(plan.all_buyers, briefs, strict=False)):
        jobs = [job.name for job in brief.work]
        for job in buyer.predict:
            if job not in jobs:
                key = "sixth.predict" if k == N_BUYERS else f"buyers.{k}.predict"
                what = f"no kind of job is called {shown(job)}{nearest(job, jobs)}"
                yield _fault(plan, key, what, f"one of {', '.join(jobs)}")
    currencies = sorted({brief.currency for brief in briefs})
    if len(currencies) > 1:
        what = f"the buyers count in {' and '.join(currencies)}"
        yield _fault(plan, "buyers", what, "one currency for all")
    yield from _envelope_faults(plan)


def _envelope_faults(plan):
    for k, envelope in enumerate(plan.visit.envelopes):
        key = f"visit.envelopes.{k}"
        try:
            dimension = dimension_of(Machine, envelope.figure)
        except (KeyError, IndexError, AttributeError):
            dimension = None
        if dimension is None:
            what = f"{shown(envelope.figure)} is no figure of a machine sheet"
            yield _fault(plan, f"{key}.figure", what, "a key such as heaviest_lift")
            continue
        try:
            dimension.parse(envelope.result, "measured")
        except ValueError as wrong:
            what = getattr(wrong, "what", str(wrong))
            allowed = getattr(wrong, "allowed", dimension.allowed)
            yield _fault(plan, f"{key}.result", what, allowed)
