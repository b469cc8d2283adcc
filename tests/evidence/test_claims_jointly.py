"""Claims that learn, against the joint normal distribution worked out by itself."""

import math

import numpy as np
import pytest

from scoring.evidence import claims
from scoring.evidence.claims import Ratio, learnt, next_claim
from scoring.inputs.claims import ClaimsLearnt
from scoring.inputs.claims_table import claims_table

MEAN, UNSURE, SELLERS, FIGURES = 0.12, 0.2, 0.15, 0.1
BEFORE = ClaimsLearnt(
    ratio=math.exp(MEAN),
    unsure=UNSURE,
    between_sellers=SELLERS,
    between_figures=FIGURES,
)
# (seller, log(timed/claimed), standard error of the log of what was timed)
TIMED = (
    ("Alder", 0.35, 0.02),
    ("Alder", 0.21, 0.10),
    ("Alder", 0.44, 0.05),
    ("Birch", -0.08, 0.01),
    ("Cedar", 0.60, 0.30),
    ("Cedar", 0.02, 0.00),
)


def jointly(timed):
    """Return (mean, covariance) of the kind's μ and each seller's μ + s, by Bayes.

    All is normal: μ ~ N(0.12, 0.2²), s_j ~ N(0, 0.15²), and a log is their sum with the
    variance 0.1² of figures and that of its own error. The conditional distribution of
    part of a normal vector: C₁₂ C₂₂⁻¹, in any textbook.
    """
    sellers = sorted({name for name, _, _ in timed})
    of = np.array([[name == each for each in sellers] for name, _, _ in timed], float)
    told = np.hstack([np.zeros((1, len(sellers))).T, np.eye(len(sellers))])
    told = np.vstack([np.eye(1, len(sellers) + 1), told + np.eye(1, len(sellers) + 1)])
    prior = np.diag([UNSURE**2, *[SELLERS**2] * len(sellers)])
    seen = np.hstack([np.ones((len(timed), 1)), of])
    noise = np.diag([FIGURES**2 + error**2 for _, _, error in timed])
    off = np.array([log for _, log, _ in timed]) - MEAN
    inner = np.linalg.inv(seen @ prior @ seen.T + noise)
    mean = MEAN + told @ prior @ seen.T @ inner @ off
    covariance = told @ (prior - prior @ seen.T @ inner @ seen @ prior) @ told.T
    return sellers, mean, covariance


def ratios(timed):
    return [
        Ratio(name, "time", f"figure {n}", 30 * math.exp(log), 30.0, error)
        for n, (name, log, error) in enumerate(timed)
    ]


@pytest.fixture(autouse=True)
def spreads_stay(monkeypatch):
    """Hold the spreads of sellers and figures, which are learnt by other means."""
    table = {**claims_table(), "worth_of_splits": 1e15}
    monkeypatch.setattr(claims, "claims_table", lambda: table)


def test_the_kind_and_each_seller_are_the_joint_posterior():
    """Three sellers with three, one and two timings of unlike sureness."""
    found = learnt(ratios(TIMED), {"time": BEFORE})["time"]
    sellers, mean, covariance = jointly(TIMED)
    assert math.log(found.ratio) == pytest.approx(mean[0], rel=1e-6)
    assert found.unsure == pytest.approx(math.sqrt(covariance[0, 0]), rel=1e-6)
    for k, name in enumerate(sellers, 1):
        own = found.sellers[name]
        assert math.log(own.ratio) == pytest.approx(mean[k], rel=1e-6)
        assert own.unsure == pytest.approx(math.sqrt(covariance[k, k]), rel=1e-6)


def test_more_of_a_known_seller_is_the_joint_posterior():
    """Of one seller more is timed later: the kind's mean moves as far as by all."""
    first, later = TIMED[:3], (("Alder", 0.9, 0.03), ("Alder", 0.7, 0.0))
    before = learnt(ratios(first), {"time": BEFORE})
    found = learnt(ratios(later), before)["time"]
    _, mean, covariance = jointly((*first, *later))
    assert math.log(found.ratio) == pytest.approx(mean[0], rel=1e-6)
    assert found.unsure == pytest.approx(math.sqrt(covariance[0, 0]), rel=1e-6)
    assert math.log(found.sellers["Alder"].ratio) == pytest.approx(mean[1], rel=1e-6)


def test_a_claim_to_come_is_as_unsure_as_all_that_makes_it():
    """Of a new seller three variances add, of a known one two."""
    found = learnt(ratios(TIMED), {"time": BEFORE})["time"]
    _, mean, covariance = jointly(TIMED)
    new = math.sqrt(covariance[0, 0] + SELLERS**2 + FIGURES**2)
    assert next_claim(found, "Dogwood") == pytest.approx((mean[0], new), rel=1e-6)
    known = math.sqrt(covariance[2, 2] + FIGURES**2)
    assert next_claim(found, "Birch") == pytest.approx((mean[2], known), rel=1e-6)
