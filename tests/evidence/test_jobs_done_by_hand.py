"""Figures of a few rows of a job log, worked by hand."""

import math

import numpy as np
import pytest
from scipy.stats import t as student

from scoring.evidence.jobs_done import jobs_between, mean_of, ratio_of, seen
from scoring.inputs.job_log import load_job_log


def log(text):
    return load_job_log(("log.csv", text.encode()))


def test_a_mean_is_as_unsure_as_its_standard_error():
    """31, 28, 35, 30, 27: mean 30.2, Σ off² = 38.8, so s² = 9.7 and √(9.7/5)."""
    found = mean_of(np.array([31.0, 28.0, 35.0, 30.0, 27.0]))
    assert found.unsure == pytest.approx(math.sqrt(1.94) / 30.2)


def test_a_ratio_is_that_of_the_sums():
    """120 min for 6 m² and 120 min for 3: 240/9, not the mean of 20 and 40."""
    found = ratio_of(np.array([120.0, 120.0]), np.array([6.0, 3.0]))
    assert found[:4] == (2, 20, pytest.approx(240 / 9), 40)


def test_the_interval_of_a_ratio_is_that_of_its_residuals():
    """Minutes 60, 90, 100 of 2, 3 and 5 m²: r = 25; residuals 10, 15, −25.

    Cochran's variance is Σ d²/(n(n − 1)) over the mean area squared: 950/6/(10/3)²; the
    interval is t(0.975, 2) times its root, by scipy's t.
    """
    found = ratio_of(np.array([60.0, 90.0, 100.0]), np.array([2.0, 3.0, 5.0]))
    error = math.sqrt(950 / 6) / (10 / 3)
    assert found.likely == pytest.approx(25) and found.unsure == pytest.approx(
        error / 25
    )
    assert found.high == pytest.approx(25 + student.ppf(0.975, 2) * error, rel=1e-3)


def test_a_speed_runs_from_the_slowest_pace_to_the_fastest():
    """20 and 40 min a m², in all 240 min for 9 m²: 1.5, 2.25 and 3 m²/h."""
    text = (
        "day,kind,passes,area,print\n2026-03-02,hall,4,6,120\n2026-03-09,hall,4,3,120"
    )
    speed = seen(log(text), "Alder").speeds[4]
    assert (speed.low, speed.likely, speed.high) == pytest.approx((1.5, 2.25, 3))


def test_jobs_between_stoppages_are_as_unsure_as_their_count():
    """Four stoppages in 100 jobs: 25 between, and 1/√4 of it."""
    found = jobs_between(4, 100)
    assert (found.n, found.likely, found.unsure) == (4, 25, 0.5)
    assert found.low < 25 < found.high
