"""What it is worth to know more: expected regret, EVPI, EVPPI."""

from typing import NamedTuple

import numpy as np

from scoring.decision.weights import check_finite
from scoring.errors import ScoringError

BATCHES = 20  # groups of draws that the error of a value of information rests on
FEWEST = 40  # draws that leave no batch empty
TOO_FEW = f"too few draws for the value of information; at least {FEWEST} are needed"
DRAWS_A_BIN = 24
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
        The finest; left out, `bins_for(n_draws)`.

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
    doi:10.1177/0272989X12465123, from memory: bins of the sorted input. Choosing the
    bins and the alternatives on one half of the draws and valuing them on the other is
    ours.

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
    """Return the finest bins that this many draws allow: a power of two, 2 to 256.

    Of about 24 draws or more each. How many of them are laid together is decided by the
    draws themselves, in `evppi_of`.

    Examples
    --------
    >>> bins_for(1000), bins_for(10_000)
    (32, 256)
    """
    return 2 ** int(np.clip(np.log2(max(n_draws, 1) / DRAWS_A_BIN), 1, 8))


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
    bin's alternative and the other half says what choosing by bin brings more than the
    one alternative for all; both ways round. How fine the bins are is chosen within the
    choosing half, each quarter valuing what the other chose: fine for a cliff, coarse
    where a figure says little.

    Parameters
    ----------
    sums : BinSums
        At least one draw in every batch.
    evpi_value : float
        EVPI of the same draws: no input is worth more.

    Returns
    -------
    value, error : each of shape (n_inputs,), in the unit of the net benefit
        Value between 0 and EVPI. Error: the root of the sum of three squares, before
        the value is kept within those. Sampling: one standard deviation, from the
        scatter of the batches. Luck: half of what choosing and valuing on the same
        draws would bring more. Resolution: the difference that bins of the next
        width make, narrower where there are such.
        For a normal, a binary, a quadratic and a wavy input and for cliffs at the top
        2 and 10 % of 10,000 draws, the truth is within two errors in 9 runs of 10.

    Raises
    ------
    ScoringError
        If a batch is empty.
    """
    if not sums.counts.sum(axis=-1).all():
        raise ScoringError(TOO_FEW)
    n_draws = sums.counts[:, :1].sum()
    for_all = sums.sums.sum(axis=(0, 2)).argmax(axis=-1)
    tried = [_at_width(level, for_all) for level in _widths(sums)]
    in_quarters, by_batch, lucky = (np.stack(part) for part in zip(*tried, strict=True))
    # The widest of equals: where nothing is gained, nothing is to be seen finely.
    width = len(tried) - 1 - in_quarters[::-1].argmax(axis=0)
    next_to = np.where(width > 0, width - 1, min(1, len(tried) - 1))
    gained, beside = (
        _of_width(by_batch, np.concatenate([of_half] * (BATCHES // 2)))
        for of_half in (width, next_to)
    )
    value = gained.sum(axis=0) / n_draws
    parts = (
        gained.std(axis=0, ddof=1) * np.sqrt(BATCHES) / n_draws,
        (_of_width(lucky, width).sum(axis=0) / n_draws - value).clip(0) / 2,
        value - beside.sum(axis=0) / n_draws,
    )
    error = np.sqrt(np.square(parts).sum(axis=0))
    return value.clip(0, evpi_value), error


def _widths(sums):
    """Yield the BinSums, then those of bins twice as wide, down to one bin."""
    yield sums
    while sums.counts.shape[-1] > 1:
        if sums.counts.shape[-1] % 2:
            more = [(0, 0), (0, 0), (0, 1)]
            sums = BinSums(
                np.pad(sums.sums, [*more, (0, 0)]), np.pad(sums.counts, more)
            )
        sums = BinSums(
            sums.sums[:, :, ::2] + sums.sums[:, :, 1::2],
            sums.counts[..., ::2] + sums.counts[..., 1::2],
        )
        yield sums


def _at_width(sums, for_all):
    """Return what choosing by bins of this width brings more than one for all, summed.

    Three arrays, halves and batches by turns: as quarters of the choosing half see it
    (half, input); as the other half does, by batch (batch, input); as the choosing half
    itself does (half, input).
    """
    more = sums.sums - np.take_along_axis(
        sums.sums, for_all[None, :, None, None], axis=-1
    )
    quarters = [_chosen(sums, slice(k, None, 4)) for k in range(4)]
    halves = [_chosen(sums, slice(k, None, 2)) for k in range(2)]

    def brings(batches, chosen):
        part = np.take_along_axis(more[batches], chosen[None, ..., None], axis=-1)
        return np.where(chosen >= 0, part[..., 0], 0.0).sum(axis=-1)

    in_quarters = np.stack(
        [
            brings(slice(k, None, 4), quarters[k + 2]).sum(axis=0)
            + brings(slice(k + 2, None, 4), quarters[k]).sum(axis=0)
            for k in range(2)
        ]
    )
    by_batch = np.empty(more.shape[:2])
    for k in range(2):  # the batches of one half, the choice of the other
        by_batch[k::2] = brings(slice(k, None, 2), halves[1 - k])
    lucky = [brings(slice(k, None, 2), halves[k]).sum(axis=0) for k in range(2)]
    # The half that chooses for the batches of half k is the other one.
    return in_quarters[::-1], by_batch, np.stack(lucky[::-1])


def _chosen(sums, batches):
    """Return the best alternative of each bin by some batches, −1 without any draw."""
    best = sums.sums[batches].sum(axis=0).argmax(axis=-1)
    return np.where(sums.counts[batches].sum(axis=0) > 0, best, -1)


def _of_width(figures, width):
    """Return the figures (width, row, input) at the width of each row and input."""
    return np.take_along_axis(figures, width[None], axis=0)[0]
