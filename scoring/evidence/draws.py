"""Chance: each uncertain figure's own stream of numbers, and its draws.

Draw d of a figure depends on the seed, the figure's name and d alone. So permuting
machines, adding one, or working in chunks changes nothing.
"""

from functools import lru_cache
from hashlib import sha256
from typing import NamedTuple

import numpy as np

from scoring.evidence.sellers import is_sellers, stream_of_seller, together
from scoring.inputs.leads import mix, months_spanned, resampled

N_KNOTS = 4097  # of the tabulated distribution: off by less than 1e-4 of a range
N_BINS = 8192  # of the numbers, in which a knot is looked up; a power of 2
AT_ONCE = 16_384  # numbers looked up: more would fall out of the cache


def uniforms(seed, name, start, stop):
    """Return the numbers start..stop of a named stream: (stop − start,), in [0, 1).

    Examples
    --------
    >>> whole = uniforms(7, "Alder/price", 0, 6)
    >>> np.array_equal(whole[4:], uniforms(7, "Alder/price", 4, 6))
    True
    """
    return numbers(seed, [name], start, stop)[name]


def numbers(seed, names, start, stop):
    """Return {name: its uniforms} of many streams."""
    bits = np.random.PCG64(0)  # one for all: to set its state is quicker than a new one
    generator, found = np.random.Generator(bits), {}
    for name in names:
        bits.state = _first_state(seed, name)
        bits.advance(start)
        found[name] = generator.random(stop - start)
    return found


@lru_cache(maxsize=4096)
def _first_state(seed, name):
    digest = int.from_bytes(sha256(name.encode()).digest())
    return np.random.PCG64(np.random.SeedSequence([seed, digest])).state


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
    table = _table(_skew(low, likely, high))
    return low + (high - low) * _places(np.asarray(uniform, float), table)


def _skew(low, likely, high):
    """Return α of the beta distribution on 0–1 that a range stands for."""
    return round(float(1 + 4 * (likely - low) / (high - low)), 9)


class _Table(NamedTuple):
    """A beta distribution at evenly spaced places, and where a number's knot is."""

    probability: np.ndarray  # (knot,)
    slope: np.ndarray  # (knot − 1,) place by probability
    knot: np.ndarray  # (bin,) the last knot at or below the bin's start
    is_crowded: np.ndarray  # bool (bin,): more than one knot within


@lru_cache(maxsize=512)
def _table(alpha):
    """Return the _Table of the beta distribution with parameters α, 6 − α.

    Inverted between knots: the quantile itself is too steep in the tails to tabulate.
    """
    from scipy.special import betainc

    probability = betainc(alpha, 6 - alpha, np.linspace(0, 1, N_KNOTS))
    rise, ends = np.diff(probability), np.arange(N_BINS + 1) / N_BINS
    slope = np.divide(1 / (N_KNOTS - 1), rise, out=np.zeros(rise.shape), where=rise > 0)
    knot = np.searchsorted(probability, ends[:-1], side="right") - 1
    last = np.searchsorted(probability, ends[1:], side="left") - 1
    return _Table(probability, slope, knot, last - knot > 1)


def _places(uniform, table):
    """Return the places, 0–1, at which the distribution reaches the numbers.

    `np.interp` of the inverse table, with the knot found in a bin of the number instead
    of by bisection.
    """
    bins = (uniform * N_BINS).astype(np.intp)
    knot = table.knot.take(bins)
    knot += table.probability.take(knot + 1) <= uniform
    crowded = table.is_crowded.take(bins)
    if crowded.any():
        found = np.searchsorted(table.probability, uniform[crowded], side="right")
        knot[crowded] = found - 1
    beyond = uniform - table.probability.take(knot)
    return beyond * table.slope.take(knot) + knot / (N_KNOTS - 1)


def figure_numbers(evidence, brief, seed, start, stop):
    """Return {stream: its uniforms}, that of each figure with a range.

    Those that one seller quotes lean together, as far as the brief's `trust` says.
    """
    known = {key: each for key, each in evidence.items() if is_uncertain(each)}
    own = numbers(seed, dict.fromkeys(stream_of(*key) for key in known), start, stop)
    correlation = brief.trust.together
    if not correlation:
        return own
    quoted = (owner for (owner, _), each in known.items() if is_sellers(each))
    shared = numbers(seed, dict.fromkeys(map(stream_of_seller, quoted)), start, stop)
    return together(known, own, shared, correlation, stream_of)


def drawn(evidence, brief, seed, start, stop, uniform=None):
    """Return {(owner, path): (stop − start,)}, in the brief's currency.

    Parameters
    ----------
    evidence : {(owner, path): Evidence}
        With low, likely, high; a figure without a range is the same in every draw.
    uniform : the `figure_numbers` of the same, where they are at hand
    """
    own = _in_own_currency(evidence, brief, seed, start, stop, uniform)
    return in_brief_currency(own, evidence, brief)


def _in_own_currency(evidence, brief, seed, start, stop, uniform=None):
    if uniform is None:
        uniform = figure_numbers(evidence, brief, seed, start, stop)
    own = {key: np.full(stop - start, each.likely) for key, each in evidence.items()}
    own |= of_figures(evidence, uniform)
    return own | _from_leads(evidence, brief, seed, start, stop)


def rows(evidence, brief, seed, n_draws):
    """Return {(owner, path): (1 + n_draws,)}, each in its own unit and currency.

    First all as it is told, then the draws.
    """
    own = _in_own_currency(evidence, brief, seed, 0, n_draws)
    found = np.empty((len(evidence), 1 + n_draws))
    for row, (key, figure) in zip(found, evidence.items(), strict=True):
        row[0], row[1:] = figure.told, own[key]
    return dict(zip(evidence, found, strict=True))


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
    rates = {key: _exchange_rate(evidence[key], own, brief) for key in own}
    return {
        key: figures if rates[key] is None else figures * rates[key]
        for key, figures in own.items()
    }


def of_figures(evidence, uniform):
    """Return the draws of each figure with a range, in its own unit and currency.

    Figures of one skew share a table, and are looked up together.
    """
    of_skew, found = {}, {}
    for key, figure in evidence.items():
        if is_uncertain(figure):
            skew = _skew(figure.low, figure.likely, figure.high)
            of_skew.setdefault(skew, []).append(key)
    for skew, keys in of_skew.items():
        n_draws = len(uniform[stream_of(*keys[0])])
        n_rows = max(1, AT_ONCE // max(n_draws, 1))
        for first in range(0, len(keys), n_rows):
            some = keys[first : first + n_rows]
            rows = np.stack([uniform[stream_of(*key)] for key in some])
            low = np.array([[evidence[key].low] for key in some])
            high = np.array([[evidence[key].high] for key in some])
            rows = low + (high - low) * _places(rows, _table(skew))
            found |= dict(zip(some, rows, strict=True))
    return found


def _exchange_rate(figure, own, brief):
    """Return what a unit of the figure's currency is in the brief's, None for 1."""
    if figure.currency in (None, brief.currency) or figure.path.startswith("exchange."):
        return None
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
