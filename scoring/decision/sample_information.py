"""What it is worth to test before choosing: expected value of sample information.

Net benefit of each alternative is fitted, on half of the draws, by what the tests would
tell; the choice so made is paid on the other half, and the other way round. So chance
does not flatter: what is told is what acting on the results would really have left.
"""

from typing import NamedTuple

import numpy as np

from scoring.decision.information import batches_of
from scoring.decision.weights import check_finite
from scoring.errors import ScoringError

RIDGE = 1e-3  # of the draws; keeps a fit of figures that move together steady
FEWEST = 40  # draws


def evsi(net_benefit, inputs, spreads, repeats, rng):
    """Return what a test of some inputs, or a bundle of tests, is worth, and the error.

    A test shows its input as the mean of so many tries, each off by chance. What is
    paid after acting on the results, less what the one choice without them pays.

    Parameters
    ----------
    net_benefit : shape (n_draws, n_alternatives)
        Finite, in money; more is better. At least 40 draws.
    inputs : shape (n_draws, n_inputs)
        The figures that the tests of the bundle show; each draw was made with them.
    spreads : shape (n_inputs,), or one for all
        Standard deviation of a single try, in the input's unit, 0 or more; try by try
        independent, and normal.
    repeats : int, shape (n_inputs,), or one for all
        Tries of each, 1 or more.
    rng : numpy Generator

    Returns
    -------
    value, error : floats, in the unit of the net benefit
        Value is 0 or more; error one standard deviation by Monte Carlo.

    Raises
    ------
    ScoringError
        If a figure is not finite or out of its range, or the draws differ in number.

    Source
    ------
    Raiffa & Schlaifer (1961), Applied Statistical Decision Theory (what it is);
    regression on simulated results: Strong, Oakley, Brennan & Breeze (2015), Medical
    Decision Making 35, 570–583, doi:10.1177/0272989X15575286. Both from memory; fitting
    on one half and paying on the other is ours.

    Examples
    --------
    >>> rng = np.random.default_rng(1)
    >>> price = np.tile([1.0, 3.0], 500)
    >>> benefit = np.column_stack([2 - price, 0 * price])
    >>> value, error = evsi(benefit, price[:, None], 0.01, 1, rng)
    >>> round(value, 2)  # as good as knowing: 1 in half of the cases
    0.5
    """
    inputs = np.asarray(inputs, float)
    if inputs.ndim != 2:
        raise ScoringError(f"inputs of shape {inputs.shape}; (draws, inputs) is needed")
    spreads, repeats = np.asarray(spreads, float), np.asarray(repeats)
    if not (np.isfinite(spreads).all() and (spreads >= 0).all()):
        raise ScoringError(f"spreads: {spreads.min():g}; finite, 0 or more")
    if not (repeats >= 1).all():
        raise ScoringError(f"repeats: {repeats.min()}; 1 or more")
    off = rng.standard_normal(inputs.shape) * (spreads / np.sqrt(repeats))
    gained = Samples(net_benefit, inputs + off).gained(range(inputs.shape[1]))
    return max(0.0, float(gained.mean())), _error(gained)


def _error(gained):
    return float(gained.std(ddof=1) / np.sqrt(len(gained)))


class Fitted(NamedTuple):
    """One half of the draws that chooses, and the other that pays."""

    gram: np.ndarray  # (feature, feature) of the choosing half, the ridge in it
    moment: np.ndarray  # (feature, alternative)
    features: np.ndarray  # (draw, feature) of the paying half
    paid: np.ndarray  # (draw, alternative)
    blind: int  # the choosing half's choice without any test


class Samples:
    """Net benefit and simulated results, for the worth of many bundles of them.

    The sums of squares are made once; a bundle takes its own rows and columns of them.

    Parameters
    ----------
    net_benefit : shape (n_draws, n_alternatives)
    results : shape (n_draws, n_results), what each test would show; in any unit
    """

    def __init__(self, net_benefit, results):
        benefit, results = np.asarray(net_benefit, float), np.asarray(results, float)
        if benefit.ndim != 2 or results.ndim != 2 or len(benefit) != len(results):
            raise ScoringError(
                f"net benefit of shape {benefit.shape}, results of {results.shape}; "
                "(draws, alternatives) and (draws, results) of the same draws"
            )
        if len(benefit) < FEWEST:
            raise ScoringError(f"{len(benefit)} draws; at least {FEWEST} are needed")
        check_finite(benefit, "net benefits")
        check_finite(results, "results")
        spread = results.std(axis=0)
        x = (results - results.mean(axis=0)) / np.where(spread > 0, spread, 1.0)
        self.n_results = results.shape[1]
        features = np.concatenate([np.ones((len(x), 1)), x, x**2 - 1], axis=1)
        is_even = batches_of(0, len(x)) % 2 == 0  # no pattern of the draws' own
        self.is_even = is_even
        self.halves = [_half(features, benefit, fit) for fit in (is_even, ~is_even)]

    def gained(self, chosen):
        """Return what acting on some results pays above acting on none, by draw.

        Parameters
        ----------
        chosen : places of the results that are known

        Returns
        -------
        shape (n_draws,); the mean is the worth, by chance a little below 0 at times
        """
        gained = np.empty(len(self.is_even))
        for pays, half in zip((~self.is_even, self.is_even), self.halves, strict=True):
            choice = self._fit(half, chosen).argmax(axis=1)
            paid = np.take_along_axis(half.paid, choice[:, None], axis=1)[:, 0]
            gained[pays] = paid - half.paid[:, half.blind]
        return gained

    def worth(self, chosen):
        """Return the mean of `gained`, 0 or more."""
        return max(0.0, float(self.gained(chosen).mean()))

    def believed(self, chosen):
        """Return the net benefit that is believed once some results are known.

        Shape (n_draws, n_alternatives): each half's by the fit of the other.
        """
        shape = (len(self.is_even), self.halves[0].paid.shape[1])
        believed = np.empty(shape)
        for pays, half in zip((~self.is_even, self.is_even), self.halves, strict=True):
            believed[pays] = self._fit(half, chosen)
        return believed

    def _fit(self, half, chosen):
        """Return the paying half's fitted net benefit: (draw, alternative)."""
        chosen = np.array(sorted(chosen), int)
        of = np.concatenate([[0], 1 + chosen, 1 + self.n_results + chosen])
        coefficients = np.linalg.solve(half.gram[np.ix_(of, of)], half.moment[of])
        return half.features[:, of] @ coefficients


def _half(features, benefit, fit):
    own = features[fit]
    ridge = np.eye(features.shape[1]) * RIDGE * len(own)
    ridge[0, 0] = 0.0  # the mean is left free
    return Fitted(
        gram=own.T @ own + ridge,
        moment=own.T @ benefit[fit],
        features=features[~fit],
        paid=benefit[~fit],
        blind=int(benefit[fit].mean(axis=0).argmax()),
    )
