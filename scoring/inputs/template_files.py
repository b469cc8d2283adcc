"""A template of many buyers read from its file, with every fault at once."""

from dataclasses import dataclass, replace
from itertools import product
from math import prod

from scoring.errors import InputFault, InputFaults, shown
from scoring.inputs.brief import Brief
from scoring.inputs.brief_checks import check_brief
from scoring.inputs.dimensions import TIMES
from scoring.inputs.faults import load, record_of
from scoring.inputs.quantity import STATED, Quantity, Wrong, nearest, quantity_at
from scoring.inputs.records import dimension_of, with_value
from scoring.inputs.template import Template
from scoring.inputs.yaml_lines import dotted

MOST_KINDS = 64  # of buyers: combinations of choices, each a brief of its own
WHOLE = 1e-6  # by so much shares may miss 100 %
# Where a figure of the brief may differ from buyer to buyer.
PLACES = ("crew", "working_time", "travel", "vehicle", "money", "payment", "trade")
PLACES += ("work", "demand", "limits", "exchange")
ALIKE = ("crew.aids", "limits.sure")  # what orders or cuts, and so is one for all
SAME = ("title", "currency", "owned", "leads")
CONTEXT = {"is_buyers_own": True}


@dataclass(frozen=True)
class Differing:
    """In what buyers differ, checked: of figures a range, else what may be chosen."""

    name: str
    paths: tuple[str, ...]  # dotted, in the brief
    range: Quantity | None  # of the figure, or of what it is multiplied by
    is_factor: bool
    is_even: bool
    shares: tuple[float, ...] = ()  # of each choice
    called: tuple[str, ...] = ()  # each choice in words
    values: tuple = ()  # each choice as it is written in a brief

    @property
    def is_choice(self):
        return bool(self.shares)


@dataclass(frozen=True)
class Crowd:
    """A template that was read: how buyers differ, and the brief of each kind."""

    title: str
    source: str
    text: str
    differ: tuple[Differing, ...]
    together: tuple[tuple[int, int, float], ...]  # two differences, rank correlation
    briefs: tuple[Brief, ...]  # one for each combination of choices
    choices: tuple[tuple[int, ...], ...]  # of each brief, one for each choice

    @property
    def currency(self):
        return self.briefs[0].currency


def load_template(source):
    """Return the Crowd of a path, or of (name, bytes); InputFaults if it has faults."""
    template, document = load(Template, source, CONTEXT, _check_template)
    data = {key: value for key, value in document.data.items() if key != "buyers"}
    document = replace(document, data=data)
    brief = _brief(document)
    differ = [_differing(brief, each) for each in template.buyers.differ]
    choosing = [k for k, each in enumerate(differ) if each.is_choice]
    _check_choices(document, differ, choosing)
    places = list(product(*(range(len(differ[k].shares)) for k in choosing)))
    briefs, faults = [], []
    for chosen in places:
        changed = document
        for k, n in zip(choosing, chosen, strict=True):
            changed = _chosen(changed, differ[k], n)
        found, wrong = record_of(Brief, changed, CONTEXT, check_brief)
        if wrong:
            faults.append(_together_wrong(document, differ, choosing, chosen, wrong[0]))
        else:
            found = found.keep(document)
            briefs.append(found)
            faults += _ends_wrong(document, found, differ)
    if faults:
        raise InputFaults(list(dict.fromkeys(faults)))
    names = [each.name for each in differ]
    pairs = tuple(
        (*map(names.index, pair.of), pair.correlation)
        for pair in template.buyers.together
    )
    return Crowd(
        template.title,
        document.name,
        document.text,
        tuple(differ),
        pairs,
        tuple(briefs),
        tuple(places),
    )


def paths_of(brief, key):
    """Return the dotted paths that a key of a template stands for, or raise Wrong.

    `work.*.carry` is that of every kind of job; a kind of job goes by its name or its
    place.
    """
    first, _, rest = key.partition(".")
    if first != "work":
        return [key]
    names = [job.name for job in brief.work]
    for name in names:
        if rest.startswith(f"{name}."):
            return [f"work.{names.index(name)}.{rest.removeprefix(f'{name}.')}"]
    which, _, rest = rest.partition(".")
    if which == "*" and rest:
        return [f"work.{k}.{rest}" for k in range(len(names))]
    if which.isdigit() and int(which) < len(names) and rest:
        return [key]
    near = nearest(which, names)
    allowed = f"work.*.carry for all, or one of {', '.join(map(shown, names))}"
    raise Wrong(f"no kind of job is called {shown(which)}{near}", allowed)


def _brief(document):
    return Brief.model_validate(document.data, context=CONTEXT).keep(document)


def _check_template(template):
    """Return [(path, Wrong)] of all that a template says, its brief first."""
    found = check_brief(template)
    if template.leads is not None or template.owned:
        key = "owned" if template.owned else "leads"
        found.append(((key,), Wrong("is no part of a template", "leave it out")))
    if any(job.artwork for job in template.work):
        found.append((("work",), Wrong("artwork in a template", "a blank_share")))
    names = [each.name for each in template.buyers.differ]
    taken = {}
    for k, each in enumerate(template.buyers.differ):
        here = ("buyers", "differ", k)
        if each.name in names[:k]:
            what = f"{shown(each.name)} twice"
            found.append(((*here, "name"), Wrong(what, "each difference once")))
        found += [((*here, *path), wrong) for path, wrong in _wrong(template, each)]
        for path in _paths(template, each):
            if path in taken:
                what = f"{shown(path)} differs in {shown(taken[path])} already"
                found.append((here, Wrong(what, "each key in one difference")))
            taken[path] = each.name
    n_kinds = prod(max(1, len(each.one_of)) for each in template.buyers.differ)
    if n_kinds > MOST_KINDS:
        what = f"the choices combine to {n_kinds} kinds of buyer"
        found.append((("buyers", "differ"), Wrong(what, f"{MOST_KINDS} or fewer")))
    return [*found, *_pairs_wrong(template.buyers, names)]


def _pairs_wrong(buyers, names):
    """Yield what is wrong with the pairs that go together."""
    seen = set()
    for k, pair in enumerate(buyers.together):
        here = ("buyers", "together", k, "of")
        for name in pair.of:
            if name not in names:
                what = f"no difference is called {shown(name)}{nearest(name, names)}"
                yield here, Wrong(what, f"one of {', '.join(map(shown, names))}")
        if pair.of[0] == pair.of[1] or frozenset(pair.of) in seen:
            yield here, Wrong("the same pair twice, or one with itself", "two names")
        seen.add(frozenset(pair.of))


def _paths(template, each):
    """Return the paths of a difference that are there; [] where keys are wrong."""
    try:
        return [path for key in each.written_keys for path in paths_of(template, key)]
    except Wrong:
        return []


def _wrong(template, each):
    """Yield (path within the difference, Wrong) of one difference by itself."""
    if bool(each.key) == bool(each.keys):
        yield (), Wrong("key and keys", "one of the two: key, or a list of keys")
    if each.way is None:
        yield (), Wrong("how buyers differ is not said", "between, times or one_of")
        return
    for n, key in enumerate(each.written_keys):
        here = ("key",) if each.key else ("keys", n)
        try:
            paths = paths_of(template, key)
        except Wrong as wrong:
            yield here, wrong
            continue
        for path in paths[:1]:
            wrong = _key_wrong(template, path, each.way == "one_of")
            if wrong:
                yield here, wrong
    if each.way == "one_of":
        yield from _choice_wrong(each)
        return
    written = getattr(each, each.way)
    for path in _paths(template, each)[:1]:
        try:
            found = _range(template, path, each, written)
        except Wrong as wrong:
            yield (each.way,), wrong
        except (KeyError, IndexError, ValueError, AttributeError):
            continue  # the key is told as wrong
        else:
            if not found.is_range:
                what = f"{shown(written)} is one figure, not a range"
                yield (each.way,), Wrong(what, "low..high or low..likely..high")


def _key_wrong(template, path, is_choice):
    """Return the Wrong of a key that cannot differ, None where it can."""
    first = path.partition(".")[0]
    if first not in Brief.model_fields or first in ("title", "currency"):
        known = [
            name for name in Brief.model_fields if name not in ("title", "currency")
        ]
        near = nearest(first, known)
        return Wrong(
            f"no key of a brief{near}", "such as money.cash or work.*.distance"
        )
    if is_choice:
        return None
    may = first in PLACES and not path.startswith(ALIKE) and ".bands." not in path
    if quantity_at(template, path) is None or not may:
        allowed = f"a figure that the template tells, in {', '.join(PLACES)}; or one_of"
        return Wrong(f"no figure stands at {shown(path)}", allowed)
    return None


def _choice_wrong(each):
    total = sum(choice.share.likely for choice in each.one_of)
    if len(each.one_of) < 2:
        yield ("one_of",), Wrong("leaves no choice", "two choices or more")
    elif abs(total - 1) > WHOLE:
        allowed = "shares that sum to 100 %"
        yield ("one_of",), Wrong(f"the shares sum to {100 * total:g} %", allowed)


def _range(template, path, each, written):
    if each.way == "times":
        return TIMES.parse(written, STATED)
    return dimension_of(Brief, path).parse(written, STATED)


def _differing(brief, each):
    """Return the Differing of a difference that was checked."""
    paths = tuple(path for key in each.written_keys for path in paths_of(brief, key))
    if each.way == "one_of":
        return Differing(
            each.name,
            paths,
            None,
            False,
            False,
            tuple(choice.share.likely for choice in each.one_of),
            tuple(choice.called or _said(choice.value) for choice in each.one_of),
            tuple(choice.value for choice in each.one_of),
        )
    found = _range(brief, paths[0], each, getattr(each, each.way))
    return Differing(each.name, paths, found, each.way == "times", each.evenly)


def _said(value):
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _chosen(document, differing, n):
    """Return the Document in which a choice stands at its keys."""
    data = document.data
    for path in differing.paths:
        data = _written(data, path.split("."), differing.values[n])
    return replace(document, data=data)


def _written(data, keys, value):
    """Return YAML data with a value at a path; mappings that lack are made."""
    if not keys:
        return value
    key, *rest = keys
    if isinstance(data, list) and key.isdigit() and int(key) < len(data):
        k = int(key)
        return [*data[:k], _written(data[k], rest, value), *data[k + 1 :]]
    data = data if isinstance(data, dict) else {}
    return data | {key: _written(data.get(key), rest, value)}


def _check_choices(document, differ, choosing):
    """Raise InputFaults for each choice that by itself makes the brief wrong."""
    faults = []
    for k in choosing:
        for n in range(len(differ[k].shares)):
            changed = _chosen(document, differ[k], n)
            _, wrong = record_of(Brief, changed, CONTEXT, check_brief)
            path = ("buyers", "differ", k, "one_of", n, "value")
            faults += [_moved(document, path, each) for each in wrong]
    if faults:
        raise InputFaults(faults)


def _moved(document, path, fault):
    """Return the fault of a brief as one of the template's key that makes it."""
    line, what = document.line_of(path), f"{fault.key}: {fault.what}"
    return InputFault(document.name, line, dotted(path), what, fault.allowed)


def _together_wrong(document, differ, choosing, chosen, fault):
    said = [differ[k].called[n] for k, n in zip(choosing, chosen, strict=True)]
    path = ("buyers", "differ")
    found = _moved(document, path, fault)
    return replace(found, what=f"with {' and '.join(said)}: {found.what}")


def _ends_wrong(document, brief, differ):
    """Yield the faults that a brief has at the ends of what differs."""
    for k, each in enumerate(differ):
        if each.is_choice:
            continue
        for end in (each.range.low, each.range.high):
            moved = brief
            for path in each.paths:
                figure = quantity_at(brief, path)
                if figure is None or figure.is_unknown:
                    break
                moved = with_value(moved, path, own_figure(each, figure, end))
            way = "times" if each.is_factor else "between"
            for _, wrong in check_brief(moved):
                path = ("buyers", "differ", k, way)
                line = document.line_of(path)
                of = document.name, line, dotted(path), wrong.what, wrong.allowed
                yield InputFault(*of)


def own_figure(differing, figure, value):
    """Return a buyer's own figure: this value, or the template's so many times."""
    if differing.is_factor:
        ends = (value * end for end in (figure.low, figure.likely, figure.high))
        low, likely, high = figure.within_bounds(ends)
        return replace(figure, low=low, likely=likely, high=high)
    ends, unit = (value, value, value), differing.range.unit
    text = f"{value:.6g} {unit}" if unit != "share" else f"{100 * value:.4g} %"
    return Quantity(*ends, unit, figure.kind, STATED, figure.bounds, text.strip())
