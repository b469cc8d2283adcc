"""Predicted against lived, on logs whose truth is known."""

import datetime
import math

import numpy as np
import pytest

from scoring.errors import InputFaults, ScoringError
from scoring.inputs.job_log import JobDone, JobsDone
from scoring.inputs.prediction import load_prediction, prediction_text
from scoring.questions.lived import drawn_figures, freeze, lived, report_card
from tests.cases import demo

NAME = "Corrandale Frame"
DAYS = 500
N_WORLDS = 240


@pytest.fixture(scope="module")
def prediction():
    frozen = freeze(demo("new-entrant"), NAME, "2026-04-20")
    return load_prediction(("frozen.yaml", prediction_text(frozen).encode()))


@pytest.fixture(scope="module")
def worlds():
    """Return figures of worlds that the prediction has not seen: {name: (world,)}."""
    evaluation = demo("new-entrant")
    place = evaluation.index(NAME)
    return drawn_figures(evaluation, place, N_WORLDS, start=500_000)


def kinds_of(worlds):
    return {of[1]: of[3] for of in worlds.values() if of[0] == "print"}


def synthetic(worlds, d, rng, planted=None):
    """Return a log of world d: jobs at random, each part with a scatter of 15 %."""

    def part(name, n):
        values = worlds[name][4]  # of fewer draws where some cannot do the job at all
        mean = values[d % len(values)] * (planted or {}).get(name, 1.0)
        return mean * rng.lognormal(-(0.15**2) / 2, 0.15, n)

    rows, start = [], datetime.date(2027, 1, 1)
    for kind, area in kinds_of(worlds).items():
        rate = worlds[f"{kind}: jobs_a_month"][4][d]
        n = rng.poisson(rate * DAYS / (365.25 / 12))
        days = rng.integers(0, DAYS, n)
        stops = rng.poisson(1 / worlds["jobs between stoppages"][4][d], n)
        told = {
            "build": part("build", n),
            "prime": part("prime", n),
            "move": part("move", n),
            "pack": part("pack", n),
            "carry": part(f"{kind}: carry", n),
            "print": part(f"{kind}: print", n),
            "paid": part(f"{kind}: paid", n),
            "days_to_pay": part("days to pay", n),
            "days_down": np.where(stops > 0, 2.0, math.nan),
            "area": np.full(n, area),
            "ink": np.full(n, math.nan),
            "spoilt": np.full(n, math.nan),
        }
        for k, day in enumerate(days):
            figures = {name: float(values[k]) for name, values in told.items()}
            when = start + datetime.timedelta(days=int(day))
            rows.append(JobDone(k, when, kind, "", True, 4, 1, **figures))
    return JobsDone("log", tuple(rows), "EUR")


def scored(prediction, worlds, seed, planted=None, n=N_WORLDS):
    rng, found = np.random.default_rng(seed), []
    for d in range(n):
        log = synthetic(worlds, d, rng, planted)
        if len(log.rows) > 2:
            found.append(lived(prediction, log))
    return found


def test_ranges_come_true_as_often_as_they_say(prediction, worlds):
    """Of 2,000 figures and more, 80 ± 2 % lie in the 80 % range.

    Counts are whole numbers, so that their ranges hold at least as much.
    """
    card = report_card(scored(prediction, worlds, 1))
    counted = {"jobs_a_month", "jobs_between"}
    smooth = [bias for bias in card.biases if bias.part not in counted]
    n, inside = sum(b.n for b in smooth), sum(b.n_inside for b in smooth)
    assert n >= 2_000
    assert inside / n == pytest.approx(0.80, abs=0.02)
    rest = [bias for bias in card.biases if bias.part in counted]
    assert sum(b.n_inside for b in rest) / sum(b.n for b in rest) > 0.76
    assert not [bias for bias in smooth if abs(bias.ratio - 1) > 0.03]
    assert not [bias.part for bias in rest if abs(bias.ratio - 1) > 0.25]


def test_a_planted_bias_is_found_in_its_part(prediction, worlds):
    """Builds that take a third longer are told of, and by how much; pack is not."""
    card = report_card(scored(prediction, worlds, 2, {"build": 1.33}, 60))
    by_part = {bias.part: bias for bias in card.biases}
    assert by_part["build"].is_found
    assert by_part["build"].ratio == pytest.approx(1.33, abs=0.04)
    assert by_part["build"].n_inside < 0.5 * by_part["build"].n
    assert abs(by_part["pack"].ratio - 1) < 0.05


def test_one_log_with_a_planted_bias_is_found(prediction, worlds):
    """Of a single log too: priming that takes twice as long lies beyond the range."""
    log = synthetic(worlds, 3, np.random.default_rng(3), {"prime": 2.0})
    card = report_card([lived(prediction, log)])
    assert "prime" in [bias.part for bias in card.biases if bias.is_found]


def test_the_frozen_file_holds_what_the_model_says(prediction):
    """P10, P50, P90 are those of the draws, and the file says what is behind it."""
    values = drawn_figures(demo("new-entrant"), demo("new-entrant").index(NAME), 2_000)
    figure = prediction.figures["build"]
    ends = np.quantile(values["build"][4], [0.1, 0.5, 0.9])
    assert (figure.p10, figure.p50, figure.p90) == pytest.approx(tuple(ends), rel=1e-4)
    assert (prediction.seed, prediction.draws, prediction.machine) == (1, 2_000, NAME)
    assert len(prediction.inputs) == 64


def test_jobs_of_another_size_are_compared_by_the_area(prediction, worlds):
    """Twice the area in twice the minutes is no slower printing."""
    log = synthetic(worlds, 4, np.random.default_rng(4))
    twice = tuple(r._replace(area=2 * r.area, print=2 * r.print) for r in log.rows)
    ours, theirs = (
        {(f.part, f.kind): f.lived for f in lived(prediction, one).figures}
        for one in (log, log._replace(rows=twice))
    )
    assert ours == pytest.approx(theirs)


def test_a_file_that_was_changed_by_hand_is_told_of(prediction):
    """A part nobody knows, ends that do not rise: sentences with their line."""
    text = prediction.text.replace("part: build", "part: bild").replace(
        "part: prime\n    unit: min\n    p10: ",
        "part: prime\n    unit: min\n    p10: 9",
    )
    with pytest.raises(InputFaults) as raised:
        load_prediction(("frozen.yaml", text.encode()))
    assert "part 'bild'; build, prime" in str(raised.value)
    assert "does not rise; p10, p50, p90 in order" in str(raised.value)


def test_a_log_that_tells_nothing_cannot_be_scored(prediction):
    """One job on one day has no figure to hold against the prediction."""
    row = JobDone(
        2, datetime.date(2027, 1, 1), "x", "", True, None, None, *[math.nan] * 12
    )
    with pytest.raises(ScoringError, match="tells none of the figures"):
        lived(prediction, JobsDone("log.csv", (row,), None))
