"""A case that travels: brief and machine sheets as data within a page that is sent.

The texts are those that were read, byte for byte, with the artwork and the leads that
the brief names. What comes back is a case like one of one's own, checked like any file;
nothing of it is laid out on the disk before.
"""

import base64
import hashlib
import json
import re
from dataclasses import replace
from pathlib import Path

from scoring.errors import InputFault, InputFaults, ScoringError
from scoring.inputs.case.edit import data_of
from scoring.inputs.case.record import Case, checked, file_name
from scoring.inputs.case.zipped import BESIDE, is_plain
from scoring.inputs.files import beside, read_bytes
from scoring.inputs.machine_folder import MAX_SHEETS

MOST_BYTES = 16_000_000
BEGINS = b'<script type="application/json" id="case">'
ENDS = b"</script>"
KIND = "a page with a case in it, as `report` writes one"
FORM = "wall mural case 1"


def case_of(brief, machines, files=None):
    """Return the case as {"form", "brief", "machines", "files"}, ready for JSON.

    Parameters
    ----------
    files : {name: bytes}, optional
        What the brief names, where it does not lie beside the brief.

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
        "files": _files_of(brief, files),
    }


def _files_of(brief, files):
    """Return {name: base64} of what is named in the brief."""
    names = [job.artwork for job in brief.work if job.artwork is not None]
    names += [brief.leads] if brief.leads is not None else []
    folder, found = Path(brief.source).parent, {}
    for name in dict.fromkeys(names):
        try:
            if files is None:
                _, data = read_bytes(beside(folder, name), MOST_BYTES, "a file")
            else:
                data = files[name]
        except (OSError, ValueError, RuntimeError, KeyError):
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
    """Return the Case of a page that was sent: a path or (name, bytes).

    Raises
    ------
    InputFaults
        If there is no case in it, or what it holds has faults.
    """
    name, data = read_bytes(source, MOST_BYTES, KIND)
    sent = _case_in(name, data)
    for each in sent["files"]:
        if not is_plain(each) or not each.lower().endswith(BESIDE):
            what = "names a file that is not in the case's folder"
            raise InputFaults([InputFault(name, 1, "files", what, "")])
    files = {
        each: base64.b64decode(text, validate=True)
        for each, text in sent["files"].items()
    }
    try:
        return checked(Case(sent["brief"], _sheets(sent["machines"]), files))
    except InputFaults as found:
        told = [replace(fault, file=f"{name}: {fault.file}") for fault in found.faults]
        raise InputFaults(told) from None


def _sheets(texts):
    """Return {file name: text}, each named after its machine."""
    sheets = {}
    for text in texts:
        data = data_of(text)
        said = data.get("name", "") if isinstance(data, dict) else ""
        sheets[file_name(said, sheets)] = text
    return sheets


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
