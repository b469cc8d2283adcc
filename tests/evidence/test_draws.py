"""Drawing many figures at once, against numpy's own streams and look-up."""

from hashlib import sha256

import numpy as np
import pytest
from scipy import stats

from scoring.evidence import draws
from tests import cases

TAILS = [0.0, 1e-300, 1e-12, 1e-6, 1 - 1e-6, 1 - 1e-12, np.nextafter(1, 0)]


def test_streams_are_numpys_own():
    """Each stream is a PCG64 of its seed and of its name's SHA-256, wherever cut."""
    found = draws.numbers(3, ["Alder/price", "brief/wage"], 5, 9)
    for name, numbers in found.items():
        digest = int.from_bytes(sha256(name.encode()).digest())
        seeds = np.random.SeedSequence([3, digest])
        whole = np.random.Generator(np.random.PCG64(seeds)).random(9)
        assert numbers.tolist() == whole[5:].tolist()


@pytest.mark.parametrize("alpha", [1.0, 1.000001, 2.0, 3.0, 4.2, 5.0])
def test_looking_up_by_bins_is_interpolation(alpha):
    """The same as numpy's interp on the inverse table, also far out in the tails."""
    at = np.linspace(0, 1, draws.N_KNOTS)
    probability = stats.beta.cdf(at, alpha, 6 - alpha)
    on_knots = probability[probability < 1]
    spread = np.random.default_rng(1).random(5_000)
    uniform = np.concatenate([spread, on_knots, np.nextafter(on_knots, 1), TAILS])
    found = draws.pert_quantile(0.0, (alpha - 1) / 4, 1.0, uniform)
    bulk = slice(len(spread))
    expected = np.interp(uniform, probability, at)
    assert found[bulk] == pytest.approx(expected[bulk], abs=1e-12)
    assert found == pytest.approx(expected, abs=1 / draws.N_KNOTS)
    order = uniform.argsort(kind="stable")
    assert (np.diff(found[order]) >= 0).all()
    assert ((found >= 0) & (found <= 1)).all()


def test_figures_looked_up_together_are_those_looked_up_alone():
    """Whatever shares a table with it, a figure's draws are its own quantiles."""
    demo = cases.demo("new-entrant")
    found = draws.drawn(demo.evidence, demo.brief, 4, 10, 30)
    numbers = draws.figure_numbers(demo.evidence, demo.brief, 4, 10, 30)
    compared = 0
    for key, figure in demo.evidence.items():
        if draws.is_uncertain(figure) and figure.currency in (
            None,
            demo.brief.currency,
        ):
            uniform = numbers[draws.stream_of(*key)]
            own = draws.pert_quantile(figure.low, figure.likely, figure.high, uniform)
            assert found[key].tolist() == own.tolist(), key
            compared += 1
    assert compared > 100
