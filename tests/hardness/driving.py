"""One spoilt input driven through what commands and page use: what becomes of it."""

import dataclasses
import json
import re
import shutil
import sys
import time
import warnings
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory, gettempdir

import numpy as np

from scoring import evaluate, load_brief, load_machines
from scoring.charts.contributions import bars, table
from scoring.errors import FAULTS, ScoringError, is_hidden
from scoring.inputs.brief_files import with_leads, with_picture
from scoring.inputs.decision_table import load_table
from scoring.inputs.leads_file import load_leads
from scoring.inputs.picture_file import load_artwork
from scoring.questions.best_price import best_buy_prices
from scoring.questions.find_out import questions
from scoring.questions.firmness import how_firm
from scoring.questions.fleet.choices import choices
from scoring.questions.fleet.ranges import ranges as spread_of
from scoring.questions.weight_ranges import stability_of
from scoring.questions.years import years
from scoring.records.decision_table import table_record
from scoring.records.firmness import firm_record
from scoring.records.fleet import fleet_record
from scoring.records.job import job_record
from scoring.records.money import money_records
from scoring.records.ranking import ranking_record
from scoring.report.demo_day import demo_day_html
from scoring.text.decision_table import table_text
from scoring.text.firmness import firm_rows, firm_text
from scoring.text.fleet import fleet_text
from scoring.text.job import job_rows, job_text
from scoring.text.ranking import ranking_rows, ranking_text
from scoring.words.money import does_it_pay, how_paid, low_point
from scoring.words.workings.criteria import working
from tests.hardness import newer_doors
from tests.hardness.mutations import BRIEFS, ROOT, SHEETS

OTHERS = [path for path in SHEETS if path.stem in ("lindqvar-plain", "ossery-twin")]
DRAWS = 40
SLOW_S = 2.0  # of processor time, for what one command says
DEEP_S = 10.0  # for what five say
LONGEST = 800  # characters of one sentence
LIBRARY = re.compile(r"[Ii]nput should|pydantic|Traceback|surrogat|codec can't|numpy")
PLACES = (ROOT, Path(gettempdir()), Path.home(), Path(sys.base_prefix))
PATHS = re.compile("|".join(re.escape(str(place)) + r"\b" for place in PLACES))
ACCEPTED, REFUSED = "accepted", "refused"


@dataclasses.dataclass(frozen=True)
class Found:
    """What became of a case: accepted, refused, or a defect with a word on it."""

    outcome: str
    what: str = ""


def driven(case):
    """Return the Found of a case (kind, name, bytes)."""
    kind, name, data = case
    begun = time.process_time()
    try:
        with warnings.catch_warnings(), np.errstate(all="raise", under="ignore"):
            warnings.simplefilter("error")
            said = DOORS[kind](name, data)
        found = _told(said)
    except ScoringError as error:
        found = _sentence(str(error))
    except Exception as error:  # all else is what is looked for
        found = Found(f"{type(error).__name__} in {_where(error)}", str(error)[:200])
    spent = time.process_time() - begun
    slow = DEEP_S if kind in newer_doors.DOORS or _is_deep(data) else SLOW_S
    return Found("too slow", f"{spent:.1f} s") if spent > slow else found


def _is_deep(data):
    """Return whether the slow parts are driven too: with every fourth input."""
    return len(data) % 4 == 0


def _where(error):
    """Return the last place of our own code in a traceback."""
    places, step = [], error.__traceback__
    while step:
        path = Path(step.tb_frame.f_code.co_filename)
        if "scoring" in path.parts:
            places.append(f"{path.name}:{step.tb_frame.f_code.co_name}")
        step = step.tb_next
    return places[-1] if places else "a library"


def _sentence(text):
    lines = text.splitlines()
    if not text.strip():
        return Found("says nothing")
    if max(map(len, lines)) > LONGEST:
        return Found("a sentence too long", text[:200])
    if len(lines) > 10 * (FAULTS + 1):
        return Found("too many sentences", text[:200])
    if any(is_hidden(c) for c in text.replace("\n", "")):
        return Found("a hidden mark is printed", repr(text[:200]))
    if LIBRARY.search(text):
        return Found("a library's words", text[:300])
    if PATHS.search(text):
        return Found("a path of this computer", text[:300])
    return Found(REFUSED)


def _told(said):
    """Return the Found of what an accepted input makes the toolkit say."""
    for text in said:
        if any(is_hidden(c) for c in text.replace("\n", "")):
            return Found("a hidden mark is printed", repr(text[:200]))
        if re.search(r"\b(nan|inf)\b", text):
            at = re.search(r"\b(nan|inf)\b", text).start()
            return Found("a figure that is none", text[max(0, at - 80) : at + 40])
    return Found(ACCEPTED)


@cache
def _others():
    return load_machines([(path.name, path.read_bytes()) for path in OTHERS])


@cache
def _brief():
    return load_brief(str(BRIEFS[0]))


def _sheet(name, data):
    others = [(path.name, path.read_bytes()) for path in OTHERS]
    others = [each for each in others if each[0] != name]
    every = load_machines([(name, data), *others])
    return _all_of(_brief(), every, is_deep=_is_deep(data))


def _brief_of(name, data):
    with TemporaryDirectory() as folder:  # what it names is sought beside it
        shutil.copytree(ROOT / "profiles/briefs", Path(folder) / "briefs")
        path = Path(folder) / "briefs" / name
        path.write_bytes(data)
        try:
            return _all_of(load_brief(path), _others(), is_deep=_is_deep(data))
        except ScoringError as error:  # whoever names a folder is told it again
            raise ScoringError(str(error).replace(folder, "")) from None


def _leads(name, data):
    return _all_of(with_leads(_brief(), load_leads((name, data))), _others())


def _picture(name, data):
    return _all_of(with_picture(_brief(), 0, load_artwork((name, data))), _others())


def _table(name, data):
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(data)
        try:
            record = table_record(load_table(path))
        except ScoringError as error:
            raise ScoringError(str(error).replace(folder, "")) from None
    return [_json(record), table_text(record), str(ranking_rows(record))]


def _json(record):
    return json.dumps(dataclasses.asdict(record), allow_nan=False, ensure_ascii=False)


def _all_of(brief, machines, is_deep=False):
    """Return what the commands and the page would say; if deep, the slow parts too."""
    evaluation = evaluate(brief, machines, n_draws=DRAWS)
    _check(evaluation)
    record, best = ranking_record(evaluation), evaluation.names[evaluation.order[0]]
    job, found = job_record(evaluation, best), years(evaluation)
    even = {name: () for name in evaluation.names}
    said = [_json(record), ranking_text(evaluation), str(ranking_rows(record))]
    said += [_json(job), job_text(evaluation, best), str(job_rows(job))]
    said += [_json(each) for each in money_records(evaluation, even)]
    for k, _ in enumerate(evaluation.names):
        said += [does_it_pay(found, k), *how_paid(found, k), low_point(found, k)]
    for criterion in evaluation.criteria:
        steps = working(evaluation, best, criterion.id, is_us=True)
        said += [step.text(is_us=True) for step in steps]
    said += [str(bars(evaluation)), str(table(evaluation))]
    return said + (_deep(evaluation) if is_deep else [])


def _deep(evaluation):
    """Return what firmness, the demo-day sheet and the second rig would say."""
    firm = how_firm(evaluation, DRAWS)
    asked = questions(firm)
    prices, ranges = best_buy_prices(evaluation), stability_of(evaluation)
    record = firm_record(firm, asked, prices, ranges)
    said = [_json(record), firm_text(firm, asked, record), str(firm_rows(record))]
    said += [demo_day_html(firm)]
    if evaluation.brief.owned:
        found = choices(evaluation)
        spread = spread_of(found)
        said += [_json(fleet_record(found, spread)), fleet_text(found, spread)]
    return said


class Unsound(Exception):
    """Figures that contradict each other."""


def _check(evaluation):
    """Raise Unsound where what must add up does not."""
    lived = evaluation.outcome
    year = lived.year
    parts = [
        (sum(lived.upfront_lines), lived.upfront, "cost to the door"),
        (sum(lived.contribution_lines), lived.contribution, "contribution"),
        (sum(year.lines), year.result, "year"),
    ]
    for total, whole, what in parts:
        total, whole = np.broadcast_arrays(total, whole)
        known = np.isfinite(whole)
        room = 1e-6 * (1 + np.abs(whole[known]).max(initial=0))
        if (np.abs(total[known] - whole[known]) > room).any():
            raise Unsound(f"the lines of the {what} do not add up")
    if not (0 <= evaluation.chance_in).all() or not (evaluation.chance_in <= 1).all():
        raise Unsound("a chance that is none")
    ranks = evaluation.rank_weighted_sum[evaluation.is_ranked]
    if ranks.size and ranks.min() != 1:
        raise Unsound("nobody is first")


DOORS = {
    "sheet": _sheet,
    "brief": _brief_of,
    "leads": _leads,
    "workbook": _leads,
    "table": _table,
    "picture": _picture,
    "surfaces": _sheet,
    **newer_doors.DOORS,
}
