"""Predicted against lived: frozen when buying, scored once there is a job log."""

import hashlib
import math
from dataclasses import dataclass

import numpy as np

from scoring.answer.run import redrawn
from scoring.decision.predictions import (
    crps_of_sample,
    place_in,
    with_counts,
    with_error,
)
from scoring.errors import ScoringError
from scoring.evidence.draws import drawn
from scoring.evidence.jobs_done import FEWEST, ratio_of, seen, share_of
from scoring.inputs.prediction import (
    N_QUANTILES,
    VERSION,
    PredictedFigure,
    PredictionFile,
)
from scoring.inputs.print_tests import NORMAL_95, T_95

N_DRAWS = 2_000
COUNTED = ("jobs_a_month", "jobs_between")  # told by a number of events, 0 too
STOPPAGES = "stoppages"
EVENLY = (np.arange(N_QUANTILES) + 0.5) / N_QUANTILES
RANGE = (0.1, 0.9)
SEEN_ON_PURPOSE = 2.0  # standard errors off 1 from which a bias is called one
FEWEST_FOR_BIAS = 5  # figures


@dataclass(frozen=True)
class Scored:
    """One figure as predicted and as lived."""

    part: str
    kind: str
    unit: str
    n: int  # jobs behind what was lived
    p10: float
    p50: float
    p90: float
    lived: float
    unsure: float  # standard error of what was lived
    is_inside: bool  # within the 80 % range, the error of the log counted in
    place: float  # 0–1, of what was lived in the prediction
    crps: float  # in the figure's unit
    crps_share: float  # of the middle of the prediction
    mean: float  # of the prediction, the error of the log counted in
    spread: float  # its standard deviation


@dataclass(frozen=True)
class Bias:
    """How far the figures of one part came out above or below their middle."""

    part: str
    n: int
    n_inside: int
    ratio: float  # lived over predicted
    unsure: float  # its standard error
    crps_share: float

    @property
    def is_found(self):
        """Whether it is more than chance would do."""
        return abs(self.ratio - 1) > SEEN_ON_PURPOSE * self.unsure


@dataclass(frozen=True)
class Lived:
    """Every figure of one prediction, scored."""

    prediction: PredictionFile
    n_jobs: int
    figures: tuple[Scored, ...]
    not_scored: tuple[str, ...]  # names of figures that the log does not tell


@dataclass(frozen=True)
class ReportCard:
    """How good many predictions were."""

    n_files: int
    n: int
    share_inside: float
    inside_low: float  # 95 % interval of that share, figures taken as independent
    inside_high: float
    crps_share: float  # mean, of the middle of each prediction
    biases: tuple[Bias, ...]


def freeze(evaluation, name, day, n_draws=N_DRAWS):
    """Return the PredictionFile of one machine: P10, P50, P90 of each lived figure.

    Parameters
    ----------
    evaluation : Evaluation
    name : of the machine that is bought
    day : ISO day
    n_draws : draws behind each range

    Raises
    ------
    ScoringError
        If no machine has that name.
    """
    k, brief = evaluation.index(name), evaluation.brief
    figures = drawn_figures(evaluation, k, n_draws)
    machine = evaluation.machines[k]
    both = f"{brief.text}\n{machine.text}".encode()
    return PredictionFile(
        machine=name,
        title=brief.title,
        frozen=day,
        version=VERSION,
        seed=evaluation.seed,
        draws=n_draws,
        inputs=hashlib.sha256(both).hexdigest(),
        currency=brief.currency,
        figures={
            key: _predicted(part, kind, unit, area, values)
            for key, (part, kind, unit, area, values) in figures.items()
        },
    )


def drawn_figures(evaluation, k, n_draws, start=0):
    """Return {name: (part, kind, unit, area, (draw,))} of what a log may tell.

    What cannot be done in half of the draws is not predicted.
    """
    brief, name = evaluation.brief, evaluation.names[k]
    given = drawn(evaluation.evidence, brief, evaluation.seed, start, start + n_draws)
    again, _ = redrawn(evaluation, given)
    machines, lived = again.figures.machines, again.outcome

    def of_machine(array):
        return np.broadcast_to(array[:, min(k, array.shape[1] - 1), 0], n_draws)

    def of_job(array, j):
        place = array[:, min(k, array.shape[1] - 1)]
        return np.broadcast_to(place[:, min(j, place.shape[1] - 1)], n_draws)

    found = {
        "build": ("build", "", "min", None, of_machine(machines.assembly_min)),
        "prime": ("prime", "", "min", None, of_machine(machines.prime_min)),
        "move": ("move", "", "min", None, of_machine(machines.move_min)),
        "pack": ("pack", "", "min", None, of_machine(machines.pack_down_min)),
    }
    pay = given["brief", "trade.days_to_pay"]
    found["days to pay"] = ("days_to_pay", "", "day", None, pay)
    between = given.get((name, "reliability.jobs_between_stoppages"))
    if between is not None:
        found["jobs between stoppages"] = ("jobs_between", "", "", None, between)
    for j, job in enumerate(brief.work):
        can_do = of_job(lived.can_do, j).astype(bool)
        if can_do.mean() < 0.5:
            continue
        area = job.walls * job.width.likely * job.height.likely
        income = of_job(lived.contribution_lines.revenue, j)
        per_month = of_job(lived.year.served_per_month, j)
        for part, unit, size, values in (
            ("print", "min", area, of_job(lived.site.print_min, j)[can_do]),
            ("carry", "min", None, of_job(lived.carry_min, j)[can_do]),
            ("paid", brief.currency, None, income[can_do]),
            ("jobs_a_month", "", None, per_month),
        ):
            found[f"{job.name}: {part}"] = (part, job.name, unit, size, values)
    return {key: each for key, each in found.items() if np.isfinite(each[-1]).all()}


def _predicted(part, kind, unit, area, values):
    low, middle, high = np.quantile(values, [RANGE[0], 0.5, RANGE[1]])
    ends = np.maximum.accumulate(np.quantile(values, EVENLY))
    return PredictedFigure(
        part=part,
        kind=kind,
        unit=unit,
        area=area,
        p10=_six(low),
        p50=_six(middle),
        p90=_six(high),
        quantiles=tuple(_six(end) for end in ends),
    )


def _six(value):
    """Return a number with six digits that count, so that a file stays readable."""
    return float(f"{value:.6g}")


def lived(prediction, done):
    """Return the Lived of a prediction and the JobsDone that came after it.

    Raises
    ------
    ScoringError
        If the log tells none of what was predicted.
    """
    log = seen(done, prediction.machine)
    told = _told(log, done, prediction)
    figures, missing = [], []
    for name, figure in prediction.figures.items():
        came = told.get((figure.part, figure.kind.casefold()))
        if figure.part in COUNTED and not math.isnan(log.months):
            figures.append(_counted(figure, log))
        elif came is not None:
            figures.append(_scored(figure, *came))
        else:
            missing.append(name)
    if not figures:
        what = f"tells none of the figures that {prediction.source} predicts"
        raise ScoringError(f"{done.name}: {what}")
    return Lived(prediction, log.n_jobs, tuple(figures), tuple(missing))


def _told(log, done, prediction):
    """Return {(part, kind): (mean, standard error, jobs)} of what a log tells."""
    found = {}

    def add(part, kind, figure, times=1.0):
        if figure is None or figure.n < FEWEST:
            return
        error = figure.likely * figure.unsure * times
        if math.isfinite(error):
            mean = figure.likely * times
            found[part, kind.casefold()] = (mean, error, figure.n)

    keys = {"assembly_time": "build", "prime_time": "prime"}
    keys |= {"move_time": "move", "pack_down_time": "pack"}
    for key, figure in log.times.items():
        add(keys[key], "", figure)
    add("days_to_pay", "", log.days_to_pay)
    areas = {
        figure.kind.casefold(): figure.area
        for figure in prediction.figures.values()
        if figure.area
    }
    for kind in log.kinds:
        pace = _pace(log, done, kind.name)
        area = areas.get(kind.name.casefold())
        if pace is not None and area:  # the jobs done may be larger than the brief's
            add("print", kind.name, pace, area)
        else:
            add("print", kind.name, kind.print)
        add("carry", kind.name, kind.carry)
        if log.currency == prediction.currency:
            add("paid", kind.name, kind.paid)
    return found


def _pace(log, done, kind):
    """Return the Seen of minutes a m² of one kind of job, None where it is not told."""
    rows = [
        row
        for row in done.rows
        if row.is_won
        and row.kind.casefold() == kind.casefold()
        and row.machine in ("", log.machine)
    ]
    took, area = (np.array([getattr(r, x) for r in rows]) for x in ("print", "area"))
    return ratio_of(took, area)


def _counted(figure, log):
    """Return the Scored of a number of events: jobs a month, or stoppages."""
    name = figure.kind.casefold()
    if figure.part == "jobs_a_month":
        n = next((k.n for k in log.kinds if k.name.casefold() == name), 0)
        rates, exposure, scale = np.array(figure.quantiles), log.months, log.months
        ends = figure.p10, figure.p50, figure.p90
    else:
        n, exposure, scale = log.stoppages, log.n_jobs, 1.0
        rates = 1 / np.array(figure.quantiles)[::-1]
        ends = (log.n_jobs / end for end in (figure.p90, figure.p50, figure.p10))
    sample = with_counts(rates, exposure) / scale
    unit = STOPPAGES if figure.part == "jobs_between" else figure.unit
    return _made(figure, unit, tuple(ends), sample, n / scale, math.sqrt(n) / scale, n)


def _scored(figure, came, error, n):
    """Return the Scored of one figure; the log's own error widens the prediction.

    Of few jobs the error is itself unsure: it counts as Student's t would have it.
    """
    t = T_95[n - 2] if n - 1 <= len(T_95) else NORMAL_95
    error *= t / NORMAL_95
    sample = with_error(np.array(figure.quantiles), np.array(error))
    ends = figure.p10, figure.p50, figure.p90
    return _made(figure, figure.unit, ends, sample, came, error, n)


def _made(figure, unit, ends, sample, came, error, n):
    """Return the Scored of what came, against a sample of what was to come."""
    place = float(place_in(sample, np.array(came)))
    crps, mean = float(crps_of_sample(sample, np.array(came))), float(sample.mean())
    return Scored(
        figure.part,
        figure.kind,
        unit,
        n,
        *ends,
        lived=came,
        unsure=error,
        is_inside=RANGE[0] <= place <= RANGE[1],
        place=place,
        crps=crps,
        crps_share=crps / mean if mean > 0 else math.nan,
        mean=mean,
        spread=float(sample.std()),
    )


def report_card(many):
    """Return the ReportCard of several Lived, one prediction each.

    The bias of a part is what was lived of it over what was predicted, summed over all
    its figures, each as a share of its prediction; its error is the larger of what the
    figures themselves scatter by and what chance would do if all ranges held.

    Raises
    ------
    ScoringError
        Without any.
    """
    figures = [figure for one in many for figure in one.figures]
    if not figures:
        raise ScoringError("there is no prediction to score")
    n_inside = sum(figure.is_inside for figure in figures)
    inside = share_of(n_inside, len(figures))
    shares = [f.crps_share for f in figures if math.isfinite(f.crps_share)]
    return ReportCard(
        n_files=len(many),
        n=len(figures),
        share_inside=inside.likely,
        inside_low=inside.low,
        inside_high=inside.high,
        crps_share=float(np.mean(shares)) if shares else math.nan,
        biases=tuple(
            _bias(part, [figure for figure in figures if figure.part == part])
            for part in dict.fromkeys(figure.part for figure in figures)
        ),
    )


def _bias(part, own):
    """Return the Bias of the figures of one part."""
    n_inside = sum(figure.is_inside for figure in own)
    known = [figure for figure in own if figure.mean > 0]
    if not known:
        return Bias(part, len(own), n_inside, math.nan, math.inf, math.nan)
    if part in COUNTED:  # few events each: their sums, not the mean of ratios with 0
        total = sum(figure.mean for figure in known)
        ratios = np.array([figure.lived for figure in known]) / total * len(known)
        spreads = np.array([figure.spread for figure in known]) / total * len(known)
    else:
        ratios = np.array([figure.lived / figure.mean for figure in known])
        spreads = np.array([figure.spread / figure.mean for figure in known])
    n = len(ratios)
    by_ranges = math.sqrt(float((spreads**2).sum())) / n
    scatter = float(ratios.std(ddof=1)) / math.sqrt(n) if n >= FEWEST_FOR_BIAS else 0.0
    share = float(np.mean([figure.crps_share for figure in known]))
    error = max(by_ranges, scatter)
    return Bias(part, len(own), n_inside, float(ratios.mean()), error, share)
