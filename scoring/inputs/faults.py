"""A file → a checked, frozen record, or every fault at once, in our own words."""

from pydantic import ValidationError

from scoring.errors import FAULTS, InputFault, InputFaults, more_faults, shown
from scoring.inputs.dimensions import Dimension
from scoring.inputs.files import read_bytes
from scoring.inputs.quantity import Wrong, nearest
from scoring.inputs.yaml_lines import KINDS, MAX_BYTES, dotted, read_yaml


def load(model, source, context=None, cross_check=None):
    """Return the record in a YAML file.

    Parameters
    ----------
    model : pydantic model
    source : path, or (name, bytes) of a file that is already read
    context : mapping, handed to the model's validators
    cross_check : function (record) → [(path, Wrong)], optional
        Checks that need several fields; run once the fields themselves are right.

    Returns
    -------
    (record, Document)

    Raises
    ------
    InputFaults
        With every fault of the file.
    """
    name, data = read_bytes(source, MAX_BYTES, "a YAML file")
    document, faults = read_yaml(data, name)
    record, found = record_of(model, document, context, cross_check)
    if faults or found:
        raise InputFaults([*faults, *found])
    return record, document


def record_of(model, document, context=None, cross_check=None):
    """Return (the record that a Document holds, its faults); as in `load`."""
    try:
        record = model.model_validate(document.data, context=context)
    except ValidationError as error:
        return None, _in_words(error, document, model)
    faults = []
    for path, wrong in cross_check(record) if cross_check else ():
        line = document.line_of(path)
        of = document.name, line, dotted(path), wrong.what, wrong.allowed
        faults.append(InputFault(*of))
    return record, faults


def _in_words(error, document, model):
    """Return the InputFaults in the file's order; of many the first, and how many."""
    details = error.errors(include_url=False)  # dear: once, however many there are
    # A list is called too short also where its entries are faulty: told once.
    above = {detail["loc"][:k] for detail in details for k in range(len(detail["loc"]))}
    told = [d for d in details if d["type"] != "too_short" or d["loc"] not in above]
    told.sort(key=lambda d: document.line_of(_written(document, d["loc"])))
    found = {_fault(document, model, detail) for detail in told[:FAULTS]}
    faults = sorted(found, key=lambda fault: (fault.line, fault.key))
    untold = told[FAULTS:]
    if untold:
        line = document.line_of(_written(document, untold[-1]["loc"]))
        faults.append(more_faults(document.name, line, len(untold)))
    return faults


def _written(document, loc):
    """Return the path as it stands in the file, without levels that validation adds."""
    path = tuple(str(key) for key in loc if key != "[key]")
    for k in range(len(path)):
        shorter = path[:k] + path[k + 1 :]
        if shorter and path not in document.lines and shorter in document.lines:
            return shorter
    return path


def _fault(document, model, detail):
    """Return the InputFault of one pydantic error, in our words."""
    path = _written(document, detail["loc"])
    if detail["type"] == "missing":
        path = tuple(map(str, detail["loc"]))
        line, field = document.line_of(path[:-1]), _field_at(model, path)
        return InputFault(document.name, line, dotted(path), "is missing", field)
    what, allowed = _words(model, path, detail)
    line = document.line_of(path)
    return InputFault(document.name, line, dotted(path), what, allowed)


def _words(model, path, detail):
    """Return (what is wrong, what is allowed) of one pydantic error."""
    kind, got = detail["type"], detail["input"]
    wrong = detail.get("ctx", {}).get("error")
    if isinstance(wrong, Wrong):
        return wrong.what, wrong.allowed
    if kind == "extra_forbidden":
        known = list(_model_at(model, path[:-1]).model_fields)
        near = nearest(path[-1], known).removeprefix(", ")
        return "unknown key", near or f"the keys {', '.join(known)}"
    if got is None:
        return "is empty", _field_at(model, path) or "a value"
    if kind in ("model_type", "dict_type", "model_attributes_type"):
        return f"{KINDS.get(type(got), 'this')} where a mapping belongs", "key: value"
    if kind in ("tuple_type", "list_type"):
        return (
            f"{KINDS.get(type(got), 'this')} where a list belongs",
            "[a, b] or rows of -",
        )
    if kind in ("too_short", "too_long") and got:
        ctx = detail["ctx"]
        least, most = ctx.get("min_length"), ctx.get("max_length")
        allowed = f"{least} or more" if most is None else f"{most} or fewer"
        field = _field_at(model, path)
        return f"has {len(got)} entries", field or allowed
    if kind == "too_short":
        return "is empty", "{min_length} or more".format(**detail["ctx"])
    allowed = ALLOWED.get(kind) or _field_at(model, path) or "as in the examples"
    return f"{shown(got)} is not allowed here", allowed.format(**detail.get("ctx", {}))


ALLOWED = {
    "string_unicode": "text; half a character stands there",
    "string_sub_type": "text",
    "dict_attributes_type": "key: value",
    "int_parsing_size": "a whole number of a few digits",
    "multiple_of": "a multiple of {multiple_of}",
    "less_than": "less than {lt}",
    "string_type": "text; put it in quotes if it looks like a number",
    "string_too_short": "text, not empty",
    "string_too_long": "text of {max_length} characters at most",
    "string_pattern_mismatch": "text of the form {pattern}",
    "int_type": "a whole number",
    "int_parsing": "a whole number",
    "int_from_float": "a whole number",
    "float_type": "a number",
    "float_parsing": "a number",
    "finite_number": "a finite number",
    "bool_type": "true or false",
    "literal_error": "{expected}",
    "greater_than_equal": "{ge} or more",
    "greater_than": "more than {gt}",
    "less_than_equal": "{le} or less",
    "too_long": "{max_length} at most",
}


def _model_at(model, path):
    """Return the pydantic model at a path of keys and places."""
    for key in path:
        fields = getattr(model, "model_fields", None)
        if fields is not None:
            model = fields[key].annotation if key in fields else model
        model = _inner(model)
    return model


def _inner(annotation):
    """Return the model inside X | None, tuple[X, ...] or dict[str, X]."""
    if hasattr(annotation, "model_fields"):
        return annotation
    for part in reversed(getattr(annotation, "__args__", ())):
        found = _inner(part)
        if found is not None:
            return found
    return None


def _field_at(model, path):
    """Return in words what a field takes, "" where that is not known."""
    parent = _model_at(model, path[:-1])
    field = getattr(parent, "model_fields", {}).get(path[-1])
    if field is None:
        return ""
    dimensions = [part for part in field.metadata if isinstance(part, Dimension)]
    return dimensions[0].allowed if dimensions else field.description or ""
