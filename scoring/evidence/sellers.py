"""Figures of one seller err together: who praises the speed praises the ink too."""

import numpy as np

from scoring.evidence.sheet_figures import is_high_better

QUOTED = "quoted"
BELOW_1 = np.nextafter(1.0, 0.0)


def stream_of_seller(owner):
    """Return the name of the stream that says how far a seller overstates."""
    return f"{owner}/seller"


def is_sellers(figure):
    """Return whether a figure is a machine's and known from its seller alone."""
    return figure.basis == QUOTED and figure.owner != "brief"


def leaning(uniform, overstated, is_high_better, correlation):
    """Return uniform numbers of a figure that lean as far as its seller overstates.

    Their normal scores are correlated by `correlation` with those of each other figure
    of the same seller, towards the worse end in each; they stay uniform.

    Parameters
    ----------
    uniform : shape (n_draws,), in [0, 1)
    overstated : shape (n_draws,), normal scores that the seller's figures share
    is_high_better : bool
    correlation : 0 to 1

    Source
    ------
    A Gaussian copula with one factor: Vasicek (1987), Probability of loss on loan
    portfolio, KMV; Li (2000), Journal of Fixed Income 9(4); both from memory.

    Examples
    --------
    >>> leaning(np.array([0.2, 0.5]), np.array([0.0, 2.0]), True, 1.0).round(4).tolist()
    [0.5, 0.0228]
    """
    from scipy.special import ndtr

    sign = -1.0 if is_high_better else 1.0
    own = np.sqrt(1 - correlation) * _normal(uniform)
    return np.minimum(ndtr(own + sign * np.sqrt(correlation) * overstated), BELOW_1)


def _normal(uniform):
    """Return the normal scores of uniform numbers, finite also at 0."""
    from scipy.special import ndtri  # slow to import; the command line must be quick

    return ndtri(np.maximum(uniform, np.finfo(float).tiny))


def together(evidence, uniform, sellers, correlation, stream_of):
    """Return {stream: uniforms}, those of sellers' figures leaning together.

    Parameters
    ----------
    uniform, sellers : {stream: shape (n_draws,)}
    stream_of : function (owner, path) → the figure's stream
    """
    leant, done = dict(uniform), set()
    overstated = {name: _normal(numbers) for name, numbers in sellers.items()}
    for (owner, path), figure in evidence.items():
        name = stream_of(owner, path)
        if is_sellers(figure) and name not in done:
            shared, high = overstated[stream_of_seller(owner)], is_high_better(path)
            leant[name] = leaning(uniform[name], shared, high, correlation)
            done.add(name)
    return leant
