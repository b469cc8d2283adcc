"""Many buyers drawn from a template: what each one differs in.

A Latin hypercube: of N buyers one lies in each N-th of every difference's range. What
goes together is laid in order by rank, which leaves each range as it is.

Source: McKay, Beckman & Conover (1979), Technometrics 21(2), 239–245,
doi:10.1080/00401706.1979.10489755; Iman & Conover (1982), A distribution-free approach
to inducing rank correlation among input variables, Communications in Statistics –
Simulation and Computation 11(3), 311–334, doi:10.1080/03610918208812265. From memory.
"""

from dataclasses import dataclass
from hashlib import sha256

import numpy as np

from scoring.errors import ScoringError
from scoring.evidence.draws import pert_quantile

FEWEST, MOST = 20, 1_000_000


@dataclass(frozen=True)
class Sample:
    """The buyers: those of one kind, who chose alike, stand together."""

    values: np.ndarray  # (buyer, difference): figure, factor, or place of the choice
    kind: np.ndarray  # int (buyer,): which brief of the Crowd

    def __len__(self):
        return len(self.values)


def sampled(crowd, n_buyers, seed):
    """Return the Sample of a Crowd.

    Raises
    ------
    ScoringError
        If the number or the seed is out of range, or what goes together cannot.
    """
    if not FEWEST <= n_buyers <= MOST:
        raise ScoringError(f"buyers: {n_buyers} is out of range; {FEWEST} to {MOST}")
    if seed < 0:
        raise ScoringError(f"seed: {seed} is below 0; 0 or more")
    numbers = hypercube([each.name for each in crowd.differ], n_buyers, seed)
    correlation = np.eye(len(crowd.differ))
    for a, b, share in crowd.together:
        correlation[a, b] = correlation[b, a] = share
    numbers = put_together(numbers, correlation, crowd.source)
    pairs = zip(crowd.differ, numbers.T, strict=True)
    values = np.stack([_values(*pair) for pair in pairs], axis=1)
    kind = _kinds(crowd, values)
    order = np.argsort(kind, kind="stable")
    return Sample(values[order], kind[order])


def hypercube(names, n_buyers, seed):
    """Return numbers in [0, 1), (buyer, name); one in each N-th of every column.

    Each column is a stream of its own, so that one more changes no other.
    """
    from scipy.stats import qmc  # dear to load, and needed here alone

    columns = []
    for name in names:
        digest = int.from_bytes(sha256(f"buyers/{name}".encode()).digest())
        rng = np.random.default_rng(np.random.SeedSequence([seed, digest]))
        columns.append(qmc.LatinHypercube(1, rng=rng).random(n_buyers)[:, 0])
    return np.stack(columns, axis=1)


def put_together(numbers, correlation, source=""):
    """Return the same numbers of each column, in an order that has these correlations.

    Parameters
    ----------
    numbers : shape (buyer, column)
    correlation : shape (column, column)
        Of ranks (Spearman).

    Raises
    ------
    ScoringError
        If no figures can have these correlations.
    """
    if np.array_equal(correlation, np.eye(len(correlation))):
        return numbers
    from scipy.special import ndtri

    # of ranks → of the normal scores that are laid in order
    wanted = 2 * np.sin(np.pi / 6 * correlation)
    np.fill_diagonal(wanted, 1.0)
    try:
        root = np.linalg.cholesky(wanted)
    except np.linalg.LinAlgError:
        raise ScoringError(
            f"{source}: buyers.together: the correlations contradict each other; "
            "smaller ones"
        ) from None
    n_buyers = len(numbers)
    ranks = numbers.argsort(axis=0).argsort(axis=0)
    scores = ndtri((ranks + 1) / (n_buyers + 1))
    own = np.linalg.cholesky(np.corrcoef(scores, rowvar=False))
    scores = scores @ np.linalg.inv(own).T @ root.T
    places = scores.argsort(axis=0).argsort(axis=0)
    return np.take_along_axis(np.sort(numbers, axis=0), places, axis=0)


def _values(differing, numbers):
    """Return what each buyer has of a difference, (buyer,), by numbers in [0, 1)."""
    if differing.is_choice:
        ends = np.cumsum(differing.shares)[:-1]
        return np.searchsorted(ends, numbers, side="right").astype(float)
    low, likely, high = (getattr(differing.range, e) for e in ("low", "likely", "high"))
    if differing.is_even:
        return low + (high - low) * numbers
    return pert_quantile(low, likely, high, numbers)


def _kinds(crowd, values):
    """Return which brief of the Crowd is each buyer's: int (buyer,)."""
    choosing = [k for k, each in enumerate(crowd.differ) if each.is_choice]
    kind = np.zeros(len(values), int)
    for k in choosing:
        kind = kind * len(crowd.differ[k].shares) + values[:, k].astype(int)
    return kind
