"""The changes of a job log written into a sheet or a brief, comments kept."""

from copy import deepcopy

from scoring.errors import ScoringError
from scoring.inputs.quantity import Wrong
from scoring.inputs.sheet_writer import rewritten
from scoring.inputs.yaml_lines import read_yaml
from scoring.questions.job_log import SHEET


def taken_over(found, file, left_out=()):
    """Return the text of the sheet or the brief with the changes of a FromLog in it.

    Comments stay where people wrote them.

    Parameters
    ----------
    found : FromLog
    file : SHEET or BRIEF
    left_out : paths of changes that are not wanted, optional

    Raises
    ------
    ScoringError
        If there is no such file in it.
    """
    record = found.machine if file == SHEET else found.brief
    if record is None:
        raise ScoringError("there is no brief to change; name one")
    changes = [c for c in found.changes if c.file == file and c.path not in left_out]
    document, faults = read_yaml(record.text.encode(), record.source)
    if faults:
        raise Wrong(str(faults[0]), "a file that can be read")
    data = deepcopy(document.data)
    for change in changes:
        _put(data, change.path.split("."), change.after)
    return rewritten(record.text, document.data, data) if changes else record.text


def _put(data, keys, written):
    """Write one field into a file's data; what is unknown as a whole becomes known."""
    for key, after in zip(keys, [*keys[1:], None], strict=True):
        place = int(key) if isinstance(data, list) else key
        if after is None:
            data[place] = written
        else:
            held = data[place] if isinstance(data, list) else data.get(key)
            if not isinstance(held, dict | list):
                held = {}
                data[place] = held
            data = held
