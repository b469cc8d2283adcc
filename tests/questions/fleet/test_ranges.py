"""The range of each choice of rigs: by hand, by a closed form, by the engine's own."""

import numpy as np
import pytest
from scipy.stats import beta

from scoring import evaluate
from scoring.questions.firmness import how_firm
from scoring.questions.fleet.choices import KEEP, choices
from scoring.questions.fleet.ranges import ranges
from tests.cases import brief, demo, job, machine
from tests.questions.fleet.test_choices import AT_ONCE, OWNED, WAGE, birch


def of_work(per_month):
    """Return (Choices, Ranges) of two people with an Alder who think of a Birch."""
    more = OWNED + AT_ONCE
    asked = brief(job(per_month=per_month), more=more, people=2, crew=WAGE)
    found = choices(evaluate(asked, [machine(), birch()]))
    return found, ranges(found)


def place(found, name):
    return [choice.name for choice in found.choices].index(name)


def test_without_a_doubt_it_is_the_money_alone():
    """All known: 60 000 kept; 80 400 less 10 000 over five years at 0 % with Birch."""
    found, spread = of_work(15)
    assert spread.worth.std(axis=0) == pytest.approx(0, abs=1e-6)
    assert spread.mean[place(found, KEEP)] == pytest.approx(60000)
    assert spread.mean[place(found, "add Birch")] == pytest.approx(80400 - 2000)
    assert spread.percentiles[place(found, KEEP)] == pytest.approx([60000] * 3)
    assert spread.first[place(found, "add Birch")] + spread.first[
        place(found, "add Alder")
    ] == pytest.approx(1)


def test_how_often_a_second_rig_pays_is_a_beta():
    """Beyond 10 jobs each leaves 340 more: it pays from 10.49 jobs a month on."""
    # 10 days a rig, a job a day; a job more leaves 500 − 8 h · 20 = 340 a month, so
    # that 12 · 340 (n − 10) > 2 000 from n = 10.49 on. Jobs are PERT 8..14..20, a
    # Beta(3, 3) between 8 and 20 (Malcolm et al. 1959, λ = 4).
    found, spread = of_work("8..14..20")
    kept, added = place(found, KEEP), place(found, "add Birch")
    pays = spread.worth[:, added] > spread.worth[:, kept]
    exact = beta(3, 3).sf((10 + 2000 / 4080 - 8) / 12)
    assert spread.n_draws == 400
    assert pays.mean() == pytest.approx(exact, abs=0.05)
    # P10 and P90 of what is kept: 6 000 a job up to the 10 days there are.
    low = 8 + 12 * beta(3, 3).ppf(0.1)
    least = 6000 * min(low, 10)
    spreads = spread.percentiles[kept]
    assert spreads[2] - spreads[0] == pytest.approx(60000 - least, abs=600)


def test_work_of_a_full_year_goes_to_the_rig_with_days_left():
    """20 jobs in the fullest year are all done in 20 days of two rigs, ten paid."""
    found, spread = of_work("8..14..20")
    added = place(found, "add Birch")
    fullest, thinnest = spread.worth[:, added].max(), spread.worth[:, added].min()
    # 12 · 500 n − 12 · 160 (n − 10): between the fewest and the most jobs drawn
    drawn = found.evaluation.rows["brief", "work.0.per_month"][1:401]
    year = 6000 * drawn - 1920 * np.maximum(drawn - 10, 0)
    assert fullest - thinnest == pytest.approx(year.max() - year.min(), rel=1e-6)


def test_keeping_one_rig_spreads_as_that_rig_does():
    """The range of keeping is that of the one machine, as `firm` tells it."""
    evaluation = demo("second-rig")
    found = choices(evaluation)
    spread = ranges(found)
    kept = spread.percentiles[place(found, KEEP)]
    firm = how_firm(evaluation, spread.n_draws, seed=evaluation.seed)
    k = evaluation.index(evaluation.brief.owned[0].machine)
    assert kept - kept[1] == pytest.approx(firm.results[k] - firm.results[k, 1])


def test_shares_sum_to_one_and_means_are_what_is_told():
    """Exactly one choice is best in each draw; the mean of keeping is its year."""
    found = choices(demo("second-rig"))
    spread = ranges(found)
    assert spread.first.sum() == pytest.approx(1)
    kept = place(found, KEEP)
    assert spread.mean[kept] == pytest.approx(found.choices[kept].year_result)
