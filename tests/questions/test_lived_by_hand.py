"""Predicted against lived: a few figures worked by hand."""

import math

import pytest

from scoring.inputs.job_log import load_job_log
from scoring.inputs.prediction import load_prediction
from scoring.questions.lived import Lived, Scored, lived, report_card

PREDICTION = """\
machine: Alder
title: A case
frozen: '2026-04-20'
version: 1
seed: 1
draws: 40
inputs: 0a
currency: {currency}
figures:
  hall paid: {{part: paid, kind: hall, unit: {currency}, p10: 400, p50: 500, p90: 600,
    quantiles: [400, 500, 600]}}
  jobs between: {{part: jobs_between, p10: 4, p50: 10, p90: 20,
    quantiles: [4, 10, 20]}}
"""
LOG = """\
day,kind,paid EUR,days_down
2026-05-04,hall,500,
2026-05-14,hall,520,2
2026-05-24,hall,510,
2026-06-03,hall,470,
"""


def scored(part, mean, came, spread=1.0):
    return Scored(
        part, "", "", 4, mean, mean, mean, came, 0.1, True, 0.5, 0.1, 0.1, mean, spread
    )


def card(*figures):
    prediction = load_prediction(("f.yaml", PREDICTION.format(currency="EUR").encode()))
    return report_card([Lived(prediction, 4, figures, ())])


def test_of_few_events_the_sums_are_compared():
    """3 where 1 was to come and 9 where 9: 12 of 10, not the mean of 3 and 1."""
    (bias,) = card(scored("jobs_a_month", 1, 3), scored("jobs_a_month", 9, 9)).biases
    assert bias.ratio == pytest.approx(1.2)
    # each spread as a share of the mean prediction of 5: √(0.2² + 0.2²)/2
    assert bias.unsure == pytest.approx(math.hypot(0.2, 0.2) / 2)


def test_of_minutes_the_ratios_are_averaged():
    """36 where 30 was to come and 9 where 10: the mean of 1.2 and 0.9."""
    (bias,) = card(scored("build", 30, 36, 3), scored("build", 10, 9, 1)).biases
    assert bias.ratio == pytest.approx(1.05)
    assert bias.unsure == pytest.approx(math.hypot(0.1, 0.1) / 2)


@pytest.mark.parametrize(("currency", "is_scored"), [("EUR", True), ("USD", False)])
def test_pay_in_another_currency_is_not_compared(currency, is_scored):
    """A log in EUR tells nothing of a prediction in dollars."""
    text = PREDICTION.format(currency=currency).encode()
    done = load_job_log(("log.csv", LOG.encode()))
    found = lived(load_prediction(("f.yaml", text)), done)
    assert ("paid" in [figure.part for figure in found.figures]) is is_scored
    assert found.not_scored == (() if is_scored else ("hall paid",))
    if is_scored:
        (paid,) = [figure for figure in found.figures if figure.part == "paid"]
        assert paid.lived == 500 and paid.is_inside


def test_stoppages_are_scored_by_how_many_came():
    """One in four jobs; with 4 to 20 jobs between, 0.2 to 1 was to come."""
    text = PREDICTION.format(currency="EUR").encode()
    done = load_job_log(("log.csv", LOG.encode()))
    found = lived(load_prediction(("f.yaml", text)), done)
    (stops,) = [each for each in found.figures if each.part == "jobs_between"]
    assert (stops.lived, stops.unit) == (1, "stoppages")
    assert (stops.p10, stops.p50, stops.p90) == pytest.approx((0.2, 0.4, 1.0))
    assert stops.mean == pytest.approx((1 + 0.4 + 0.2) / 3, rel=0.02)
