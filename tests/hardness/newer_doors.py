"""The newer inputs driven through what commands and page use."""

import io
import json
import math
import shutil
import zipfile
from dataclasses import asdict
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from scoring import evaluate
from scoring.errors import InputFaults, ScoringError
from scoring.evidence.buyers import sampled
from scoring.inputs.brief_files import BRIEF, load_brief
from scoring.inputs.case.folder import load_case, save_case, undo
from scoring.inputs.case.record import read
from scoring.inputs.case.zipped import is_plain, unzipped, zipped
from scoring.inputs.claims import claims_text, load_claims
from scoring.inputs.job_log import load_job_log
from scoring.inputs.machine_folder import load_machines, read_machine
from scoring.inputs.prediction import load_prediction, prediction_text
from scoring.inputs.sent_case import read_case
from scoring.population.buyers import best, population_of
from scoring.population.folder import asked_of, columns_of
from scoring.population.run import task_of
from scoring.population.shown import shown
from scoring.population.unit import read as read_task
from scoring.population.unit import units_of, worked
from scoring.questions.bank_case import bank_case
from scoring.questions.job_log import BRIEF as OF_BRIEF
from scoring.questions.job_log import SHEET, from_log
from scoring.questions.lived import lived, report_card
from scoring.questions.log_taken_over import taken_over
from scoring.questions.other_ways import other_ways, steps
from scoring.records.job_log import job_log_record
from scoring.records.lived import card_record, lived_record
from scoring.records.population import population_record
from scoring.report.bank_case import bank_case_html, page_of
from scoring.report.bank_workbook import bank_workbook
from scoring.text.job_log import job_log_text
from scoring.text.lived import card_text, lived_text
from scoring.text.other_ways import steps_text, ways_text
from scoring.text.population import population_rows, population_text
from tests.hardness import newer
from tests.hardness.mutations import BRIEFS, SHEETS, in_yaml
from tests.hardness.newer import (
    LOG_FILE,
    OWN_SHEETS,
    PREDICTION,
    TEMPLATE,
    brief_data,
)

DRAWS = 40
BUYERS = 60
MACHINE = "Corrandale Frame"  # whose jobs the log tells


class Unsound(Exception):
    """Figures that contradict each other, or a file of ours that is refused."""


@cache
def _files():
    folder = BRIEFS[0].parent
    found = sorted((folder / "artwork").iterdir())
    return {f"artwork/{path.name}": path.read_bytes() for path in found}


@cache
def _brief():
    return load_brief((BRIEF, in_yaml(brief_data())), _files())


@cache
def _machines(names=(MACHINE,)):
    found = load_machines(SHEETS)
    return tuple(machine for machine in found if machine.name in names)


@cache
def _two():
    return load_machines(OWN_SHEETS)


def _json(record):
    return json.dumps(record, allow_nan=False, ensure_ascii=False)


def log(name, data):
    """Return what is said of a job log; what it changes must be a file again."""
    return _from_log(load_job_log((name, data)))


def _from_log(done, before=None, brief=None):
    machine = _machines()[0]
    found = from_log(done, machine, brief or _brief(), before, [MACHINE])
    _check_seen(found.seen)
    for claim in found.claims.values():
        _hold(0 < claim.ratio < math.inf, "a ratio that is none")
    said = [job_log_text(found), _json(asdict(job_log_record(found)))]
    sheet = taken_over(found, SHEET).encode()
    again = _again(lambda: read_machine((machine.source, sheet)))
    text = taken_over(found, OF_BRIEF).encode()
    changed = _again(lambda: load_brief((BRIEF, text), _files()))
    evaluate(changed, [again, *_two()], n_draws=DRAWS)
    scored = _scored(_prediction(), done)
    return said + scored


def _again(deed):
    """Return what a file of our own says; it must not be refused."""
    try:
        return deed()
    except InputFaults as error:
        raise Unsound(f"a file that a log wrote is refused: {error}") from None


@cache
def _prediction():
    return load_prediction(("frozen.yaml", PREDICTION.encode()))


@cache
def _own_log():
    return load_job_log((LOG_FILE.name, LOG_FILE.read_bytes()))


def _check_seen(seen):
    for part in (*seen, *seen.times.values(), *seen.speeds.values()):
        for figure in part if isinstance(part, tuple) else (part,):
            if hasattr(figure, "likely"):
                _rises(figure)
    for kind in seen.kinds:
        for figure in kind:
            if hasattr(figure, "likely"):
                _rises(figure)
    if seen.won is not None:
        _hold(0 <= seen.won.low and seen.won.high <= 1, "a share that is none")


def _rises(figure):
    ends = figure.low, figure.likely, figure.high
    _hold(all(map(math.isfinite, ends)), f"an end that is no number: {ends}")
    _hold(list(ends) == sorted(ends) and figure.low >= 0, f"ends that fall: {ends}")


def _hold(is_so, what):
    if not is_so:
        raise Unsound(what)


def _scored(prediction, done):
    """Return what is said of a prediction and a log that came after it."""
    try:
        found = lived(prediction, done)
    except ScoringError as error:
        if "predicts" in str(error) or "no job was done" in str(error):
            return []
        raise
    for one in found.figures:
        _hold(0 <= one.place <= 1 and one.crps >= -1e-9, "a score that is none")
        _hold(math.isfinite(one.mean) and one.n >= 0, "a figure that is none")
    card = report_card([found])
    _hold(0 <= card.inside_low <= card.share_inside <= card.inside_high <= 1, "a share")
    records = [_json(card_record(card)), _json(lived_record(found))]
    return [lived_text(found, card), card_text(card), *records]


def frozen(name, data):
    """Return what is said of a frozen prediction against a log."""
    found = load_prediction((name, data))
    again = _again(lambda: load_prediction((name, prediction_text(found).encode())))
    _hold(again.model_dump() == found.model_dump(), "a prediction that changes")
    return _scored(found, _own_log())


def priors(name, data):
    """Return what is said of a log after what was learnt before."""
    before = load_claims((name, data)).learnt
    text = claims_text(before, "1 log")
    _again(lambda: load_claims((name, text.encode())))
    return [text, *_from_log(_own_log(), before)]


def what_next(name, data):
    """Return the case for the bank, other ways and steps of a brief."""
    brief = load_brief((name, data), _files())
    evaluation = evaluate(brief, _two(), n_draws=DRAWS)
    case = bank_case(evaluation, evaluation.names[0])
    _hold(0 <= case.chance_below <= 1, "a chance that is none")
    _hold(not math.isnan(case.lowest), "a cover that is no number")
    uses, sources = sum(case.uses.values()), sum(case.sources.values())
    _hold(abs(uses - sources) <= 1e-6 * (1 + abs(uses)), "uses that are not sources")
    page = page_of(case, _files())
    said = [*page.lead, *(f"{rows}" for rows in (page.uses, page.sources, page.stress))]
    if len(data) % 4 == 0:
        bank_workbook(case)
        said.append(bank_case_html(case, _files()).replace(page.data, ""))
    ways = other_ways(evaluation)
    for way in ways:
        figures = way.left_per_job, way.jobs, way.year_result, way.npv
        _hold(np.isfinite(figures).all() and way.jobs >= 0, "a way's figure")
    said.append(ways_text(evaluation, ways))
    found = steps(evaluation, evaluation.names[0])
    plan = found.plan
    _hold(plan.worth_of_waiting >= -1e-6 * (1 + abs(plan.worth)), "worth below 0")
    _hold(0 <= plan.chance_bought <= 1 + 1e-9, "a chance that is none")
    return [*said, steps_text(found)]


@cache
def _sheets_folder():
    folder = TemporaryDirectory()
    for path in OWN_SHEETS:
        shutil.copy(path, folder.name)
    return folder


def template(name, data):
    """Return what is said of the few buyers of a template."""
    task = task_of((name, data), _sheets_folder().name, DRAWS, 1)
    if len(data) % 3:
        return []
    asked, columns = _worked(task)
    part = newer.in_parquet(columns)
    files = {"population.json": asked.encode(), "buyers-0.parquet": part}
    return _shown(population_of(*columns_of(files)))


def _shown(population):
    found = shown(population)
    shares = [row.share for row in found.for_whom]
    _hold(abs(sum(shares) + found.none - 1) < 1e-9, "shares that do not sum to 1")
    for row in found.for_whom:
        _hold(all(0 <= s <= 1 for s in (row.out, *row.by_price)), "a share")
        _hold(math.isnan(row.lost) or row.lost >= 0, "regret below 0")
    counted = sum(cell.n_buyers for cell in found.crowd_map.cells)
    _hold(counted == len(population), "buyers that are in no cell")
    _hold(len(best(population)) == len(population), "buyers without an answer")
    said = [population_text(found), _json(population_record(found))]
    return [*said, str(population_rows(found)).replace("nan", "")]


def small_crowd():
    """Return (population.json, columns) of a few buyers."""
    return _worked(task_of(str(TEMPLATE), _sheets_folder().name, DRAWS, 1))


def _worked(task):
    crowd, machines, _ = read_task(task)
    sample = sampled(crowd, BUYERS, 1)
    unit = units_of(sample, DRAWS, DRAWS * BUYERS)[0]
    asked = asked_of(task, crowd, machines, BUYERS)
    return json.dumps(asked), worked(task, unit)


def crowd(name, data):
    """Return what is said of a folder of many buyers."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        files = {each: archive.read(each) for each in archive.namelist()}
    return _shown(population_of(*columns_of(files)))


def case_in_zip(name, data):
    """Return what is said of a case in a zip; kept, it is what it was."""
    case, page = unzipped((name, data))
    again, kept = unzipped((name, zipped(case, page)))
    _hold((again, kept) == (case, page), "a case that changes in a zip")
    with TemporaryDirectory() as folder:
        save_case(folder, case)
        _hold(load_case(folder) == case, "a case that changes in a folder")
        save_case(folder, unzipped(("case.zip", _own_zip()))[0], before=case)
        _hold(
            undo(folder) == case and load_case(folder) == case, "an undo that is none"
        )
    return _of_case(case)


@cache
def _own_zip():
    return newer.whole_zip()


def _of_case(case):
    from tests.hardness.driving import _all_of

    found = read(case)
    return _all_of(found.brief, found.machines)


def case_in_folder(name, data):
    """Return what is said of a case that lies in a folder."""
    with TemporaryDirectory() as folder, zipfile.ZipFile(io.BytesIO(data)) as archive:
        for each in archive.namelist():
            path = Path(folder) / each
            if is_plain(each) and not any(p.is_file() for p in path.parents):
                path.parent.mkdir(parents=True, exist_ok=True)
                if not path.is_dir():
                    path.write_bytes(archive.read(each))
        try:
            brief, case = load_brief(folder), load_case(folder)
        except ScoringError as error:
            raise ScoringError(str(error).replace(folder, "")) from None
    return [brief.title.replace("nan", ""), *_of_case(case)]


def sent(name, data):
    """Return what is said of a case in a page that was sent."""
    return _of_case(read_case((name, data)))


DOORS = {
    "log": log,
    "log_workbook": log,
    "priors": priors,
    "frozen": frozen,
    "next": what_next,
    "template": template,
    "zip": case_in_zip,
    "folder": case_in_folder,
    "sent": sent,
    "crowd": crowd,
}
