"""The rows of many buyers who share kinds of job and machines: one array call.

Buyer after buyer, each first with all as it is told, then the draws. Draw d of buyer b
is number b · n_draws + d of each figure's stream, so that a buyer's rows are the same
whatever buyers stand beside.
"""

from dataclasses import dataclass, replace

import numpy as np

from scoring.evidence.draws import (
    figure_numbers,
    in_brief_currency,
    is_uncertain,
    of_figures,
    pert_quantile,
    stream_of,
)
from scoring.evidence.gathered import brief_figure
from scoring.inputs.quantity import quantity_at
from scoring.inputs.records import with_value
from scoring.inputs.template_files import own_figure

ENDS = ("low", "likely", "high", "told")


@dataclass(frozen=True)
class OwnFigures:
    """A figure of the brief in which buyers differ; each (buyer,), its own unit."""

    low: np.ndarray
    likely: np.ndarray
    high: np.ndarray
    told: np.ndarray


def own_figures(differ, brief, values):
    """Return {path: OwnFigures} of what buyers have instead of the brief's figures.

    Parameters
    ----------
    differ : sequence of Differing
    values : shape (buyer, difference)
    """
    found = {}
    for each, column in zip(differ, values.T, strict=True):
        for path in () if each.is_choice else each.paths:
            figure = quantity_at(brief, path)
            if figure is None or figure.is_unknown:
                continue  # a choice has left it out
            own = (own_figure(each, figure, value) for value in column.tolist())
            read = [brief_figure(brief, path, quantity) for quantity in own]
            ends = ([getattr(one, end) for one in read] for end in ENDS)
            found[path] = OwnFigures(*map(np.array, ends))
    return found


def own_brief(differ, brief, values):
    """Return one buyer's Brief, with the figures (difference,) that are its own."""
    for each, value in zip(differ, values.tolist(), strict=True):
        for path in () if each.is_choice else each.paths:
            figure = quantity_at(brief, path)
            if figure is not None and not figure.is_unknown:
                brief = with_value(brief, path, own_figure(each, figure, value))
    return brief


def rows_of_buyers(brief, evidence, own, seed, first, n_buyers, n_draws):
    """Return {(owner, path): (buyer · (1 + draw),)}, in the brief's currency.

    Parameters
    ----------
    evidence : {(owner, path): Evidence} of the brief and the machines
    own : the `own_figures` of these buyers
    first : int, the number of the first buyer
    """
    wide = evidence | {
        ("brief", path): _widest(evidence["brief", path], each)
        for path, each in own.items()
    }
    shape = (n_buyers, n_draws)
    numbers = figure_numbers(
        wide, brief, seed, first * n_draws, (first + n_buyers) * n_draws
    )
    alike = {key: each for key, each in evidence.items() if not _is_own(key, own)}
    drawn = of_figures(alike, numbers)
    rows = np.empty((len(evidence), n_buyers, 1 + n_draws))
    for row, (key, figure) in zip(rows, evidence.items(), strict=True):
        if _is_own(key, own):
            each = own[key[1]]
            row[:, 0] = each.told
            row[:, 1:] = _drawn(each, numbers.get(stream_of(*key)), shape)
        else:
            row[:, 0] = figure.told
            row[:, 1:] = drawn[key].reshape(shape) if key in drawn else figure.likely
    found = dict(zip(evidence, rows.reshape(len(rows), -1), strict=True))
    return in_brief_currency(found, evidence, brief)


def _is_own(key, own):
    return key[0] == "brief" and key[1] in own


def _widest(figure, each):
    """Return a figure as the buyer has it whose range is the widest."""
    k = int((each.high - each.low).argmax())
    return replace(figure, **{end: float(getattr(each, end)[k]) for end in ENDS})


def _drawn(each, numbers, shape):
    """Return the draws of a figure in which buyers differ: (buyer, draw)."""
    found = np.repeat(each.likely[:, None], shape[1], axis=1)
    wide = np.flatnonzero(each.high > each.low)
    if not wide.size:
        return found
    numbers = numbers.reshape(shape)
    part = (each.likely[wide] - each.low[wide]) / (each.high[wide] - each.low[wide])
    for skew in np.unique(part.round(9)):
        some = wide[part.round(9) == skew]
        unit = pert_quantile(0.0, float(skew), 1.0, numbers[some])
        low, high = each.low[some, None], each.high[some, None]
        found[some] = low + (high - low) * unit
    return found


def uncertain(evidence, own):
    """Return whether any figure differs between draws, or from what is told."""
    return any(is_uncertain(e) or e.likely != e.told for e in evidence.values()) or any(
        (e.high > e.low).any() or (e.likely != e.told).any() for e in own.values()
    )
