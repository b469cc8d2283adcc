"""Each figure shown can be followed to the keys that it rests on."""

import numpy as np
import pytest

from scoring import evaluate
from scoring.answer.run import run
from scoring.evidence.draws import in_brief_currency
from scoring.words.figures import figure
from scoring.words.workings.criteria import working
from scoring.words.workings.job import job_steps
from scoring.words.workings.job_money import job_money_steps
from scoring.words.workings.year import booked_steps
from tests import cases
from tests.cases import brief, job, machine


@pytest.fixture(scope="module")
def demo():
    """The workshop's Evaluation."""
    return cases.demo("workshop")


def test_steps_end_in_the_figure_of_the_decision_matrix(demo):
    """For every machine and criterion the last steps are its figure and its score."""
    for k, name in enumerate(demo.names):
        for c, criterion in enumerate(demo.criteria):
            *steps, raw, score = working(demo, name, criterion.id)
            assert steps, (name, criterion.id)
            assert raw.value == demo.raw[k, c]
            assert score.value == demo.scores[k, c]


def test_upfront_is_the_sum_of_its_steps(demo):
    """What is paid before the first job is the sum of the lines shown."""
    for name in demo.names:
        *lines, told, _, _ = working(demo, name, "upfront")
        assert told.what == "if all is as told"
        assert sum(line.value for line in lines) == pytest.approx(told.value)


def test_the_year_is_the_sum_of_its_money_steps(demo):
    """Jobs' contributions less fees, upkeep and fixed costs make the year's result."""
    for name in demo.names:
        *steps, told, _, _ = working(demo, name, "year_result")
        money = [step.value for step in steps if step.unit == demo.brief.currency]
        assert sum(money) == pytest.approx(told.value)


def test_booked_days_are_the_sum_of_their_steps(demo):
    """The booked days of a month are jobs × days of each kind, summed."""
    for k, _ in enumerate(demo.names):
        *jobs, total = booked_steps(demo, k)
        assert sum(step.value for step in jobs) == pytest.approx(total.value)


def test_minutes_on_site_are_the_sum_of_their_steps(demo):
    """The parts of each job sum to the minutes on site."""
    for k, _ in enumerate(demo.names):
        for j, _ in enumerate(demo.brief.work):
            steps = job_steps(demo, k, j)
            if len(steps) > 1:
                end = [step.what for step in steps].index("on site")
                total = sum(step.value for step in steps[:end])
                assert total == pytest.approx(steps[end].value)


def test_sums_to_expect_are_the_mean_of_the_draws(demo):
    """What is expected of a job is the mean of the model over the draws, told so."""
    n_told = 0
    for k, _ in enumerate(demo.names):
        lived = one_machine_of_draws(demo, k)
        for j, _ in enumerate(demo.brief.work):
            steps = [*job_steps(demo, k, j), *job_money_steps(demo, k, j)]
            found = {step.what: step.value for step in steps}
            told = found.get("on site")
            if told is None:
                continue
            minutes = np.nanmean(lived.site.on_site_min[:, 0, j])
            if figure(minutes, "min") == figure(told, "min"):
                assert "on site to expect" not in found
            else:
                assert found["on site to expect"] == pytest.approx(minutes)
                n_told += 1
            left = np.nanmean(lived.contribution[:, 0, j])
            as_told = figure(found["left after job costs"], "EUR")
            assert ("left to expect" in found) == (figure(left, "EUR") != as_told)
            assert found.get("left to expect", left) == pytest.approx(left)
    assert n_told > 10


def one_machine_of_draws(demo, k):
    """Return the Outcome of machine k in each draw, by a run of its own."""
    rows = {key: rows[1:] for key, rows in demo.rows.items()}
    drawn = in_brief_currency(rows, demo.evidence, demo.brief)
    variants = [demo.variants[k]]
    return run(demo.brief, demo.criteria, variants, drawn).outcome


def test_nothing_to_expect_where_nothing_is_uncertain():
    """Figures without a range leave one sum each."""
    evaluation = evaluate(brief(job()), [machine()])
    steps = [*job_steps(evaluation, 0, 0), *job_money_steps(evaluation, 0, 0)]
    assert not [step.what for step in steps if "expect" in step.what]


def test_every_key_that_a_step_rests_on_is_a_key_of_the_files(demo):
    """A step's keys are figures of the sheet or of the brief, with their basis."""
    known = {path for _, path in demo.evidence}
    n_keys = 0
    for name in demo.names:
        for criterion in demo.criteria:
            for step in working(demo, name, criterion.id):
                for key in step.keys:
                    n_keys += 1
                    optional = key.startswith(("wear.", "shift_time", "landed_cost."))
                    assert key in known or optional, key
                assert not step.keys or step.value is not None
    assert n_keys > 100


def test_days_that_came_about_by_hand():
    """Four jobs of one day each: parts, days and bookings in words."""
    # 4 m × 2 m at 4 m²/h: 120 + 85 = 205 of 480 min, 275 to spare; 4 days of 10.
    evaluation = evaluate(brief(job()), [machine()])
    days = [step.text() for step in job_steps(evaluation, 0, 0)]
    assert "print: 120 min – 8 m² at 4 m²/h in 4-pass [estimated]" in days
    assert "days: 1 day – fits the 480 min of a day on site, 275 min to spare" in days
    assert [step.text() for step in booked_steps(evaluation, 0)] == [
        "wall, a month: 4 days – 4 jobs × 1 day",
        "booked days a month: 4 days – of 10 days there are, after breakdowns",
    ]


def test_steps_in_us_units():
    """A step reads in US units where asked, from the same figures."""
    # 8 m² / 0.3048² = 86.1 ft²; 4 m²/h = 43.06 ft²/h
    evaluation = evaluate(brief(job()), [machine()])
    printing = next(s for s in job_steps(evaluation, 0, 0, True) if s.what == "print")
    assert printing.how == "86.1 ft² at 43.1 ft²/h in 4-pass"
    lift = working(evaluation, "Alder", "heaviest_lift", True)[0]
    assert lift.text(True).startswith("heaviest piece: 44.1 lb – written 20 kg")


def test_a_beginners_time_says_what_practice_makes_of_it():
    """A build of 40 min at the first try shows as half of it once practised."""
    trade = "trade: {learning_start: 2, learning_halving: 5}\n"
    slow = machine(assembly=40, more="builds_before: 0\n")
    steps = working(evaluate(brief(more=trade), [slow]), "Alder", "ready_time")
    (build,) = [step for step in steps if step.what == "build"]
    assert build.value == pytest.approx(20)
    assert build.how == "written 40 min; timed at a first try, 50 % once practised"
