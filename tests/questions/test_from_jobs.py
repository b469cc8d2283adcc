"""From how many jobs a machine or a plan pays, on small cases worked by hand."""

import numpy as np
import pytest

from scoring import evaluate
from scoring.questions.from_jobs import jobs_needed, plan_break_evens
from tests.cases import brief, job, machine
from tests.questions.test_years import NOW, PLAIN


def asked(*jobs, **given):
    """Return a small Brief in which nothing comes late."""
    return brief(*jobs, more=PLAIN + NOW, **given)


def test_jobs_that_cover_a_year_and_those_that_earn_the_machine_back():
    """3 000 a year at 500 a job: half a job a month; 10 000 more in 5 years: 5/6."""
    # 12 · 0.5 · 500 = 3 000. With 10 000 over 5 years at 0 %: 5 000 a year, 10 jobs.
    upkeep = ("upkeep: 0 EUR/year", "upkeep: 3000 EUR/year")
    found = jobs_needed(evaluate(asked(), [machine(upkeep)]))
    assert found.to_cover[0] == pytest.approx(0.5)
    assert found.to_earn_back[0] == pytest.approx(5 / 6)


def test_work_that_never_covers_a_year():
    """10 days a month bring 5 000; a machine of 100 000 a year has none to cover it."""
    upkeep = ("upkeep: 0 EUR/year", "upkeep: 100000 EUR/year")
    found = jobs_needed(evaluate(asked(), [machine(upkeep)]))
    assert found.to_cover[0] == found.to_earn_back[0] == np.inf


def test_from_how_many_jobs_the_dearer_plan_pays():
    """900 a year for a plan that leaves 30 more a job: 2.5 jobs a month."""
    # 12 · 2.5 · 30 = 900. Under the bare plan a tenth of the ink of a job is spoilt,
    # under the full one nothing.
    both = machine(
        (
            "{name: No plan, fee: 0 EUR/year}",
            "{name: Bare, fee: 0 EUR/year}, "
            "{name: Full, fee: 900 EUR/year, unlocks: [auto_purge]}",
        ),
        ("\nspoilt_share: 0 %\n", "\nspoilt_share: 10 %\n"),
        ("colour: 0 ml/m², price: 0 EUR/l", "colour: 10 ml/m², price: 3750 EUR/l"),
        more="effects: {auto_purge: {spoilt_share: 0 %}}\n",
    )
    # 8 m² · 10 ml · 3.75 = 300 of ink a job, a tenth of it spoilt: 30.
    ((cheap, dear, n_jobs),) = plan_break_evens(evaluate(asked(), [both]), 0)
    assert (cheap, dear) == ("Bare", "Full")
    assert n_jobs == pytest.approx(2.5)


def test_a_plan_that_saves_days_pays_where_days_run_short():
    """Both leave the same a job until 10 days are full: then the fast one gains."""
    # 12 m² take 10 · 5 = 50 min more or less; what counts: slow 480 min a day holds one
    # job, fast two of them. The fast plan costs 1 200 a year: at 500 a job 12 jobs a
    # year beyond the 10 a month that the slow one does: 10.2 jobs a month.
    both = machine(
        (
            "{name: No plan, fee: 0 EUR/year}",
            "{name: Bare, fee: 0 EUR/year}, "
            "{name: Full, fee: 1200 EUR/year, unlocks: [auto_standoff]}",
        ),
        assembly=200,
        more="effects: {auto_standoff: {assembly_time: 20 min}}\n",
    )
    twice = [("day_margin: 0 %", "day_margin: 0 %, jobs_per_day_max: 2")]
    evaluation = evaluate(asked(job(per_month=20), edits=twice), [both])
    ((cheap, dear, n_jobs),) = plan_break_evens(evaluation, 0)
    assert (cheap, dear) == ("Bare", "Full")
    assert n_jobs == pytest.approx(10.2)
