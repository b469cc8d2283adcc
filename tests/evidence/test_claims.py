"""Claims that learn: posteriors by hand, sellers pulled together, ranges that cover."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta, lognorm

from scoring.evidence import claims
from scoring.evidence.claims import (
    Ratio,
    claim_range,
    learnt,
    next_claim,
    prior,
)
from scoring.evidence.gathered import gather
from scoring.inputs.claims import ClaimsLearnt, claims_data, claims_text, load_claims
from scoring.inputs.claims_table import claims_table
from tests.cases import brief, job, machine

HAND = ClaimsLearnt(
    ratio=math.exp(0.1), unsure=0.2, between_sellers=0.0, between_figures=0.1
)


def timed(log, seller="Alder", key="assembly_time", unsure=0.0):
    return Ratio(seller, "time", key, 30 * math.exp(log), 30.0, unsure)


def test_the_posterior_of_one_seller_by_hand():
    """Prior N(0.1, 0.2²), two logs 0.3 and 0.5 of scatter 0.1, no spread of sellers.

    Each log is worth 1/0.1² = 100, the prior 25; the scatter within, 2 · 0.1² = 0.02,
    joins the table's: (4 · 0.01 + 0.02)/(4 + 1) = 0.012, so each is worth 1/0.012.
    """
    found = learnt([timed(0.3), timed(0.5, key="prime_time")], {"time": HAND})["time"]
    each = 1 / 0.012
    assert found.between_figures**2 == pytest.approx(0.012)
    mean = (25 * 0.1 + each * 0.3 + each * 0.5) / (25 + 2 * each)
    assert math.log(found.ratio) == pytest.approx(mean, rel=1e-6)
    assert found.unsure**2 == pytest.approx(1 / (25 + 2 * each), rel=1e-6)
    assert found.seen == 2


def test_one_timing_of_one_seller_by_hand():
    """Prior N(0, 0.1²), sellers 0.1, figures 0.1: one log of 0.3 moves the mean by 0.1.

    Precisions 1/0.01 and 1/(0.01 + 0.01): the timing has a third of the weight.
    """
    flat = ClaimsLearnt(ratio=1, unsure=0.1, between_sellers=0.1, between_figures=0.1)
    found = learnt([timed(0.3)], {"time": flat})["time"]
    assert math.log(found.ratio) == pytest.approx(0.1, rel=1e-6)
    # half way between the kind's new mean 0.1 and its own 0.3
    assert math.log(found.sellers["Alder"].ratio) == pytest.approx(0.2, rel=1e-6)
    mean, sd = next_claim(found, "Another")
    assert (mean, sd) == pytest.approx((0.1, math.sqrt(0.02 / 3 + 0.02)), rel=1e-6)


def test_learning_twice_is_learning_once(monkeypatch):
    """Timings one after the other teach the same as all at once: Bayes' rule.

    The spreads are held as they are, which are learnt by other means.
    """
    table = {**claims_table(), "worth_of_splits": 1e15}
    monkeypatch.setattr(claims, "claims_table", lambda: table)
    first, second = [timed(0.3), timed(0.1, "Birch")], [timed(0.6, key="prime_time")]
    once = learnt([*first, *second])["time"]
    twice = learnt(second, learnt(first))["time"]
    assert twice.ratio == pytest.approx(once.ratio, rel=1e-6)
    assert twice.unsure == pytest.approx(once.unsure, rel=1e-6)
    ours, theirs = twice.sellers["Alder"], once.sellers["Alder"]
    assert ours.ratio == pytest.approx(theirs.ratio, rel=1e-6)
    assert ours.unsure == pytest.approx(theirs.unsure, rel=1e-6)


def test_what_is_timed_badly_counts_less():
    """A mean that is itself unsure moves the prior by less."""
    sure = learnt([timed(0.5)])["time"].ratio
    unsure = learnt([timed(0.5, unsure=0.5)])["time"].ratio
    assert prior("time").ratio < unsure < sure


def test_many_sellers_are_pulled_to_their_mean():
    """A planted overstatement is found, and each seller lies between it and its own."""
    rng = np.random.default_rng(3)
    sellers = rng.normal(0.4, 0.1, 40)
    ratios = [
        timed(s + rng.normal(0, 0.05), f"S{n}", f"key {k}")
        for n, s in enumerate(sellers)
        for k in range(5)
    ]
    found = learnt(ratios)["time"]
    assert math.log(found.ratio) == pytest.approx(0.4, abs=0.05)
    assert found.between_sellers == pytest.approx(0.1, abs=0.03)
    assert found.between_figures == pytest.approx(0.05, abs=0.01)
    pulled = np.log([found.sellers[f"S{n}"].ratio for n in range(40)])
    assert ((pulled - sellers) ** 2).mean() < 0.05**2  # nearer than any one timing


@pytest.mark.parametrize("kind", ["time", "speed", "life", "ink", "mass", "price"])
def test_the_range_is_that_of_the_log_normal(kind):
    """Mean and 80 % range of the Beta-PERT are those of the log-normal behind it.

    Reference: scipy's log-normal and beta distributions.
    """
    mean, sd = next_claim(prior(kind))
    low, likely, high = (1 + end for end in claim_range(prior(kind)))
    a = 1 + 4 * (likely - low) / (high - low)
    ours = beta(a, 6 - a, loc=low, scale=high - low)
    theirs = lognorm(sd, scale=math.exp(mean))
    assert ours.mean() == pytest.approx(theirs.mean(), rel=1e-6)
    assert ours.ppf([0.1, 0.5, 0.9]) == pytest.approx(
        theirs.ppf([0.1, 0.5, 0.9]), rel=0.015
    )


@pytest.mark.parametrize("kind", ["time", "speed", "life", "ink", "mass", "price"])
def test_the_prior_has_the_mean_of_the_tables_range(kind):
    """Log-normal and Beta-PERT of the table agree in mean and standard deviation."""
    low, likely, high = claims_table()["range"][kind]
    a = 1 + 4 * (likely - low) / (high - low)
    table = beta(a, 6 - a, loc=low, scale=high - low)
    mean, sd = next_claim(prior(kind))
    assert lognorm(sd, scale=math.exp(mean)).mean() == pytest.approx(table.mean())
    assert lognorm(sd, scale=math.exp(mean)).std() == pytest.approx(table.std())


def test_ranges_cover_what_is_claimed_next():
    """Of claims drawn as the model says, 80 ± 2 % come true within the 80 % range."""
    rng, inside = np.random.default_rng(5), []
    for _ in range(2_000):
        start = prior("time")
        mu = rng.normal(math.log(start.ratio), start.unsure)
        sellers = rng.normal(mu, start.between_sellers, 2)
        logs = rng.normal(sellers[:1], start.between_figures, 4)
        found = learnt([timed(log, key=f"{n}") for n, log in enumerate(logs)])["time"]
        for seller, name in zip(sellers, ("Alder", "Birch"), strict=True):
            mean, sd = next_claim(found, name)
            came = rng.normal(seller, start.between_figures, 5)
            inside += (np.abs(came - mean) < 1.2816 * sd).tolist()  # Φ⁻¹(0.9)
    assert len(inside) == 20_000
    assert np.mean(inside) == pytest.approx(0.80, abs=0.02)


def test_a_brief_that_learnt_reckons_with_it():
    """A seller's figure takes the range learnt; the buyer's own trust goes first."""
    data = claims_data({"time": learnt([timed(0.5)])["time"]})
    quoted = "assembly_time: {value: 20 min, basis: quoted}"
    alder = machine(("assembly_time: 20 min", quoted))
    plain = job(name="hall")
    for more, expected in (
        ({"learnt": data}, claim_range(learnt([timed(0.5)])["time"], "Alder")),
        ({"learnt": data, "quoted": {"time": [0.0, 0.1, 0.2]}}, (0.0, 0.1, 0.2)),
    ):
        case = with_trust(brief(plain), more)
        found = gather(case, [alder], [])["Alder", "assembly_time"]
        ends = [20 * (1 + end) for end in expected]
        assert (found.low, found.likely, found.high) == pytest.approx(ends, rel=1e-3)


def with_trust(case, more):
    """Return a brief whose `trust` says more."""
    import yaml

    from scoring.inputs.brief_files import load_brief

    data = yaml.safe_load(case.text)
    data["trust"] = {**data["trust"], **more}
    return load_brief(("brief.yaml", yaml.safe_dump(data).encode()))


def test_what_was_learnt_is_written_and_read_again():
    """The file of priors holds all that the next learning needs."""
    first = learnt([timed(0.5), timed(0.2, "Birch")])
    again = load_claims(("priors.yaml", claims_text(first, "a log").encode())).learnt
    for name in ("ratio", "unsure", "between_sellers", "between_figures"):
        ours, read = getattr(first["time"], name), getattr(again["time"], name)
        assert read == pytest.approx(ours, abs=1e-4)
    assert set(again["time"].sellers) == {"Alder", "Birch"}


@given(st.lists(st.floats(-1, 1), min_size=1, max_size=8))
def test_learning_makes_surer_and_stays_between(logs):
    """The mean lies between prior and timings; it is never less sure than before."""
    found = learnt([timed(log, key=str(n)) for n, log in enumerate(logs)])["time"]
    start = prior("time")
    known = [math.log(start.ratio), float(np.mean(logs))]
    assert min(known) - 1e-9 <= math.log(found.ratio) <= max(known) + 1e-9
    assert found.unsure <= start.unsure + 1e-12
