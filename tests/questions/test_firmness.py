"""How firm the answer is: draws, shares, and the worth of finding out."""

import math

import numpy as np
import pytest
from scipy import stats

from scoring import evaluate
from scoring.answer.ranking import reweigh
from scoring.answer.run import redrawn
from scoring.decision import ranking
from scoring.evidence import draws
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.quantity import pert_mean
from scoring.questions import swings
from scoring.questions.bad_unknowns import ranks_if_unknowns_turn_out_bad
from scoring.questions.best_map import best_map
from scoring.questions.best_price import best_buy_price, is_beyond_talk
from scoring.questions.changed import Change, changed, sums_of
from scoring.questions.find_out import questions, settled_by
from scoring.questions.firmness import NOTHING, how_firm
from scoring.questions.swings import all_swings, leads, level_value
from scoring.words.figures import figure
from scoring.words.firmness import kept_out_by
from tests import cases
from tests.cases import brief, job, machine

N = 2000


@pytest.fixture(scope="module")
def demo():
    """The new entrant's Evaluation."""
    return cases.demo("new-entrant")


@pytest.fixture(scope="module")
def firm(demo):
    """Its Firmness over 2,000 draws."""
    return how_firm(demo, N, seed=3)


def rivals(*edits, name="Birch", **figures):
    """Return two machines that differ in price and speed."""
    return [machine(), machine(*edits, name=name, **{"price": 14000, **figures})]


@pytest.mark.parametrize(
    "ends", [(20, 26, 35), (0, 0, 1), (0, 1, 1), (5, 7, 7.5), (-3, 0, 40)]
)
def test_pert_draws_are_the_beta_distributions_quantiles(ends):
    """Against scipy's beta distribution with α = 1 + 4 (likely − low)/(high − low)."""
    low, likely, high = ends
    alpha = 1 + 4 * (likely - low) / (high - low)
    uniform = np.linspace(0.001, 0.999, 999)
    expected = low + (high - low) * stats.beta.ppf(uniform, alpha, 6 - alpha)
    found = draws.pert_quantile(low, likely, high, uniform)
    assert found == pytest.approx(expected, abs=1e-4 * (high - low))


def test_draws_have_the_mean_of_the_central_run():
    """The mean of 20,000 draws is the PERT mean within four standard errors."""
    uniform = draws.uniforms(1, "a/b", 0, 20_000)
    found = draws.pert_quantile(20, 26, 35, uniform)
    error = found.std() / math.sqrt(len(found))
    assert found.mean() == pytest.approx(pert_mean(20, 26, 35), abs=4 * error)


def test_draws_are_the_same_in_any_chunk(demo):
    """Draws 700..900 are the same made alone or among the first 1,000."""
    whole = draws.drawn(demo.evidence, demo.brief, 5, 0, 1000)
    part = draws.drawn(demo.evidence, demo.brief, 5, 700, 900)
    for key, figures in part.items():
        assert np.array_equal(figures, whole[key][700:900]), key


def test_one_number_serves_all_pass_modes_of_a_machine(demo):
    """In each draw a machine is as fast in every mode as in any other: one stream."""
    found = draws.drawn(demo.evidence, demo.brief, 1, 0, 500)
    four, eight = (found["Lindqvar Plain", f"speed.{n}"] for n in (4, 8))
    assert four / eight == pytest.approx(np.full(500, 4.2 / 2.3), rel=1e-6)


def test_another_machine_changes_nobody_elses_draws():
    """Adding a machine, or turning their order round, leaves the draws as they are."""
    two = rivals()
    three = [machine(name="Cedar"), *reversed(two)]
    few, more = (evaluate(brief(), machines) for machines in (two, three))
    first = draws.drawn(few.evidence, few.brief, 2, 0, 50)
    second = draws.drawn(more.evidence, more.brief, 2, 0, 50)
    for key, figures in first.items():
        assert np.array_equal(figures, second[key]), key


def test_shares_of_ranks_and_of_ruled_out_sum_to_one(firm):
    """For every machine, all ranks and being ruled out exhaust the draws."""
    total = firm.acceptability.sum(axis=1) + firm.ruled_out
    assert total == pytest.approx(np.ones(len(total)))


def test_firmness_is_the_same_on_any_number_of_chunks(demo, firm):
    """Chunks of 2,000, of 700 and of 1 draw short of that give the same."""
    for chunk in (700, N - 1):
        again = how_firm(demo, N, seed=3, chunk=chunk)
        assert np.array_equal(again.acceptability, firm.acceptability)
        assert np.array_equal(again.ruled_out, firm.ruled_out)
        assert np.array_equal(again.confidence, firm.confidence)
        assert again.benefit == pytest.approx(firm.benefit, rel=1e-9, nan_ok=True)
        assert again.evpi == pytest.approx(firm.evpi, rel=1e-9)
        values = {(w.owner, w.path): w.value for w in again.worths}
        for worth in firm.worths:
            assert values[worth.owner, worth.path] == pytest.approx(
                worth.value, abs=1e-6
            )


def test_another_seed_is_another_draw(demo, firm):
    """Another seed gives other draws, within chance the same shares."""
    other = how_firm(demo, N, seed=4)
    assert not np.array_equal(other.acceptability, firm.acceptability)
    error = np.sqrt(0.25 / N)
    assert other.acceptability == pytest.approx(firm.acceptability, abs=6 * error)


def test_shares_are_those_of_the_model_run_on_each_draw(demo, firm):
    """First places counted by ranking each draw by itself: the same model, no copy."""
    figures = draws.drawn(demo.evidence, demo.brief, 3, 0, 200)
    few = how_firm(demo, 200, seed=3, concentration=1e9)  # weights as stated
    _, scores = redrawn(demo, figures)
    firsts = np.zeros(len(demo.names))
    for d in range(200):
        is_in = np.isfinite(scores[d, :, 0])
        sums = np.full(len(is_in), -1.0)
        sums[is_in] = ranking.weighted_sum(scores[d, is_in], demo.weights)
        firsts[sums.argmax()] += 1
    assert few.acceptability[:, 0] == pytest.approx(firsts / 200, abs=1e-3)


@pytest.mark.slow
def test_more_draws_shrink_the_error_as_the_root(demo):
    """Shares of 400 draws scatter about twice as much as those of 1,600."""
    leader = demo.order[0]

    def scatter(n):
        shares = [
            how_firm(demo, n, seed).acceptability[leader, 0] for seed in range(12)
        ]
        return np.std(shares, ddof=1)

    # A ratio of two standard deviations of 12: F(11, 11) has 99.9 % within 1/7.8..7.8
    # in variance, so within a factor 2.8 of the true ratio of 2.
    assert 2 / 2.8 < scatter(400) / scatter(1600) < 2 * 2.8


def test_without_any_range_the_answer_is_certain():
    """Figures without ranges and weights as stated: first in every draw, EVPI 0."""
    from dataclasses import replace

    evaluation = evaluate(brief(), rivals())
    exact = {
        key: replace(figure, low=figure.likely, high=figure.likely)
        for key, figure in evaluation.evidence.items()
    }
    sure = replace(evaluation, evidence=exact)
    found = how_firm(sure, 50, concentration=1e9)
    assert found.acceptability.tolist() == [[1, 0], [0, 1]]
    assert found.evpi == 0 and found.worths == ()


def test_what_is_known_of_weights_matters(demo):
    """Nothing known spreads first places more than the weights as stated."""
    shares = {
        known: how_firm(demo, 1000, knowledge=known).acceptability[demo.order[0], 0]
        for known in ("stated", "order", "nothing")
    }
    assert shares["stated"] > shares["nothing"]


def test_regret_and_the_worth_of_knowing_all(firm):
    """The least regret is EVPI, and no single figure is worth more."""
    least = np.nanmin([*firm.regret, firm.regret_of_nothing])
    assert least == pytest.approx(firm.evpi, rel=1e-9)
    assert all(0 <= worth.value <= firm.evpi for worth in firm.worths)


def test_buying_nothing_is_best_where_nothing_is_earned():
    """Where each job costs more than it brings, money's choice is to buy nothing."""
    poor = brief(job(price=1))
    found = how_firm(evaluate(poor, rivals()), 200)
    assert found.money_choice == NOTHING
    assert found.evpi == pytest.approx(0)


def test_worth_of_one_price_against_the_unit_normal_loss_shape():
    """Two machines alike but for price: only their prices are worth anything."""
    spread = brief(closed="[-0.3, 0, 0.3]")
    light = [machine(lift=10), machine(name="Birch", price=10050, lift=10)]
    evaluation = evaluate(spread, light)
    found = how_firm(evaluation, 4000)
    worths = {(w.owner, w.path): w for w in found.worths}
    prices = {key for key, w in worths.items() if w.value > 2 * w.error}
    assert prices == {("Alder", "price"), ("Birch", "price")}
    assert found.evpi > 0


def test_the_best_buy_price_is_where_the_lead_changes(demo):
    """Quoted 0.1 % below it the machine is first, 0.1 % above it is not.

    Through the door: the quote is written into the sheet, which is read and ranked.
    """
    for name in ("Thrumble Lite", "Lindqvar Plain"):
        price = best_buy_price(demo, name)
        for factor, is_first in ((0.999, True), (1.001, False)):
            again = ranked_at(demo, name, factor * price)
            assert (again.names[again.order[0]] == name) == is_first


def ranked_at(demo, name, price):
    """Return the demo's Evaluation with another quote in one machine's sheet."""
    machines = {machine.name: machine for machine in demo.machines}
    old = machines[name].price
    assert (old.basis, old.currency) == ("quoted", demo.brief.currency)
    text = machines[name].text.replace(
        f"value: {old.text}", f"value: {price:.2f} EUR", 1
    )
    assert text != machines[name].text
    machines[name] = read_machine((f"{name}.yaml", text.encode()))
    return evaluate(demo.brief, machines.values(), scale=demo.scale)


def test_a_machine_that_costs_nothing_has_a_price_for_talks():
    """The only machine, at 0 EUR, is the best buy up to the highest price seen."""
    alone = evaluate(brief(), [machine(price=0)])
    price = best_buy_price(alone, "Alder")
    assert price > 0 and is_beyond_talk(alone, "Alder", price)


def test_no_price_helps_a_machine_that_breaks_another_limit(demo):
    """A machine too heavy to lift has no price at which it is the best buy."""
    assert best_buy_price(demo, "Varnholt Column") is None


def sums_with(evaluation, swing, value):
    """Return the weighted sums where a swing's figure is this value."""
    change = Change((swing.owner, swing.path), known=value)
    return sums_of(evaluation, changed(evaluation, [change]))


def test_a_swing_is_the_whole_model_at_both_ends(demo):
    """The widest swing's leads are about those with that figure changed on all draws.

    A swing is told by fewer draws: a fiftieth of a score at most.
    """
    swing = all_swings(demo)[0]
    leader = swings.leader(demo)
    for value, lead in ((swing.low, swing.lead_low), (swing.high, swing.lead_high)):
        sums = sums_with(demo, swing, value)
        filled = np.nan_to_num(sums[0])
        others = np.delete(filled, leader)
        assert filled[leader] - others.max() == pytest.approx(lead, abs=0.02)


def test_swings_follow_the_weights(demo):
    """Under other weights a swing is again the whole model's: none is left over."""
    all_swings(demo)
    moved = reweigh(demo, {"heaviest_lift": 9.0, "support": 9.0})
    swing, leader = all_swings(moved)[0], swings.leader(moved)
    for value, lead in ((swing.low, swing.lead_low), (swing.high, swing.lead_high)):
        filled = np.nan_to_num(sums_with(moved, swing, value)[0])
        others = np.delete(filled, leader)
        assert filled[leader] - others.max() == pytest.approx(lead, abs=0.02)
    assert swing != all_swings(demo)[0]


def test_the_value_at_which_a_rival_draws_level(demo):
    """At that value the lead is 0; where no value does it, there is none."""
    turning = [s for s in all_swings(demo) if s.lead_low * s.lead_high < 0]
    assert turning
    for swing in turning[:3]:
        value = level_value(demo, swing.owner, swing.path)
        sums = sums_with(demo, swing, value)
        lead = leads(sums, swings.leader(demo))[0]
        near = [
            leads(sums_with(demo, swing, value * f), swings.leader(demo))[0]
            for f in (0.9999, 1.0001)
        ]
        assert abs(lead) < 1e-6 or near[0] * near[1] < 0  # a step counts as a crossing


def test_unknowns_that_turn_out_bad_never_help(demo):
    """With its unknowns at their worst, no machine ranks better than as it is."""
    bad = ranks_if_unknowns_turn_out_bad(demo)
    for k, name in enumerate(demo.names):
        now = demo.rank_weighted_sum[k]
        assert bad[k] == 0 or bad[k] >= now, name


def test_the_maps_middle_is_the_evaluation_itself(demo):
    """Where jobs and area are the buyer's own, the map names the present leader."""
    found = best_map(demo, n_steps=3)  # factors 1, 2, 3
    assert found.by_score[0][0] == demo.names[demo.order[0]]
    assert (found.jobs_per_month[0], found.wall_m2[0]) == pytest.approx(
        (found.own_jobs, found.own_wall_m2)
    )


def test_every_question_can_be_settled(demo, firm):
    """Each uncertain figure has a way to settle it, and the money's come first."""
    asked = questions(firm)
    assert {(q.owner, q.path) for q in asked} >= {
        (w.owner, w.path) for w in firm.worths
    }
    values = [question.sure_value for question in asked]
    assert values == sorted(values, reverse=True)
    for owner, path in demo.evidence:
        assert all(settled_by(owner, path)[:2]), (owner, path)


def test_which_limit_rules_out_how_often():
    """A lift of 20..25..30 kg is above 25 kg in half of the draws, and nothing else."""
    heavy = machine(lift="20..25..30")
    light = machine(name="Birch", lift="15..16..17")
    found = how_firm(evaluate(brief(), [heavy, light]), 4000)
    k = found.evaluation.index("Alder")
    # Standard error of half of 4 000 draws: 0.8 %.
    assert found.broken["lift", ""][k] == pytest.approx(0.5, abs=4 * 0.008)
    assert found.ruled_out[k] == found.broken["lift", ""][k]
    (said,) = kept_out_by(found)
    share = figure(found.ruled_out[k], "share")
    assert said == f"Alder is ruled out by the lift in {share} of draws."


def test_a_machine_is_ruled_out_where_any_limit_is_broken(firm):
    """Never less often than by its commonest limit, nor more than by all added up."""
    shares = np.stack(list(firm.broken.values()))
    assert (firm.ruled_out >= shares.max(axis=0) - 1e-12).all()
    assert (firm.ruled_out <= shares.sum(axis=0) + 1e-12).all()


def test_first_with_the_weights_as_they_are_and_with_weights_drawn():
    """One weight alone cannot be drawn otherwise: both shares are one. Others differ.

    With two weights, the share with the weights as they are is counted by hand from the
    same draws of the model.
    """
    demo = cases.demo("workshop")
    alone = reweigh(demo, {c.id: float(c.id == "odour") for c in demo.criteria})
    firm = how_firm(alone, 400)
    assert firm.first_as_weighed.tolist() == firm.acceptability[:, 0].tolist()

    firm = how_firm(demo, 400)
    figures = draws.drawn(demo.evidence, demo.brief, firm.seed, 0, 400)
    _, scores = redrawn(demo, figures)
    totals = (scores * demo.weights).sum(axis=-1)
    best = np.nanmax(totals, axis=1, keepdims=True)
    by_hand = (totals >= best - 1e-9).mean(axis=0)
    assert firm.first_as_weighed == pytest.approx(by_hand, abs=1e-12)
    assert firm.first_as_weighed != pytest.approx(firm.acceptability[:, 0], abs=1e-3)
