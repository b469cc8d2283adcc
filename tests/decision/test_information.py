"""The value of information, against closed forms and published examples.

Monte Carlo results are held to four of their own standard errors, with fixed seeds.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.integrate import quad
from scipy.stats import norm

from scoring.decision import information
from scoring.errors import ScoringError
from tests.decision.published import published
from tests.decision.tables import few

NAN = float("nan")


def rng(seed=1):
    return np.random.default_rng(seed)


def investments():
    """Return payoffs of ten equally likely draws (5, 3, 2 of each state), and states.

    Wikipedia, “Expected value of perfect information”, example; read there.
    """
    case = published("evpi_three_investments_wikipedia")
    times = np.array(case["inputs"]["probabilities"]) * 10
    states = np.repeat([0, 1, 2], times.round().astype(int))
    return np.array(case["inputs"]["payoffs"], float).T[states], states, case


def test_evpi_of_three_investments_as_published():
    """Stock, fund and deposit have an EVPI of 350, and the losses computed by numpy."""
    payoffs, _, case = investments()
    tolerance = case["published"]["tolerance_abs"]
    printed = case["published"]["values"]["EVPI"]
    assert information.evpi(payoffs) == pytest.approx(printed, abs=tolerance)
    regret = information.expected_regret(payoffs)
    exact = case["full_precision"]["expected_opportunity_loss"]
    np.testing.assert_allclose(regret, exact, atol=tolerance)


def test_evppi_of_the_state_of_the_market_is_evpi():
    """Knowing the state is knowing all: EVPPI 350; half of it known is worth less.

    Whether the market falls (probability 0.2): if so the best is 500, else the mean of
    5/8 and 3/8, 1050 for stock. 0.8 · 1050 + 0.2 · 500 - 680 = 260.
    """
    payoffs, states, case = investments()
    shuffled = rng().permutation(np.tile(np.arange(10), 200))
    states = states[shuffled]
    inputs = np.column_stack([states, states == 2, np.full(len(states), 3.3)])
    value, error = information.evppi(payoffs[shuffled], inputs)
    exact = case["full_precision"]["EVPI"]
    np.testing.assert_allclose(value, [exact, 260, 0], atol=1e-9)
    assert (error[:2] > 0).all() and error[2] == 0


def unit_normal_loss(u):
    """Return the mean of what a standard normal exceeds u by (Raiffa & Schlaifer)."""
    return norm.pdf(u) - u * norm.sf(u)


@pytest.mark.parametrize("mean", [-1.5, 0.0, 0.4, 2.0])
def test_evpi_of_a_normal_net_benefit(mean):
    """Against 0, N(μ, σ) has EVPI σ·(φ(u) - u·(1 - Φ(u))), u = |μ|/σ.

    Raiffa & Schlaifer (1961), unit normal loss integral; from memory.
    """
    sd, n_draws = 2.0, 40_000
    net = rng().normal(mean, sd, n_draws)
    loss = np.maximum(net, 0) - (net if mean > 0 else 0)
    found = information.evpi(np.column_stack([net, np.zeros(n_draws)]))
    exact = sd * unit_normal_loss(abs(mean) / sd)
    # At μ = 0 the rivals tie: the best mean is |mean of n|, too high by σ·√(2/πn).
    slack = 4 * loss.std() / np.sqrt(n_draws) + sd / np.sqrt(n_draws)
    assert found == pytest.approx(exact, abs=slack)


def normal_case(n_draws, seed, mean=0.5, sds=(2.0, 1.0)):
    """Return net benefits of (μ + x₁, -x₂, far behind) and inputs x₁, x₂, unrelated."""
    inputs = rng(seed).normal(0, [*sds, 1.0], (n_draws, 3))
    net = np.column_stack(
        [mean + inputs[:, 0], -inputs[:, 1], np.full(n_draws, mean - 50)]
    )
    return net, inputs


def normal_evppi(mean=0.5, sds=(2.0, 1.0)):
    return np.array([sd * unit_normal_loss(mean / sd) for sd in sds] + [0.0])


@pytest.mark.parametrize("mean", [0.0, 0.5, 3.0])
def test_evppi_of_normal_inputs(mean):
    """Each of two normal inputs is worth the loss integral of its own sd.

    The rivals differ by μ + x₁ + x₂, so knowing one input leaves its sd alone to
    decide; an input that nothing depends on is worth 0 (from memory, as above).
    """
    net, inputs = normal_case(40_000, seed=3, mean=mean)
    value, error = information.evppi(net, inputs)
    # A bin misses the curve by far less: about 1/B² of the sd, B = 34 bins.
    assert (abs(value - normal_evppi(mean)) <= 4 * error + 1e-3).all()
    assert (value >= 0).all() and (value <= information.evpi(net)).all()
    assert error[0] < 0.05


def test_the_error_of_evppi_is_what_it_scatters_by():
    """Over 60 runs the reported error agrees with the scatter around the truth.

    The root mean square of 60 normal deviates is within 1 ± 4·0.09; and the reported
    errors, from 20 batches, are themselves some 20 % off.
    """
    truth = normal_evppi()[:2]
    runs = [information.evppi(*normal_case(4000, seed)) for seed in range(60)]
    deviates = np.array([(value[:2] - truth) / error[:2] for value, error in runs])
    rms = np.sqrt((deviates**2).mean(axis=0))
    assert ((rms > 0.6) & (rms < 1.6)).all()


def test_the_error_of_evppi_shrinks_with_the_root_of_the_draws():
    """16 times the draws leave a quarter of the reported error.

    The mean of 12 errors that are each some 16 % off: the ratio is 4 within 7 %; held
    to four times that.
    """

    def error(n_draws, first_seed):
        cases = (normal_case(n_draws, first_seed + i) for i in range(12))
        return np.mean([information.evppi(*case)[1][:2] for case in cases], axis=0)

    np.testing.assert_allclose(error(1000, 0) / error(16_000, 50), 4, rtol=0.28)


def _mean_of(net):
    """Return the mean of a function of a uniform number, by quadrature (QUADPACK)."""
    return quad(net, 0, 1, limit=400, points=np.linspace(0, 1, 101)[1:-1])[0]


# What a uniform number brings against 0; noise of sd 1 that nobody can know beside it.
SHAPES = {
    "normal": lambda u: norm.ppf(u) - 0.3,
    "binary": lambda u: np.where(u < 0.3, -1.0, 0.6),
    "quadratic": lambda u: 2 * (2 * u - 1) ** 2 - 0.8,
    "sine of three periods": lambda u: np.sin(6 * np.pi * u) - 0.1,
    "cliff at the top 2 %": lambda u: np.where(u > 0.98, 5.0, -1.0),
    "cliff at the top 10 %": lambda u: np.where(u > 0.9, 1.0, -1.0),
    "irrelevant": lambda u: 0 * u + 0.05,
}


@pytest.mark.slow
@pytest.mark.parametrize("name", SHAPES)
def test_two_errors_cover_the_truth(name):
    """In nine of ten runs of 10,000 draws the EVPPI is within two errors of the truth.

    The truth: the mean of what is above 0, less the mean where that is above 0, by
    quadrature. Of 400 runs the share is known to 1.5 %.
    """
    net, generator, n_runs = SHAPES[name], rng(5), 400
    truth = _mean_of(lambda u: max(net(u), 0.0)) - max(_mean_of(net), 0.0)
    n_covered = 0
    for _ in range(n_runs):
        u = generator.random(10_000)
        benefit = net(u) + generator.standard_normal(10_000)
        against = np.column_stack([benefit, np.zeros(10_000)])
        value, error = information.evppi(against, u[:, None])
        n_covered += abs(value[0] - truth) <= 2 * error[0]
    assert n_covered >= 0.9 * n_runs


def test_a_cliff_that_few_draws_reach_is_seen():
    """An input that turns the choice in its top 2 % is worth 5 · 0.02, by hand."""
    u = rng().random(10_000)
    benefit = SHAPES["cliff at the top 2 %"](u) + rng(2).standard_normal(10_000)
    against = np.column_stack([benefit, np.zeros(10_000)])
    value, error = information.evppi(against, u[:, None])
    assert value[0] == pytest.approx(0.1, abs=2 * error[0])
    assert error[0] < 0.015


def test_choosing_and_valuing_on_other_draws_takes_the_luck_out():
    """Ten even rivals of which an input says nothing: no value beyond its error.

    The best of ten noisy means of 200 draws would be 1.54 · 1/√200 = 0.11 too high in
    each bin (1.54: mean of the largest of ten standard normals; Teichroew 1956, from
    memory).
    """
    net, inputs = rng().normal(size=(4000, 10)), rng(2).normal(size=(4000, 5))
    value, error = information.evppi(net, inputs, n_bins=20)
    assert (value <= 4 * error).all()
    assert (value < 0.055).all()


@few
@given(
    arrays(float, (60, 3), elements=st.integers(-9, 9)),
    arrays(float, (60, 2), elements=st.integers(0, 5)),
    st.integers(1, 9),
)
def test_evppi_lies_between_nothing_and_evpi(net, inputs, n_bins):
    """No input is worth less than nothing or more than knowing all."""
    value, error = information.evppi(net, inputs, n_bins)
    assert (value >= 0).all() and (value <= information.evpi(net)).all()
    assert (error >= 0).all()


def test_evppi_does_not_mind_the_unit():
    """Inputs through a rising function: the same; money in cents: 100 times."""
    net, inputs = normal_case(2000, seed=5)
    value, error = information.evppi(net, inputs)
    again = information.evppi(net, np.exp(inputs))
    np.testing.assert_array_equal(again, (value, error))
    cents = information.evppi(100 * net, inputs)
    np.testing.assert_allclose(cents, 100 * np.array([value, error]), atol=1e-9)


def test_bins_that_one_half_has_not_seen_bring_nothing():
    """With one draw in each bin nothing is learned from the other half: 0, for sure.

    The first alternative is worse in every draw; a bin that the choosing half left
    empty must fall back on the choice for all, not on the first.
    """
    net = np.column_stack([-rng().random(200), np.zeros(200)])
    value, error = information.evppi(net, np.arange(200.0)[:, None], n_bins=200)
    assert (value[0], error[0]) == (0, 0)


def test_evppi_is_the_same_each_time():
    """The resampling behind the error starts from a fixed seed."""
    case = normal_case(500, seed=4)
    np.testing.assert_array_equal(information.evppi(*case), information.evppi(*case))


def test_each_of_many_inputs_is_worth_what_it_is_worth_alone():
    """More inputs than are looked at together, two of them of any worth: as alone."""
    n_inputs = 300  # × 9 bins × 3 alternatives: twice what is looked at together
    inputs = rng().random((4_000, n_inputs))
    net = np.column_stack([inputs[:, [0, 299]] - 0.5, np.zeros(len(inputs))])
    value, error = information.evppi(net, inputs, 9)
    assert set(value.argsort()[-2:]) == {0, 299}
    for k in (0, 150, 151, 152, 299):
        alone = information.evppi(net, inputs[:, [k]], 9)
        assert (value[k], error[k]) == pytest.approx((alone[0][0], alone[1][0]))


def test_bin_sums_of_chunks_add_up():
    """Sums by batch and bin, added over chunks, give counts exactly and EVPPI too."""
    net, inputs = normal_case(3000, seed=6)
    bins = information.equal_count_bins(inputs, 12)
    total = None
    for start in range(0, 3000, 700):
        part = slice(start, start + 700)
        n_draws = len(net[part])
        batches = information.batches_of(start, n_draws)
        sums = information.bin_sums(net[part], bins[part], 12, batches)
        total = sums if total is None else information.added(total, sums)
    whole = information.bin_sums(net, bins, 12, information.batches_of(0, 3000))
    np.testing.assert_array_equal(total.counts, whole.counts)
    np.testing.assert_allclose(total.sums, whole.sums, rtol=0, atol=1e-9)
    assert whole.counts.sum(axis=(0, 2)).tolist() == [3000] * 3
    np.testing.assert_allclose(whole.sums.sum(axis=(0, 2))[0], net.sum(axis=0))
    limit = information.evpi(net)
    np.testing.assert_allclose(
        information.evppi_of(total, limit),
        information.evppi(net, inputs, 12),
        atol=1e-9,
    )


def test_bins_are_equally_full_and_keep_equals_together():
    """Different figures fill bins evenly; equal ones share theirs."""
    different = rng().permutation(100.0 * np.arange(1000))[:, None]
    bins = information.equal_count_bins(different, 8)
    assert np.bincount(bins[:, 0]).tolist() == [125] * 8
    order = np.argsort(different[:, 0])
    assert (np.diff(bins[order, 0]) >= 0).all()
    few_values = rng().integers(0, 3, (1000, 1))
    bins = information.equal_count_bins(few_values, 8)
    assert len(np.unique(np.column_stack([few_values, bins]), axis=0)) == 3


@pytest.mark.parametrize("period", [1, 2, 3, 4, 5, 8, 10, 20, 40])
def test_batches_fill_evenly_whatever_the_period(period):
    """Every p-th draw spreads over all batches, within one quarter of the mean."""
    batches = information.batches_of(0, 2000 * period)[::period]
    assert abs(np.bincount(batches, minlength=20) / 100 - 1).max() < 0.25
    np.testing.assert_array_equal(
        information.batches_of(130, 20)[-3:], information.batches_of(147, 3)
    )


BINS, BATCHES = np.zeros((40, 1), int), np.arange(40) % 20


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: information.evpi([[NAN, 1.0]]), "nan"),
        (lambda: information.expected_regret(np.zeros((0, 2))), "at least one"),
        (lambda: information.evppi(np.zeros((9, 2)), np.zeros((9, 1))), "too few"),
        (lambda: information.evppi(np.zeros((39, 2)), np.zeros((39, 1))), "too few"),
        (lambda: information.evppi(np.zeros((50, 2)), np.zeros((9, 1))), "same draws"),
        (lambda: information.evppi(np.zeros((50, 2)), np.full((50, 1), NAN)), "nan"),
        (lambda: information.evppi(np.zeros((50, 2)), np.zeros((50, 1)), 0), "0 bins"),
        (
            lambda: information.bin_sums(np.zeros((40, 2)), BINS + 3, 3, BATCHES),
            "bin is not among the 3",
        ),
        (
            lambda: information.bin_sums(np.zeros((40, 2)), BINS, 3, BATCHES + 1),
            "batch is not among the 20",
        ),
    ],
)
def test_faults(call, words):
    """What cannot be valued is a sentence that says why."""
    with pytest.raises(ScoringError, match=words):
        call()


def test_arguments_stay_as_they_were():
    """Nothing is sorted or written in place."""
    net, inputs = rng().random((50, 3)), rng(2).random((50, 2))
    before = net.copy(), inputs.copy()
    information.evppi(net, inputs)
    np.testing.assert_array_equal(net, before[0])
    np.testing.assert_array_equal(inputs, before[1])
