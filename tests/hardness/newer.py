"""Spoilt inputs of what came later: job logs, priors, predictions, cases, crowds."""

import io
import json
import math
import zipfile
from functools import cache

import yaml
from hypothesis import strategies as st

from scoring.inputs.sent_case import BEGINS, ENDS, FORM
from tests.hardness.mutations import (
    BRIEFS,
    HOSTILE,
    ROOT,
    SHEETS,
    cut_up,
    in_workbook,
    in_yaml,
    parsed,
    spoilt,
    spoilt_bytes,
    spoilt_table,
)

LOG_FILE = ROOT / "profiles/logs/corrandale-frame.csv"
LOG_TEXT = LOG_FILE.read_text(encoding="utf-8")
LOG = tuple(tuple(line.split(",")) for line in LOG_TEXT.splitlines())
TEMPLATE = ROOT / "profiles/populations/quenby.yaml"
OWN_SHEETS = [path for path in SHEETS if path.stem in ("lindqvar-plain", "ossery-twin")]
PRIORS = """\
time:
  ratio: 1.12
  unsure: 0.06
  between_sellers: 0.15
  between_figures: 0.12
  seen: 14
  sellers:
    Corrandale Frame: {ratio: 1.2, unsure: 0.08}
    Ossery Twin: {ratio: 0.95, unsure: 0.1}
speed: {ratio: 0.85, unsure: 0.05, between_sellers: 0.1, between_figures: 0.1, seen: 9}
ink: {ratio: 1.05, unsure: 0.05, between_sellers: 0.1, between_figures: 0.1}
"""
ALSO = """\
hire: {per_job: 700 EUR}
rent: {per_day: 240 EUR, includes: [ink, wear]}
used:
  - {machine: Lindqvar Plain, price: 7000 EUR, age: 3, stoppages: 1.4}
  - {machine: Ossery Twin, price: 9000 USD, age: 2}
wait: {months: 5, cheaper: 6 %}
"""
BANK = """\
tax_share: 22 %
enquiries_won: 35 %
forced_sale: 40 %
debts: 150 EUR
debt_months: 30
insured_by: a broker
stand_in: a colleague
"""
SURFACES = """\
painted: ready
plaster: {primer: 2 min/m², cost: 1.5 EUR/m², drying: 40 min}
brick: {primer: 4 min/m², varnish: 3 min/m², cost: 2 EUR/m²}
wood: {varnish: 2 min/m²}
"""
PREDICTION = """\
machine: Corrandale Frame
title: A case
frozen: '2026-04-20'
version: 1
seed: 1
draws: 2000
inputs: 0a1b
currency: EUR
figures:
  build: {part: build, unit: min, p10: 20, p50: 26, p90: 35, quantiles: [18, 26, 40]}
  prime: {part: prime, unit: min, p10: 8, p50: 11, p90: 15, quantiles: [7, 11, 18]}
  days to pay: {part: days_to_pay, unit: day, p10: 8, p50: 15, p90: 30,
    quantiles: [6, 15, 40]}
  jobs between stoppages: {part: jobs_between, p10: 20, p50: 60, p90: 150,
    quantiles: [15, 60, 200]}
  'waiting room: print': {part: print, kind: waiting room, unit: min, area: 7.0,
    p10: 90, p50: 130, p90: 190, quantiles: [80, 130, 220]}
  'waiting room: paid': {part: paid, kind: waiting room, unit: EUR, p10: 600, p50: 800,
    p90: 990, quantiles: [500, 800, 1100]}
  'waiting room: jobs_a_month': {part: jobs_a_month, kind: waiting room, p10: 0.4,
    p50: 1, p90: 2.2, quantiles: [0.2, 1, 3]}
"""


def kinds():
    """Return {kind: strategies of (name, bytes)} of the newer inputs."""
    rows = spoilt_table(LOG, "log.csv")
    return {
        "log": [
            _odd_log(),
            _odd_log(),
            rows,
            spoilt_bytes([("log.csv", LOG_TEXT.encode())]),
        ],
        "log_workbook": [_log_workbook(), spoilt_bytes([("log.xlsx", _whole_book())])],
        "priors": [_spoilt_text("priors.yaml", PRIORS)] * 2,
        "frozen": [_spoilt_text("frozen.yaml", PREDICTION)] * 2,
        "next": [_brief_of_next()] * 3,
        "surfaces": [_sheet_with_surfaces()] * 2,
        "template": [_template()] * 3,
        "zip": [_zip(), _zip(), spoilt_bytes([("case.zip", whole_zip())])],
        "folder": [_zip()],
        "sent": [_sent()] * 2,
        "crowd": [_crowd()] * 2,
    }


@st.composite
def _spoilt_text(draw, name, text):
    return name, in_yaml(spoilt(draw, yaml.safe_load(text)))


@st.composite
def _odd_log(draw):
    """Draw a log that may be one: cells scaled, empty or alike, rows few or many."""
    rows = [list(row) for row in LOG]
    for _ in range(draw(st.integers(1, 3))):
        c = draw(st.integers(2, len(LOG[0]) - 1))
        deed = draw(st.sampled_from(("scale", "empty", "alike", "one", "day", "kind")))
        times = draw(st.sampled_from((0.0, 1e-3, 0.1, 0.5, 2.0, 10.0, 100.0)))
        said = draw(st.sampled_from(("0", "1", "3", "99", "0.001", "600", "yes", "no")))
        for row in rows[1:] if deed != "one" else draw(st.sampled_from((rows[1:2],))):
            if deed == "scale" and row[c].replace(".", "").isdigit() and c > 2:
                row[c] = f"{float(row[c]) * times:.6g}"
            elif deed in ("empty", "alike", "one"):
                row[c] = "" if deed == "empty" else said
            elif deed == "day":
                row[0] = draw(st.sampled_from(("2026-05-04", "1900-01-01", row[0])))
            elif deed == "kind":
                row[1] = draw(
                    st.sampled_from(("waiting room", "WAITING ROOM", "x", row[1]))
                )
    first = draw(st.integers(1, len(rows) - 1))
    n = draw(st.sampled_from((1, 2, 3, 5, 20, 40)))
    times = draw(st.sampled_from((1, 1, 1, 40, 400)))
    some = [rows[0], *(rows[first : first + n] * times)]
    return "log.csv", "\n".join(",".join(row) for row in some).encode()


@st.composite
def _log_workbook(draw):
    """Draw a workbook whose cells are texts, numbers and days."""
    rows = [list(row) for row in LOG]
    for row in rows[1:]:
        row[3:] = [float(cell) if cell else None for cell in row[3:]]
    for _ in range(draw(st.integers(0, 4))):
        r, c = (
            draw(st.integers(0, len(rows) - 1)),
            draw(st.integers(0, len(LOG[0]) - 1)),
        )
        rows[r][c] = draw(CELLS)
    return "log.xlsx", in_workbook(rows)


CELLS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**20), 10**20),
    st.floats(allow_nan=False, allow_infinity=False),
    st.datetimes(),
    st.times(),
    st.timedeltas(),
    st.sampled_from([text for text in HOSTILE if text.isprintable()]),
)


@cache
def _whole_book():
    return in_workbook(LOG)


def brief_data():
    """Return the data of a brief with all that the newer questions read."""
    told = {"also": yaml.safe_load(ALSO), "bank": yaml.safe_load(BANK)}
    data = {key: value for key, value in parsed(BRIEFS[0]).items() if key != "leads"}
    return data | told


@st.composite
def _brief_of_next(draw):
    under = draw(st.sampled_from((("also",), ("bank",), ("payment", "money", "bank"))))
    return "next.yaml", in_yaml(spoilt(draw, brief_data(), under))


@st.composite
def _sheet_with_surfaces(draw):
    data = dict(parsed(SHEETS[0])) | {"surfaces": yaml.safe_load(SURFACES)}
    return SHEETS[0].name, in_yaml(spoilt(draw, data, ("surfaces",)))


@st.composite
def _template(draw):
    under = draw(st.sampled_from((("buyers",), ("buyers",), ())))
    return TEMPLATE.name, in_yaml(spoilt(draw, parsed(TEMPLATE), under))


@cache
def parts():
    """Return {path: bytes} of a whole case."""
    found = {f"machines/{path.name}": path.read_bytes() for path in OWN_SHEETS}
    found["machines/retired/old.yaml"] = (
        OWN_SHEETS[0].read_bytes().replace(b"name: Lindqvar Plain", b"name: Old One")
    )
    folder = BRIEFS[0].parent
    data = brief_data()
    for job in data["work"]:
        if "artwork" in job:
            found[job["artwork"]] = (folder / job["artwork"]).read_bytes()
    found["page.json"] = b'{"weights": {"odour": 3}}'
    return found | {"brief.yaml": in_yaml(data)}


@cache
def whole_zip():
    """Return the bytes of a whole case."""
    return _zipped([*parts().items()])


def _zipped(entries, link=None):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for k, (name, data) in enumerate(entries):
            info = zipfile.ZipInfo(
                name.replace("\x00", "") or "x", (1980, 1, 1, 0, 0, 0)
            )
            if k == link:
                info.external_attr = 0o120777 << 16
            archive.writestr(info, data)
    return packed.getvalue()


@st.composite
def _zip(draw):
    """Draw an archive with a part spoilt, renamed, added, taken out, or a link."""
    entries, link = [*parts().items()], None
    for _ in range(draw(st.sampled_from((1, 1, 2)))):
        if not entries:
            break
        k = draw(st.integers(0, len(entries) - 1))
        name, data = entries[k]
        deed = draw(
            st.sampled_from(("yaml", "yaml", "bytes", "name", "add", "drop", "link"))
        )
        if deed == "yaml" and name.endswith(".yaml") and name in parts():
            whole = parts()[name]  # what stands there may be spoilt already
            entries[k] = name, in_yaml(spoilt(draw, yaml.safe_load(whole)))
        elif deed == "bytes":
            entries[k] = name, cut_up(draw, data)
        elif deed == "name":
            entries[k] = draw(ODD_PATHS), data
        elif deed == "add":
            entries.append((draw(ODD_PATHS), data))
        elif deed == "drop":
            del entries[k]
        elif deed == "link":
            link = k
    names = [name for name, _ in entries]
    if len({*names}) < len(names):  # zipfile warns of it
        entries = [*dict(entries).items()]
    return "case.zip", _zipped(entries, link)


ODD_PATHS = st.one_of(
    st.sampled_from(
        (
            *("../brief.yaml", "/etc/passwd", "machines/../../x.yaml", "C:\\x.yaml"),
            *("machines/.hidden.yaml", "machines/a/b.yaml", "con.yaml", "a" * 300),
            *("machines/A.YAML", "machines/LINDQVAR-PLAIN.yaml", "leads.csv", "x.png"),
            *("page.json", "versions/000001.zip", "scenarios/a.zip", "x.exe"),
            *("__MACOSX/._brief.yaml", "machines/old.yaml", "machines/retired/x.yaml"),
        )
    ),
    st.text(st.characters(codec="utf-8"), min_size=1, max_size=30),
)


@st.composite
def _sent(draw):
    """Draw a page with a case in it, spoilt as data or byte by byte."""
    sent = {
        "form": FORM,
        "brief": parts()["brief.yaml"].decode(),
        "machines": [path.read_text(encoding="utf-8") for path in OWN_SHEETS],
        "files": {},
    }
    if draw(st.booleans()):
        data = spoilt(draw, yaml.safe_load(sent["brief"]))
        sent["brief"] = in_yaml(data).decode("utf-8", "replace")
    else:
        sent = spoilt(draw, sent)
    try:
        text = json.dumps(sent).encode()
    except (TypeError, ValueError, UnicodeEncodeError):
        text = repr(sent).encode("utf-8", "replace")
    page = b"<p>x</p>" + BEGINS + text + ENDS
    return "case.html", cut_up(draw, page) if draw(st.booleans()) else page


@st.composite
def _crowd(draw):
    """Draw what stands in a folder of many buyers, as a zip of it."""
    asked, columns = crowd_parts()
    data, part = json.loads(asked), dict(columns)
    deed = draw(st.sampled_from(("asked", "bytes", "column", "column")))
    if deed == "asked":
        data = spoilt(draw, data)
    elif deed == "column":
        _spoil_column(draw, part)
    try:
        text = json.dumps(data).encode()
    except (TypeError, ValueError, UnicodeEncodeError):
        text = repr(data).encode("utf-8", "replace")
    packed = in_parquet(part)
    packed = cut_up(draw, packed) if deed == "bytes" else packed
    return "crowd.zip", _zipped(
        [("population.json", text), ("buyers-0.parquet", packed)]
    )


def _spoil_column(draw, columns):
    """Put something else into some rows of a column, take it away, or cut it."""
    name = draw(st.sampled_from(sorted(columns)))
    column = columns[name]
    rows = draw(st.sampled_from((slice(0, 1), slice(0, len(column)), slice(3, 9))))
    odd = draw(st.sampled_from((math.nan, math.inf, -1.0, 1e300, 0.5, 99.0)))
    deed = draw(st.sampled_from(("odd", "odd", "texts", "drop", "lists")))
    if deed == "odd":
        columns[name] = column.astype(float)
        columns[name][rows] = odd
    elif deed == "texts":
        columns[name] = column.astype(str)
    elif deed == "lists":
        columns[name] = [[value] for value in column.tolist()]
    else:
        del columns[name]


def in_parquet(columns):
    """Return columns as the bytes of a Parquet file."""
    import pyarrow as pa
    from pyarrow import parquet

    held = io.BytesIO()
    parquet.write_table(pa.table(columns), held)
    return held.getvalue()


@cache
def crowd_parts():
    """Return (population.json, columns) of a small folder of many buyers."""
    from tests.hardness.newer_doors import small_crowd

    return small_crowd()
