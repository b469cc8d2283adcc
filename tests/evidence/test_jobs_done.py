"""What a job log tells, against printed intervals, by hand and on planted logs."""

import numpy as np
import pytest
from scipy.stats import chi2, gamma
from scipy.stats import t as student

from scoring.errors import ScoringError
from scoring.evidence import jobs_done
from scoring.evidence.jobs_done import mean_of, ratio_of, ratios, seen
from scoring.inputs.job_log import load_job_log
from tests.cases import machine


def log(text):
    return load_job_log(("log.csv", text.encode()))


def planted(n=400, build=36.0, pace=30.0, seed=1, more=""):
    """Return a log of n jobs, three days apart, with known means."""
    rng = np.random.default_rng(seed)
    rows = ["day,kind,passes,area,build,print,ink,days_to_pay,days_down" + more]
    start = np.datetime64("2024-01-01")
    for k in range(n):
        area = rng.uniform(4, 12)
        took = [
            build * rng.lognormal(-0.02, 0.2),
            pace * area * rng.lognormal(-0.005, 0.1),
        ]
        down = "2" if k % 20 == 19 else ""
        kind = "hall" if k % 4 else "landing"
        cells = [
            start + 3 * k,
            kind,
            4,
            f"{area:.3f}",
            f"{took[0]:.3f}",
            f"{took[1]:.3f}",
        ]
        rows.append(",".join(map(str, [*cells, f"{8 * area:.2f}", 14, down])))
    return log("\n".join(rows) + "\n")


def test_a_planted_log_is_found_again():
    """Times, speed, mix, stoppages and ink come out as they were put in."""
    found = seen(planted(), "Alder")
    assert found.times["assembly_time"].likely == pytest.approx(36, rel=0.04)
    assert found.speeds[4].likely == pytest.approx(60 / 30, rel=0.03)
    assert found.ink.likely == pytest.approx(8, abs=0.01)
    assert found.months == pytest.approx(401 * 3 / (365.25 / 12))
    hall, landing = found.kinds
    assert (hall.name, hall.n, landing.n) == ("hall", 300, 100)
    assert hall.per_month.likely == pytest.approx(300 * 365.25 / 12 / 1203, rel=1e-6)
    assert (found.stoppages, found.jobs_between.likely) == (20, 20)
    assert found.days_down.likely == 2 and found.days_to_pay.likely == 14
    assert found.won is None


def test_the_interval_of_a_mean_is_students():
    """Five figures: mean ± t(0.975, 4) · s/√5 (Student 1908), by scipy's t."""
    values = np.array([31.0, 28.0, 35.0, 30.0, 27.0])
    half = student.ppf(0.975, 4) * values.std(ddof=1) / 5**0.5
    found = mean_of(values)
    assert (found.low, found.high) == pytest.approx(
        (30.2 - half, 30.2 + half), rel=1e-3
    )


def test_intervals_cover_as_often_as_they_say():
    """Of 2,000 small logs' 95 % intervals of the mean, 95 ± 2 % hold the true one."""
    rng = np.random.default_rng(4)
    values = rng.normal(30, 4, (2_000, 10))
    inside = [found.low <= 30 <= found.high for found in map(mean_of, values)]
    assert np.mean(inside) == pytest.approx(0.95, abs=0.02)
    area = rng.uniform(4, 12, (2_000, 12))
    minutes = 30 * area + rng.normal(0, 20, area.shape)
    pairs = (ratio_of(*pair) for pair in zip(minutes, area, strict=True))
    inside = [found.low <= 30 <= found.high for found in pairs]
    assert np.mean(inside) == pytest.approx(0.95, abs=0.025)


@pytest.mark.parametrize(
    ("n", "low", "high"), [(10, 4.7954, 18.3904), (1, 0.0253, 5.5716)]
)
def test_jobs_a_month_have_garwoods_interval(n, low, high):
    """10 and 1 events: 4.7954–18.3904 and 0.0253–5.5716.

    Garwood's limits, from memory; the same by chi-square quantiles.
    """
    found = jobs_done.rate_of(n, 1.0)
    assert (found.low, found.high) == pytest.approx((low, high), abs=1e-4)
    ends = chi2.ppf(0.025, 2 * n) / 2, chi2.ppf(0.975, 2 * n + 2) / 2
    assert (found.low, found.high) == pytest.approx(ends)


def test_stoppages_are_gamma_and_exponential():
    """Two in 40 jobs: Gamma(2.5, 40) of the stoppages a job, by scipy's gamma."""
    found = jobs_done.jobs_between(2, 40)
    rates = gamma(2.5, scale=1 / 40).ppf([0.975, 0.025])
    assert (found.low, found.high) == pytest.approx(tuple(1 / rates))
    assert found.likely == 20
    with pytest.raises(ScoringError):
        jobs_done.jobs_between(0, 40)
    assert jobs_done.at_least_between(12) == 4


def test_share_won_counts_what_was_asked():
    """Three won of four asked is 75 %, and few say little."""
    text = "day,kind,won\n" + "2026-09-03,hall,yes\n" * 3 + "2026-09-05,hall,no\n"
    found = seen(log(text), "Alder")
    assert (found.won.likely, found.n_jobs, found.n_asked) == (0.75, 3, 4)
    # Jeffreys: Beta(3.5, 1.5), 2.5 % and 97.5 %, by scipy
    from scipy.stats import beta

    ends = beta(3.5, 1.5).ppf([0.025, 0.975])
    assert (found.won.low, found.won.high) == pytest.approx(tuple(ends))


def test_rows_of_another_machine_do_not_count():
    """The column `machine` says whose a row is; one without is the machine's own."""
    text = (
        "day,kind,machine,build\n2026-09-03,hall,Alder,30\n2026-09-04,hall,Birch,90\n"
    )
    assert seen(log(text), "Alder").times["assembly_time"].likely == 30
    with pytest.raises(ScoringError, match="no job was done with 'Cedar'"):
        seen(log(text), "Cedar")


def test_only_single_quoted_figures_are_claims():
    """What is timed is held against a seller's figure, not against a measured one."""
    quoted = "assembly_time: {value: 30 min, basis: quoted}"
    alder = machine(("assembly_time: 20 min", quoted))
    (found,) = ratios(seen(planted(), "Alder"), alder)
    assert (found.key, found.kind, found.claimed) == ("assembly_time", "time", 30)
    assert found.timed / found.claimed == pytest.approx(1.2, rel=0.04)
    assert ratios(seen(planted(), "Alder"), machine()) == []


def test_a_log_of_one_job_tells_what_it_can():
    """One row has figures without an interval, and no jobs a month."""
    found = seen(log("day,kind,build\n2026-09-03,hall,30\n"), "Alder")
    assert found.kinds[0].per_month is None
    assert found.times["assembly_time"][:4] == (1, 30, 30, 30)
