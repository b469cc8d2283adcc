"""Claims that learn: log(timed/claimed) by kind and seller, and the range it gives.

Figure i of seller j: log(timed/claimed) ~ N(μ + s_j, σ²), s_j ~ N(0, υ²); μ of each
kind of figure has a normal prior, so that all is conjugate once υ and σ are given.
"""

import math
from collections import defaultdict
from typing import NamedTuple

import numpy as np

from scoring.decision.pooling import FEWEST, Posterior, partial_pooling, updated
from scoring.inputs.claims import ClaimsLearnt, SellerLearnt
from scoring.inputs.claims_table import claimed_ranges, claims_table
from scoring.inputs.quantity import pert_mean

# A symmetric Beta-PERT range (λ = 4) is 2√7 standard deviations wide, by its variance.
HALF_WIDTH = math.sqrt(7)
LEAST_SPREAD = 1e-6
FARTHEST = 50.0  # a figure timed further off than so many times says no more of sellers


class Ratio(NamedTuple):
    """A figure that was timed, as a share of what its seller claimed."""

    seller: str
    kind: str
    key: str
    timed: float
    claimed: float
    unsure: float  # standard error of the log of what was timed
    n: int = 1

    @property
    def times(self):
        """Timed, so many times what was claimed."""
        return self.timed / self.claimed

    @property
    def is_far(self):
        return not 1 / FARTHEST <= self.times <= FARTHEST

    @property
    def log(self):
        return math.log(min(max(self.times, 1 / FARTHEST), FARTHEST))


def prior(kind):
    """Return the ClaimsLearnt of a kind before anything is learnt.

    The log-normal with the mean and variance of the table's Beta-PERT range.

    Source
    ------
    The variance of a Beta-PERT range, (mean − low)(high − mean)/7: Vose (2008), Risk
    Analysis, 3rd ed., from memory; moments of the log-normal by its definition.
    """
    low, likely, high = (1 + end for end in claimed_ranges()[kind])
    mean = pert_mean(low, likely, high)
    variance = math.log(1 + (mean - low) * (high - mean) / 7 / mean**2)
    split = claims_table()["variance_of"]
    return ClaimsLearnt(
        ratio=mean * math.exp(-variance / 2),
        unsure=math.sqrt(split["kind"] * variance),
        between_sellers=math.sqrt(split["seller"] * variance),
        between_figures=math.sqrt(split["figure"] * variance),
    )


def learnt(ratios, before=None):
    """Return {kind: ClaimsLearnt} after timings; kinds without any are left out.

    Parameters
    ----------
    ratios : Ratios of one log or of several
    before : {kind: ClaimsLearnt} learnt earlier, from other timings; else the table

    Source
    ------
    Normal with known variances, conjugate; sellers are pulled to the mean of their
    kind: Efron & Morris (1975), doi:10.1080/01621459.1975.10479864; the hierarchy as in
    Gelman et al. (2013), Bayesian Data Analysis, 3rd ed., ch. 5, from memory.
    """
    by_kind = defaultdict(list)
    for ratio in ratios:
        by_kind[ratio.kind].append(ratio)
    before = before or {}
    return {
        kind: _learnt(found, before.get(kind) or prior(kind))
        for kind, found in by_kind.items()
    }


def _learnt(ratios, before):
    """Return the ClaimsLearnt of one kind after its Ratios.

    Sellers known already come first: their timings move what is known of them, and as
    much of the kind's mean as hung on it. Then those who are new.
    """
    by_seller = defaultdict(list)
    for ratio in ratios:
        by_seller[ratio.seller].append(ratio)
    figures = _spread_of_figures(list(by_seller.values()), before.between_figures)
    means = {name: _mean_of(rs, figures) for name, rs in by_seller.items()}
    new = [name for name in means if name not in before.sellers]
    values, own = (np.array([means[name][k] for name in new]) for k in (0, 1))
    between = _spread_between(values, own, before.between_sellers)
    mu = Posterior(math.log(before.ratio), max(before.unsure, LEAST_SPREAD) ** 2)
    sellers = dict(before.sellers)
    for name in means:
        if name not in new:
            mu, sellers[name] = _again(mu, sellers[name], *means[name], between)
    mu = updated(*mu, values, own + between**2)
    sellers |= {name: _pulled(*means[name], mu, between) for name in new}
    return ClaimsLearnt(
        ratio=math.exp(mu.mean),
        unsure=math.sqrt(mu.variance),
        between_sellers=between,
        between_figures=figures,
        seen=before.seen + len(ratios),
        sellers=sellers,
    )


def _mean_of(ratios, figures):
    """Return (mean, variance) of one seller's logs."""
    values = [ratio.log for ratio in ratios]
    variances = [figures**2 + ratio.unsure**2 + LEAST_SPREAD**2 for ratio in ratios]
    weights = 1 / np.array(variances)
    return float((weights * values).sum() / weights.sum()), float(1 / weights.sum())


def _again(mu, seller, value, variance, between):
    """Return (Posterior of the kind, SellerLearnt) after more of a known seller.

    Seller and kind are jointly normal. With B the share of the way on which a seller
    was pulled, its variance is B υ² + B² Var(μ), which gives B, and their covariance is
    B Var(μ).
    """
    held = max(seller.unsure, LEAST_SPREAD) ** 2
    root = math.sqrt(between**4 + 4 * mu.variance * held)
    pull = min(max((root - between**2) / (2 * mu.variance), 0.0), 1.0)
    shared, off = pull * mu.variance, value - math.log(seller.ratio)
    seen = held + variance
    kind = Posterior(mu.mean + shared / seen * off, mu.variance - shared**2 / seen)
    own = SellerLearnt(
        ratio=seller.ratio * math.exp(held / seen * off),
        unsure=math.sqrt(held * variance / seen),
    )
    return kind, own


def _spread_of_figures(groups, before):
    """Return σ: the table's and that within sellers, as many as are worth each."""
    worth = claims_table()["worth_of_splits"]
    free = sum(len(group) - 1 for group in groups)
    within = 0.0
    for group in groups:
        logs = np.array([ratio.log for ratio in group])
        errors = np.mean([ratio.unsure**2 for ratio in group])
        within += ((logs - logs.mean()) ** 2).sum() - (len(group) - 1) * errors
    return math.sqrt((worth * before**2 + max(within, 0.0)) / (worth + free))


def _spread_between(values, own, before):
    """Return υ: the table's and that between the sellers seen, if they are enough."""
    if len(values) < FEWEST:
        return before
    worth, free = claims_table()["worth_of_splits"], len(values) - 1
    found = partial_pooling(values, own).variance
    return math.sqrt((worth * before**2 + free * found) / (worth + free))


def _pulled(value, variance, mu, between):
    """Return the SellerLearnt of one seller, pulled to the mean of its kind."""
    pull = variance / (variance + between**2) if between > 0 else 1.0
    return SellerLearnt(
        ratio=math.exp(pull * mu.mean + (1 - pull) * value),
        unsure=math.sqrt((1 - pull) * variance + pull**2 * mu.variance),
    )


def next_claim(found, seller=None):
    """Return (mean, standard deviation) of log(timed/claimed) of a claim to come."""
    known = found.sellers.get(seller)
    if known is not None:
        return math.log(known.ratio), math.hypot(known.unsure, found.between_figures)
    own = (found.unsure, found.between_sellers, found.between_figures)
    return math.log(found.ratio), math.hypot(*own)


def claim_range(found, seller=None):
    """Return the (low, likely, high) changes of a claim to come, as a Beta-PERT range.

    Its ends lie √7 standard deviations of the log off, its mean is the log-normal's.

    Examples
    --------
    >>> [round(change, 2) for change in claim_range(prior("time"))]
    [-0.09, 0.17, 0.54]
    """
    mean, sd = next_claim(found, seller)
    low, high = math.exp(mean - HALF_WIDTH * sd), math.exp(mean + HALF_WIDTH * sd)
    likely = (6 * math.exp(mean + sd**2 / 2) - low - high) / 4
    return low - 1, min(max(likely, low), high) - 1, high - 1
