"""A case that travels: brief and machine sheets as data within a page that is sent.

The texts are those that were read, byte for byte, with the artwork and the leads that
the brief names. What comes back is checked like any file.
"""

import base64
import hashlib
import json
import re
import tempfile
from dataclasses import replace
from pathlib import Path

from scoring.errors import InputFault, InputFaults, ScoringError
from scoring.inputs.brief_files import load_brief
from scoring.inputs.files import beside, read_bytes
from scoring.inputs.machine_folder import MAX_SHEETS, load_machines

MOST_BYTES = 16_000_000
BEGINS = b'<script type="application/json" id="case">'
ENDS = b"</script>"
KIND = "a page with a case in it, as `report` writes one"
FORM = "wall mural case 1"
BRIEF = "brief.yaml"


def case_of(brief, machines):
    """Return the case as {"form", "brief", "machines", "files"}, ready for JSON.

    Raises
    ------
    ScoringError
        If something has no text of its own, such as a brief made by a program.
    """
    records = [brief, *machines]
    lacking = [record for record in records if not record.text]
    if lacking:
        raise ScoringError("a case is sent from sheets that were read; one was not")
    return {
        "form": FORM,
        "brief": brief.text,
        "machines": [machine.text for machine in machines],
        "files": _files_of(brief),
    }


def _files_of(brief):
    """Return {name: base64} of what lies beside the brief and is named in it."""
    names = [job.artwork for job in brief.work if job.artwork is not None]
    names += [brief.leads] if brief.leads is not None else []
    folder, found = Path(brief.source).parent, {}
    for name in dict.fromkeys(names):
        try:
            _, data = read_bytes(beside(folder, name), MOST_BYTES, "a file")
        except (OSError, ValueError, RuntimeError):
            raise ScoringError(f"{name}: lies no longer beside the brief") from None
        found[name] = base64.b64encode(data).decode("ascii")
    return found


def hash_of(case):
    """Return the SHA-256 of a case in 64 hexadecimal digits; same inputs, same digits.

    Source
    ------
    FIPS 180-4, Secure Hash Standard.
    """
    text = json.dumps(case, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def as_data(case):
    """Return the case as JSON that no reader of HTML takes for a mark."""
    text = json.dumps(case, ensure_ascii=True, sort_keys=True)
    for mark in "<>&":
        text = text.replace(mark, f"\\u{ord(mark):04x}")
    return text


def read_case(source):
    """Return (Brief, machines) of a page that was sent: a path or (name, bytes).

    Raises
    ------
    InputFaults
        If there is no case in it, or what it holds has faults.
    """
    name, data = read_bytes(source, MOST_BYTES, KIND)
    case = _case_in(name, data)
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        (place / BRIEF).write_text(case["brief"], encoding="utf-8")
        for each, text in case["files"].items():
            _lay(place, each, base64.b64decode(text, validate=True), name)
        paths = []
        for n, text in enumerate(case["machines"]):
            paths.append(place / f"machine-{n + 1}.yaml")
            paths[-1].write_text(text, encoding="utf-8")
        try:
            machines, brief = load_machines(paths), load_brief(place / BRIEF)
        except InputFaults as found:
            raise InputFaults([_told(fault, name) for fault in found.faults]) from None
    return _named(brief, f"{name}: {BRIEF}"), tuple(
        _named(m, f"{name}: {Path(m.source).name}") for m in machines
    )


def _case_in(name, data):
    """Return the case of a page's bytes; whatever is not as `case_of` is a fault."""
    found = re.search(re.escape(BEGINS) + b"(.*?)" + re.escape(ENDS), data, re.DOTALL)
    try:
        case = json.loads(found[1])
        is_whole = (
            case["form"] == FORM
            and isinstance(case["brief"], str)
            and 1 <= len(case["machines"]) <= MAX_SHEETS
            and all(isinstance(text, str) for text in case["machines"])
            and all(isinstance(text, str) for text in case["files"].values())
        )
        [base64.b64decode(text, validate=True) for text in case["files"].values()]
        [text.encode() for text in (case["brief"], *case["machines"])]
    except (TypeError, ValueError, KeyError, AttributeError, RecursionError):
        is_whole = False
    if not is_whole:
        raise InputFaults([InputFault(name, 1, "", "holds no case", KIND)])
    return case


def _lay(folder, name, data, source):
    """Write a file of the case, in its folder or one below and nowhere else."""
    try:
        path = beside(folder, name)
        path.parent.mkdir(parents=True, exist_ok=True)
        with open(path, "xb") as file:  # over none that is there
            file.write(data)
    except (OSError, ValueError, RuntimeError):
        what = "names a file that is not in the case's folder"
        raise InputFaults([InputFault(source, 1, "files", what, "")]) from None


def _told(fault, name):
    """Return a fault with the page's name in place of the folder it was laid out in."""
    return replace(fault, file=f"{name}: {Path(fault.file).name}")


def _named(record, name):
    return record.keep(replace(record._document, name=name))
