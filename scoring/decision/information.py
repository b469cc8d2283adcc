"""What it is worth to know more: expected regret, EVPI, EVPPI."""

from typing import NamedTuple

import numpy as np

from scoring.decision.weights import check_finite
from scoring.errors import ScoringError

BATCHES = 20  # groups of draws that the error of a value of information rests on
FEWEST = 40  # draws that leave no batch empty
TOO_FEW = f"too few draws for the value of information; at least {FEWEST} are needed"
RESAMPLES = 200
AT_ONCE = 16  # resamples; more, of more figures, would fall out of the cache
FIGURES_AT_ONCE = 4_096
GOLDEN = (5**0.5 - 1) / 2


class BinSums(NamedTuple):
    """Net benefit by batch and bin of each input, and how many draws are behind it."""

    sums: np.ndarray  # (batch, input, bin, alternative)
    counts: np.ndarray  # (batch, input, bin)


def added(sums, more):
    """Return the sums of two chunks of draws together; both of one kind."""
    return type(sums)(*map(np.add, sums, more))


def expected_regret(net_benefit):
    """Return by how much each alternative falls short of the best of its draw, mean.

    The mean over chunks, by their number of draws, is that over all draws.

    Parameters
    ----------
    net_benefit : shape (n_draws, n_alternatives)
        Finite, in money or any unit in which differences count; more is better.

    Returns
    -------
    shape (n_alternatives,)
        0 or more, in the same unit; 0 is best in every draw.

    Raises
    ------
    ScoringError
        If a figure is not finite or there is no draw.

    Examples
    --------
    >>> expected_regret([[10.0, 0.0], [-4.0, 0.0]]).tolist()
    [2.0, 5.0]
    """
    net_benefit = _checked_benefit(net_benefit)
    return (net_benefit.max(axis=1, keepdims=True) - net_benefit).mean(axis=0)


def evpi(net_benefit):
    """Return what it would be worth to know everything before choosing.

    The mean of the best of each draw, less the best mean; which is the smallest
    expected regret.

    Parameters
    ----------
    net_benefit : shape (n_draws, n_alternatives)
        Finite, in money; more is better.

    Returns
    -------
    float
        0 or more, in the same unit. Monte Carlo bias is upward, of the order of the
        error of the difference between rivals.

    Raises
    ------
    ScoringError
        If a figure is not finite or there is no draw.

    Source
    ------
    Raiffa & Schlaifer (1961), Applied Statistical Decision Theory; from memory.

    Examples
    --------
    >>> evpi([[10.0, 0.0], [-4.0, 0.0]])
    2.0
    """
    return float(expected_regret(net_benefit).min())


def _checked_benefit(net_benefit):
    net_benefit = np.asarray(net_benefit, float)
    if net_benefit.ndim != 2 or 0 in net_benefit.shape:
        raise ScoringError(
            f"net benefit of shape {net_benefit.shape}; (draws, alternatives) with at "
            "least one of each is needed"
        )
    check_finite(net_benefit, "net benefits")
    return net_benefit


def evppi(net_benefit, inputs, n_bins=None):
    """Return what it would be worth to know each input, and the Monte Carlo error.

    Parameters
    ----------
    net_benefit : shape (n_draws, n_alternatives)
        Finite, in money; more is better. At least 40 draws.
    inputs : shape (n_draws, n_inputs)
        The figures that each draw was made with, finite.
    n_bins : int, optional
        Left out, `bins_for(n_draws)`.

    Returns
    -------
    value, error : each of shape (n_inputs,), in the unit of the net benefit
        As in `evppi_of`.

    Raises
    ------
    ScoringError
        If a figure is not finite or the draws are too few or differ in number.

    Source
    ------
    Strong & Oakley (2013), An efficient method for computing single-parameter partial
    expected value of perfect information, Medical Decision Making 33(6),
    doi:10.1177/0272989X12465123, from memory: bins of the sorted input. Choosing on one
    half of the draws and valuing on the other is ours.

    Examples
    --------
    >>> price = np.tile([1.0, 3.0], 500)
    >>> value, error = evppi(np.column_stack([2 - price, 0 * price]), price[:, None])
    >>> value.tolist()
    [0.5]
    """
    net_benefit = _checked_benefit(net_benefit)
    if len(net_benefit) < FEWEST:  # they might fill all batches, but barely
        raise ScoringError(TOO_FEW)
    n_bins = bins_for(len(net_benefit)) if n_bins is None else n_bins
    bins = equal_count_bins(inputs, n_bins)
    sums = bin_sums(net_benefit, bins, n_bins, batches_of(0, len(net_benefit)))
    return evppi_of(sums, evpi(net_benefit))


def bins_for(n_draws):
    """Return how many bins suit this many draws: the cube root, 2 or more.

    With B bins the mean within a bin misses the curve by about 1/B, and its noise is
    about √(B/n); the sum of squares is least where B grows as the cube root of n.

    Examples
    --------
    >>> bins_for(1000), bins_for(10_000)
    (10, 22)
    """
    return max(2, round(n_draws ** (1 / 3)))


def equal_count_bins(inputs, n_bins):
    """Return the bin, from 0, of each draw of each input; each about as full.

    Parameters
    ----------
    inputs : shape (n_draws, n_inputs)
        Finite. Equal figures share a bin, so that an input of few values is not split
        at random; one that never changes is all in bin 0.
    n_bins : int
        1 or more.

    Raises
    ------
    ScoringError
        If a figure is not finite, or there are no bins.

    Examples
    --------
    >>> equal_count_bins([[5.0], [1.0], [7.0], [6.0]], 2).ravel().tolist()
    [0, 0, 1, 1]
    """
    inputs = np.asarray(inputs, float)
    if inputs.ndim != 2:
        raise ScoringError(f"inputs of shape {inputs.shape}; (draws, inputs) is needed")
    check_finite(inputs, "inputs")
    _check_bins(n_bins)
    bins = np.empty(inputs.shape, int)
    for k, column in enumerate(inputs.T):
        below = np.searchsorted(np.sort(column), column, side="left")
        bins[:, k] = below * n_bins // max(len(column), 1)
    return bins


def _check_bins(n_bins):
    if n_bins < 1:
        raise ScoringError(f"{n_bins!r} bins; at least 1 is needed")


def batches_of(start, n_draws):
    """Return the batch of each draw, from draw `start` on; its number alone decides.

    The golden ratio's multiples fill all batches evenly and repeat with no period, so
    draws made in a pattern (each figure twice, say) still spread over all of them.

    Examples
    --------
    >>> batches_of(0, 4).tolist(), batches_of(2, 2).tolist()
    ([0, 12, 4, 17], [4, 17])
    """
    turns = (start + np.arange(n_draws)) * GOLDEN
    return (turns % 1 * BATCHES).astype(int)


def bin_sums(net_benefit, bins, n_bins, batches):
    """Return net benefit summed by batch and bin; chunks of draws by `added`.

    Parameters
    ----------
    net_benefit : shape (n_draws, n_alternatives)
        Finite, in money; more is better.
    bins : int, shape (n_draws, n_inputs)
        The bin of each input's figure, from 0: `equal_count_bins`, or the uniform
        number that it came from, cut into equal parts, where draws come in chunks.
    n_bins : int
    batches : int, shape (n_draws,)
        0 to 19, of `batches_of`. A draw must get the same one in any chunk.

    Raises
    ------
    ScoringError
        If a figure is not finite, the draws differ in number, or a bin or a batch
        is not there.
    """
    net_benefit, bins = _checked_benefit(net_benefit), np.asarray(bins)
    batches, n_alternatives = np.asarray(batches), net_benefit.shape[1]
    _check_places(len(net_benefit), bins, n_bins, batches)
    n_inputs = bins.shape[1]
    sums = np.empty((n_inputs, n_alternatives, BATCHES * n_bins))
    counts = np.empty((n_inputs, BATCHES * n_bins), int)
    columns = np.ascontiguousarray(net_benefit.T)
    for k in range(n_inputs):
        cells = batches * n_bins + bins[:, k]
        counts[k] = np.bincount(cells, minlength=BATCHES * n_bins)
        for i, column in enumerate(columns):
            sums[k, i] = np.bincount(cells, column, minlength=BATCHES * n_bins)
    sums = sums.reshape(n_inputs, n_alternatives, BATCHES, n_bins)
    counts = counts.reshape(n_inputs, BATCHES, n_bins)
    return BinSums(sums.transpose(2, 0, 3, 1).copy(), counts.swapaxes(0, 1).copy())


def _check_places(n_draws, bins, n_bins, batches):
    if bins.ndim != 2 or not len(bins) == len(batches) == n_draws:
        raise ScoringError(
            f"{n_draws} draws of net benefit, bins of shape {bins.shape}, "
            f"{len(batches)} batches; all must be of the same draws"
        )
    _check_bins(n_bins)
    for what, places, size in [("bin", bins, n_bins), ("batch", batches, BATCHES)]:
        if ((places < 0) | (places >= size)).any():
            raise ScoringError(f"a {what} is not among the {size}, counted from 0")


def evppi_of(sums, evpi_value):
    """Return the value of knowing each input, and its error, from bin_sums.

    The best mean of a bin is too high by luck. So one half of the batches chooses each
    bin's alternative, and the one for all bins, and the other half says what the choice
    by bin brings more; both ways round. What luck is left is downward: so is what bins
    cannot see, an input that turns the choice in fewer than one of n_bins draws.

    Parameters
    ----------
    sums : BinSums
        At least one draw in every batch.
    evpi_value : float
        EVPI of the same draws: no input is worth more.

    Returns
    -------
    value, error : each of shape (n_inputs,), in the unit of the net benefit
        Value between 0 and EVPI. Error: one standard deviation of the value before it
        is kept within those, over 200 resamples of the batches within their halves
        (bootstrap, seed fixed).

    Raises
    ------
    ScoringError
        If a batch is empty.
    """
    if not sums.counts.sum(axis=-1).all():
        raise ScoringError(TOO_FEW)
    half = len(sums.counts) // 2
    rng = np.random.default_rng(0)
    picks = rng.multinomial(half, np.full(half, 1 / half), size=(RESAMPLES, 2))
    times = np.concatenate([np.ones((1, 2, half)), picks])
    value, *resampled = _worth_of_inputs(sums, times)
    spread = np.std(resampled, axis=0)
    # A resample of h batches varies by (h - 1)/h of what fresh ones would.
    error = spread * np.sqrt(half / (half - 1))
    return value.clip(0, evpi_value), error


def _worth_of_inputs(sums, times):
    """Return what choosing by bin brings more, a few inputs and resamples at a time.

    `times`, (resample, half, batch of the half), says how often each batch counts; the
    worth is (resample, input).
    """
    _, n_inputs, n_bins, n_alternatives = sums.sums.shape
    size = max(1, FIGURES_AT_ONCE // (n_bins * n_alternatives))
    worth = np.zeros((len(times), n_inputs))
    for first in range(0, n_inputs, size):
        some = slice(first, first + size)
        halves = [_half(sums, h, some) for h in (0, 1)]
        for start in range(0, len(times), AT_ONCE):
            rows = slice(start, start + AT_ONCE)
            worth[rows, some] = _worth_of_bins(halves, times[rows])
    return worth


def _half(sums, first, inputs):
    """Return the BinSums of every other batch, alternatives before inputs.

    Laid out once for all resamples: (batch, alternative, input, bin).
    """
    of_half, counts = (part[first::2, inputs] for part in sums)
    of_half = np.ascontiguousarray(of_half.transpose(0, 3, 1, 2))
    return BinSums(of_half, counts.astype(float))


def _worth_of_bins(halves, times):
    """Return what choosing by bin brings more, each batch counted so many times.

    `times` is (resample, half, batch of the half); the worth (resample, input).
    """
    one, other = (
        BinSums(*(_weighed(times[:, h], part) for part in half))
        for h, half in enumerate(halves)
    )
    gained = _gained(one, other) + _gained(other, one)
    return gained / (one.counts + other.counts).sum(axis=-1)


def _weighed(times, part):
    """Return sums over batches, each so many times: one product for all resamples."""
    flat = part.reshape(len(part), -1)
    return (times @ flat).reshape(len(times), *part.shape[1:])


def _gained(chooser, judge):
    """Return the judge's total under the chooser's choice by bin, less that by all.

    Figures are (resample, alternative, input, bin). Alternative by alternative: they
    are few, and each step then goes through long rows.
    """
    overall = chooser.sums.sum(axis=-1).argmax(axis=1)[..., None]
    best, chosen = chooser.sums[:, 0], judge.sums[:, 0]
    plain = chosen
    for k in range(1, chooser.sums.shape[1]):
        rival, of_rival = chooser.sums[:, k], judge.sums[:, k]
        chosen = np.where(rival > best, of_rival, chosen)
        plain = np.where(overall == k, of_rival, plain)
        best = np.maximum(best, rival)
    more = np.where(chooser.counts > 0, chosen - plain, 0.0)
    return more.sum(axis=-1)
