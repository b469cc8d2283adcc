"""How firm an order is: shares over draws, weights drawn, the value of information.

Axes are (draw, alternative) and (draw, criterion). What is summed over draws comes in
two steps, counts or sums that can be added chunk by chunk and what follows from them;
the function on a whole array is built on those.
"""

from typing import NamedTuple

import numpy as np

from scoring.decision.ranking import TIE, ranks
from scoring.decision.weights import check_finite, normalise
from scoring.errors import ScoringError

CHUNK = 2048  # draws sorted at a time: 40 alternatives then stay in the cache
BATCHES = 20  # groups of draws that the error of a value of information rests on
FEWEST = 40  # draws that leave no batch empty
RESAMPLES = 200
GOLDEN = (5**0.5 - 1) / 2
# Uniforms are kept this far from 0 and 1, where the inverse of a gamma CDF is endless.
# It is half of the step between two neighbouring uniforms.
EDGE = 2.0**-54


class CentralSums(NamedTuple):
    """First places won, shape (n,), and the weights they were won with, (n, m)."""

    firsts: np.ndarray
    weights: np.ndarray


class BinSums(NamedTuple):
    """Net benefit by batch and bin of each input, and how many draws are behind it."""

    sums: np.ndarray  # (batch, input, bin, alternative)
    counts: np.ndarray  # (batch, input, bin)


def added(sums, more):
    """Return the sums of two chunks of draws together; both of one kind."""
    return type(sums)(*map(np.add, sums, more))


def rank_acceptability(scores):
    """Return the share of draws in which each alternative takes each rank.

    Parameters
    ----------
    scores : shape (n_draws, n_alternatives)
        More is better. NaN: ruled out in that draw, so without a rank.

    Returns
    -------
    shape (n_alternatives, n_alternatives)
        Row i, column r: the share of draws, 0–1, in which i has rank r + 1. Ties, as in
        `ranks`, split their share evenly over the ranks that they cover. A row sums to
        1 less the share of draws in which i is ruled out.

    Raises
    ------
    ScoringError
        If a score is infinite or there is no draw.

    Source
    ------
    Lahdelma & Salminen (2001), SMAA-2, Operations Research 49(3),
    doi:10.1287/opre.49.3.444.11220. There tied alternatives all have the better rank;
    here they split the ranks, so that each rank's shares sum to 1.

    Examples
    --------
    >>> rank_acceptability([[3.0, 2.0], [1.0, 2.0], [4.0, 4.0], [5.0, 1.0]]).tolist()
    [[0.625, 0.375], [0.375, 0.625]]
    """
    return acceptability_of(rank_counts(scores), len(scores))


def rank_counts(scores):
    """Return in how many draws each alternative stands where, in a tie of how many.

    Counts of two chunks of draws may be added: they are whole, so the result is the
    same on any number of chunks.

    Parameters
    ----------
    scores : shape (n_draws, n_alternatives)
        More is better. NaN: ruled out in that draw.

    Returns
    -------
    int, shape (n_alternatives, n_alternatives, n_alternatives)
        [i, r, k - 1]: draws in which i and k - 1 others share the ranks from r + 1 on.

    Raises
    ------
    ScoringError
        If a score is infinite.
    """
    scores = _checked_scores(scores)
    n = scores.shape[1]
    counts = np.zeros((n, n, n), int)
    for start in range(0, len(scores), CHUNK):
        rising = -scores[start : start + CHUNK]
        order = np.argsort(rising, axis=1)  # NaN goes last
        ordered = np.take_along_axis(rising, order, axis=1)
        has_tie = (ordered[:, 1:] <= ordered[:, :-1] + TIE).any(axis=1)
        if has_tie.any():
            counts += _tied_counts(-rising[has_tie])
            order, ordered = order[~has_tie], ordered[~has_tie]
        cells = order * n + np.arange(n)
        if np.isnan(ordered[:, -1:]).any():
            cells = cells[~np.isnan(ordered)]
        counts[:, :, 0] += np.bincount(cells.ravel(), minlength=n * n).reshape(n, n)
    return counts


def _tied_counts(scores):
    """Return rank_counts by the ranks themselves: slower, but ties are seen."""
    n = scores.shape[1]
    among = ~np.isnan(scores)
    first = ranks(scores, among=among)
    draw, alternative = np.nonzero(among)
    first = first[among] - 1
    place = draw * n + first
    size = np.bincount(place)[place]
    cells = (alternative * n + first) * n + size - 1
    return np.bincount(cells, minlength=n**3).reshape(n, n, n)


def acceptability_of(counts, n_draws):
    """Return the rank acceptability, as `rank_acceptability`, from rank_counts."""
    _check_draws(n_draws)
    n = counts.shape[0]
    each = counts / np.arange(1, n + 1)
    shares = np.zeros((n, n))
    for step in range(n):  # the rank `step` after the first, in a tie of more than that
        shares[:, step:] += each[:, : n - step, step:].sum(axis=-1)
    return shares / n_draws


def pairwise_order(scores):
    """Return the share of draws in which one alternative comes before another.

    Parameters
    ----------
    scores : shape (n_draws, n_alternatives)
        More is better. NaN: ruled out in that draw, which is behind all that are not.

    Returns
    -------
    shape (n_alternatives, n_alternatives)
        Row i, column j: the share, 0–1, in which i comes before j; a tie, or both ruled
        out, counts half. So [i, j] + [j, i] = 1, and 1/2 on the diagonal.

    Raises
    ------
    ScoringError
        If a score is infinite or there is no draw.

    Examples
    --------
    >>> pairwise_order([[3.0, 2.0], [1.0, 1.0], [2.0, 1.0], [2.0, 1.0]])[0].tolist()
    [0.5, 0.875]
    """
    return order_of(order_counts(scores), len(scores))


def order_counts(scores):
    """Return in how many draws i comes before j, ties left out: int, shape (n, n).

    Counts of two chunks of draws may be added. Scores as in `pairwise_order`.
    """
    scores = _checked_scores(scores)
    n = scores.shape[1]
    counts = np.zeros((n, n), int)
    for start in range(0, len(scores), CHUNK):
        chunk = scores[start : start + CHUNK]
        among = ~np.isnan(chunk)
        places = np.where(among, ranks(chunk, among=among), n + 1).astype(np.int32)
        for i in range(n):
            counts[i] += (places[:, i, None] < places).sum(axis=0)
    return counts


def order_of(counts, n_draws):
    """Return the shares of `pairwise_order` from order_counts."""
    _check_draws(n_draws)
    return (counts + (n_draws - counts.T)) / (2 * n_draws)


def central_weights(weights, scores):
    """Return the mean of the weights with which each alternative is first.

    Parameters
    ----------
    weights : shape (n_draws, n_criteria)
        The weights of each draw.
    scores : shape (n_draws, n_alternatives)
        What came of them; more is better. NaN: ruled out in that draw.

    Returns
    -------
    shape (n_alternatives, n_criteria)
        What a buyer cares for who is best served by i. A draw in which k tie for first
        counts 1/k for each, so that the rows, weighed by the first-rank acceptability,
        sum to the mean of all weights. NaN in the row of one that is never first.

    Raises
    ------
    ScoringError
        If a score is infinite, a weight is not finite, or the draws differ in number.

    Source
    ------
    Lahdelma & Salminen (2001), SMAA-2, doi:10.1287/opre.49.3.444.11220; ties split.

    Examples
    --------
    >>> central_weights([[0.9, 0.1], [0.7, 0.3]], [[2.0, 1.0], [5.0, 3.0]]).round(9)
    array([[0.8, 0.2],
           [nan, nan]])
    """
    return central_of(central_sums(weights, scores))


def central_sums(weights, scores):
    """Return what `central_weights` sums over draws; chunks by `added`."""
    weights, scores = np.asarray(weights, float), _checked_scores(scores)
    check_finite(weights, "weights")
    if weights.ndim != 2 or len(weights) != len(scores):
        raise ScoringError(
            f"weights of shape {weights.shape} for scores of shape {scores.shape}; "
            "one row of weights a draw is needed"
        )
    is_first = _is_first(scores)
    tied = is_first.sum(axis=1, keepdims=True)
    share = is_first / np.maximum(tied, 1)
    return CentralSums(share.sum(axis=0), share.T @ weights)


def central_of(sums):
    """Return the central weights from central_sums."""
    firsts = np.where(sums.firsts > 0, sums.firsts, np.nan)
    return sums.weights / firsts[:, None]


def confidence(scores):
    """Return the share of draws in which each is first under its central weights.

    Low: even a buyer with the very taste that suits it could not be sure of it, for
    want of evidence.

    Parameters
    ----------
    scores : shape (n_alternatives, n_draws, n_alternatives)
        [i, d]: the scores of all in draw d of the evidence, with the central weights of
        alternative i. NaN: ruled out in that draw; all of [i] where i has none.

    Returns
    -------
    shape (n_alternatives,)
        Shares, 0–1; a draw in which k tie for first counts 1/k.

    Raises
    ------
    ScoringError
        If a score is infinite, there is no draw or the shape is another.

    Source
    ------
    Lahdelma & Salminen (2001), SMAA-2, confidence factor,
    doi:10.1287/opre.49.3.444.11220; ties split.

    Examples
    --------
    >>> confidence([[[2.0, 1.0], [1.0, 3.0]], [[1.0, 2.0], [1.0, 3.0]]]).tolist()
    [0.5, 1.0]
    """
    return confidence_of(first_counts(scores), np.shape(scores)[1])


def first_counts(scores):
    """Return in how many draws each is first in a tie of how many, int (n, n).

    [i, k - 1]: draws in which i and k - 1 others are first under i's central weights.
    Counts of two chunks of draws may be added. Scores as in `confidence`.
    """
    scores = np.asarray(scores, float)
    if scores.ndim != 3 or scores.shape[0] != scores.shape[2]:
        raise ScoringError(
            f"scores of shape {scores.shape}; (alternatives, draws, alternatives) is "
            "needed"
        )
    n = scores.shape[0]
    counts = np.zeros((n, n), int)
    for i in range(n):
        is_first = _is_first(_checked_scores(scores[i]))
        tied = is_first.sum(axis=1)[is_first[:, i]]
        counts[i] = np.bincount(tied - 1, minlength=n)
    return counts


def confidence_of(counts, n_draws):
    """Return the confidence factors from first_counts."""
    _check_draws(n_draws)
    return (counts / np.arange(1, len(counts) + 1)).sum(axis=-1) / n_draws


def _is_first(scores):
    """Return who has rank 1 in each draw, as `ranks` has it, without a sort."""
    lowest = np.fmax.reduce(scores, axis=1, keepdims=True)
    while True:  # a tie with a tie is a tie: go down the chain until it breaks
        is_first = scores + TIE >= lowest
        reached = scores.min(axis=1, keepdims=True, where=is_first, initial=np.inf)
        if not (reached < lowest).any():
            return is_first
        lowest = np.fmin(lowest, reached)


def _checked_scores(scores):
    scores = np.asarray(scores, float)
    if scores.ndim != 2 or scores.shape[1] == 0:
        raise ScoringError(
            f"scores of shape {scores.shape}; (draws, alternatives) is needed"
        )
    if np.isinf(scores).any():
        raise ScoringError(
            "a score is infinite; each must be finite, or NaN where ruled out"
        )
    return scores


def _check_draws(n_draws):
    if n_draws < 1:
        raise ScoringError(f"{n_draws} draws; at least 1 is needed")


def sample_weights(n, m, rng, around=None, concentration=None, order=None):
    """Return n draws of m weights.

    Drawn row by row: two calls in turn on one rng give what one call for all gives.
    Parameters, returns and faults as in `weights_from_uniform`.

    Examples
    --------
    >>> draws = sample_weights(4, 3, np.random.default_rng(1), order=[2, 1, 3])
    >>> (draws.argmax(axis=1) == 1).all(), (draws.argmin(axis=1) == 2).all()
    (np.True_, np.True_)
    """
    return weights_from_uniform(rng.random((n, m)), around, concentration, order)


def weights_from_uniform(uniform, around=None, concentration=None, order=None):
    """Return weights drawn from the simplex, each from the uniforms of its row.

    Nothing known: uniform on the simplex. A draw depends on its own row alone, so
    chunks change nothing.

    Parameters
    ----------
    uniform : shape (n_draws, n_criteria)
        Independent uniform numbers, 0–1.
    around : shape (n_criteria,), optional
        The mean of the draws: 0 or more, brought to sum 1. A 0 stays 0.
    concentration : float, optional
        Goes with `around`, above 0: how many equal observations the mean is worth.
        The larger, the closer: the variance of a weight a is a·(1 - a)/(1 + it).
    order : shape (n_criteria,), optional
        Ranks of importance, 1 = most; only their order counts. Uniform over the weights
        that keep it; within one rank nothing is known. Their mean is the rank-order
        centroid.

    Returns
    -------
    shape (n_draws, n_criteria)
        0 or more, summing to 1.

    Raises
    ------
    ScoringError
        If a uniform is not within 0–1, a shape does not fit, `around` is negative or
        all 0, the concentration is not above 0 or stands without `around`, or both
        `around` and `order` are given.

    Source
    ------
    Gamma variates by inverse CDF, divided by their sum, are Dirichlet: Devroye (1986),
    Non-Uniform Random Variate Generation, ch. XI; from memory.

    Examples
    --------
    >>> weights_from_uniform([[0.5, 0.5]]).tolist()
    [[0.5, 0.5]]
    """
    uniform = _checked_uniform(uniform)
    m = uniform.shape[1]
    if around is None:
        if concentration is not None:
            raise ScoringError("a concentration needs weights to concentrate around")
        drawn = _shares_of_logs(np.log(-np.log1p(-uniform)))
        return drawn if order is None else _in_order(drawn, _per_criterion(order, m))
    if order is not None:
        raise ScoringError("weights and an order are both given; one of them is needed")
    if concentration is None or not 0 < concentration < np.inf:
        raise ScoringError(
            f"the concentration is {concentration!r}; it must be a finite number above "
            "0"
        )
    shape = normalise(_per_criterion(around, m)) * concentration
    weights = np.zeros(uniform.shape)
    weights[:, shape > 0] = _shares_of_logs(
        _log_gamma_variates(shape[shape > 0], uniform[:, shape > 0])
    )
    return weights


def _checked_uniform(uniform):
    uniform = np.asarray(uniform, float)
    if uniform.ndim != 2 or uniform.shape[1] == 0:
        raise ScoringError(
            f"uniform numbers of shape {uniform.shape}; (draws, criteria) is needed"
        )
    if not ((uniform >= 0) & (uniform <= 1)).all():
        raise ScoringError("a uniform number is not within 0 to 1")
    return uniform.clip(EDGE, 1 - 2 * EDGE)


def _per_criterion(figures, m):
    figures = np.asarray(figures, float)
    if figures.shape != (m,):
        raise ScoringError(
            f"weights or ranks of shape {figures.shape} for {m} criteria; "
            "one number each is needed"
        )
    check_finite(figures, "weights or ranks")
    return figures


def _log_gamma_variates(shape, uniform):
    """Return logarithms of gamma variates: with a small shape they are below 1e-308."""
    from scipy.special import gammaincinv, gammaln  # slow to import

    variates = gammaincinv(shape, uniform)
    # Near 0 the CDF is x^a / Γ(a + 1) but for a factor 1 - O(x).
    near_zero = (np.log(uniform) + gammaln(shape + 1)) / shape
    return np.where(variates > 1e-100, np.log(np.maximum(variates, 1e-100)), near_zero)


def _shares_of_logs(logs):
    parts = np.exp(logs - logs.max(axis=1, keepdims=True))
    return parts / parts.sum(axis=1, keepdims=True)


def _in_order(weights, order):
    """Return each row's weights dealt out again, the largest to rank 1, and so on.

    Within a rank the larger goes to whoever had the larger, which is as likely to be
    one as another: dealt by place, the first named would always get more.
    """
    by_rank = np.lexsort((-weights, np.broadcast_to(order, weights.shape)), axis=1)
    dealt = np.empty_like(weights)
    np.put_along_axis(dealt, by_rank, -np.sort(-weights, axis=1), axis=1)
    return dealt


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
        raise ScoringError(
            f"too few draws for the value of information; at least {FEWEST} are needed"
        )
    half = len(sums.counts) // 2
    value = _worth_of_bins(sums, np.ones((2, half)))
    rng = np.random.default_rng(0)
    picks = rng.multinomial(half, np.full(half, 1 / half), size=(RESAMPLES, 2))
    spread = np.std([_worth_of_bins(sums, pick) for pick in picks], axis=0)
    # A resample of h batches varies by (h - 1)/h of what fresh ones would.
    error = spread * np.sqrt(half / (half - 1))
    return value.clip(0, evpi_value), error


def _worth_of_bins(sums, times):
    """Return what choosing by bin brings more, each batch counted so many times."""
    halves = [
        BinSums(*(np.tensordot(times[h], part[h::2], axes=1) for part in sums))
        for h in (0, 1)
    ]
    gained = _gained(halves[0], halves[1]) + _gained(halves[1], halves[0])
    return gained / sum(half.counts.sum(axis=1) for half in halves)


def _gained(chooser, judge):
    """Return the judge's total under the chooser's choice by bin, less that by all."""
    overall = chooser.sums.sum(axis=1, keepdims=True).argmax(axis=-1)
    by_bin = np.where(chooser.counts > 0, chooser.sums.argmax(axis=-1), overall)
    overall = np.broadcast_to(overall, by_bin.shape)
    chosen, plain = (
        np.take_along_axis(judge.sums, choice[..., None], axis=-1)[..., 0]
        for choice in (by_bin, overall)
    )
    return (chosen - plain).sum(axis=1)
