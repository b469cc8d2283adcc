"""Chance: each uncertain figure's own stream of numbers, and its draws.

Draw d of a figure depends on the seed, the figure's name and d alone. So permuting
machines, adding one, or working in chunks changes nothing.
"""

from functools import lru_cache
from hashlib import sha256

import numpy as np

from scoring.inputs.leads import mix, months_spanned, resampled

N_KNOTS = 4097  # of the tabulated distribution: off by less than 1e-4 of a range


def uniforms(seed, name, start, stop):
    """Return the numbers start..stop of a named stream: (stop − start,), in [0, 1).

    Examples
    --------
    >>> whole = uniforms(7, "Alder/price", 0, 6)
    >>> np.array_equal(whole[4:], uniforms(7, "Alder/price", 4, 6))
    True
    """
    digest = int.from_bytes(sha256(name.encode()).digest())
    bits = np.random.PCG64(np.random.SeedSequence([seed, digest]))
    return np.random.Generator(bits.advance(start)).random(stop - start)


def stream_of(owner, path):
    """Return the name of a figure's stream: one for all pass modes of a machine."""
    return f"{owner}/{'speed' if path.startswith('speed.') else path}"


def pert_quantile(low, likely, high, uniform):
    """Return the Beta-PERT quantile (λ = 4) of uniform numbers, of their shape.

    Shape parameters 1 + 4 (likely − low)/(high − low) and 6 less that; they sum to 6,
    so that one table serves all ranges of one skew.

    Source
    ------
    Malcolm, Roseboom, Clark & Fazar (1959), Operations Research 7(5), 646–669,
    doi:10.1287/opre.7.5.646; the beta's parameters as in Vose (2008), Risk Analysis,
    3rd ed., from memory.
    """
    alpha = 1 + 4 * (likely - low) / (high - low)
    probability, at = _table(round(alpha, 9))
    return low + (high - low) * np.interp(uniform, probability, at)


@lru_cache(maxsize=512)
def _table(alpha):
    """Return (probability, place) of the beta distribution with parameters α, 6 − α.

    Inverted between knots: the quantile itself is too steep in the tails to tabulate.
    """
    from scipy.special import betainc

    at = np.linspace(0, 1, N_KNOTS)
    return betainc(alpha, 6 - alpha, at), at


def drawn(evidence, brief, seed, start, stop):
    """Return {(owner, path): (stop − start,)}, in the brief's currency.

    Parameters
    ----------
    evidence : {(owner, path): Evidence}
        With low, likely, high; a figure without a range is the same in every draw.
    """
    own = _in_own_currency(evidence, brief, seed, start, stop)
    return in_brief_currency(own, evidence, brief)


def _in_own_currency(evidence, brief, seed, start, stop):
    own = {
        key: _own_draws(figure, key, seed, start, stop)
        for key, figure in evidence.items()
    }
    return own | _from_leads(evidence, brief, seed, start, stop)


def rows(evidence, brief, seed, n_draws):
    """Return {(owner, path): (1 + n_draws,)}, each in its own unit and currency.

    First all as it is told, then the draws.
    """
    own = _in_own_currency(evidence, brief, seed, 0, n_draws)
    return {key: np.append(evidence[key].told, own[key]) for key in evidence}


def _from_leads(evidence, brief, seed, start, stop):
    """Return jobs a month by resampling the leads that they come from, {} without any.

    A kind of job whose number was set to another since keeps that.
    """
    leads = brief.leads_read
    if not leads:
        return {}
    uniform = np.stack(
        [
            np.stack(
                [
                    uniforms(seed, f"brief/leads/{k}/{what}", start, stop)
                    for what in ("taken", "comes")
                ],
                axis=-1,
            )
            for k in range(len(leads))
        ],
        axis=1,
    )
    names, months = [job.name for job in brief.work], months_spanned(leads)
    drawn_jobs = resampled(leads, names, months, uniform)
    expected = mix(leads, names, months)
    return {
        key: drawn_jobs[:, j]
        for j, key in enumerate(
            ("brief", f"work.{j}.per_month") for j in range(len(names))
        )
        if np.isclose(evidence[key].likely, expected[j])
    }


def in_brief_currency(own, evidence, brief):
    """Return {(owner, path): figures} in the brief's currency, from their own."""
    return {
        key: figures * _exchange_rate(evidence[key], own, brief)
        for key, figures in own.items()
    }


def _own_draws(figure, key, seed, start, stop):
    if not is_uncertain(figure):
        return np.full(stop - start, figure.likely)
    uniform = uniforms(seed, stream_of(*key), start, stop)
    return pert_quantile(figure.low, figure.likely, figure.high, uniform)


def _exchange_rate(figure, own, brief):
    if figure.currency in (None, brief.currency) or figure.path.startswith("exchange."):
        return 1.0
    return own["brief", f"exchange.{figure.currency}"]


def is_uncertain(figure):
    """Return whether a figure has a range of any width."""
    return figure.high > figure.low


def is_any_uncertain(evidence, brief):
    """Return whether draws differ from what is told, so that their mean may."""
    return bool(brief.leads_read) or any(
        is_uncertain(figure) or figure.likely != figure.told
        for figure in evidence.values()
    )
