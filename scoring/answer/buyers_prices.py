"""Up to which price each machine is each buyer's best, without a run for each price.

Cost to the door, the year and what resale brings are on a straight line of the price,
and cash by the month is what it was but for the machine. What nobody tells and is
guessed as a share of the price moves with it, but for plan fees, heads and lamps.
"""

from dataclasses import dataclass
from types import SimpleNamespace
from typing import NamedTuple

import numpy as np

from scoring.answer.evaluation import sure_of
from scoring.answer.expected import HALF, mapped
from scoring.answer.limits import PRICED, LimitKind, money_limits
from scoring.decision import ranking
from scoring.decision import scale as scales
from scoring.evidence.sheet_figures import FIELDS
from scoring.evidence.unknowns import OF_PRICE
from scoring.model.figures import Figures, PaymentTerms
from scoring.model.money.job_money import upfront as upfront_lines
from scoring.model.months.average_year import funds_of, payment_of, tax_lent
from scoring.model.months.repriced import DueDates, due_dates, lowest_cash

LEAST, MOST = 0.3, 2.5  # times the present price: beyond it no talk with a seller goes
MOST_STEPS = 40  # towards a price
NEAR = 1e-7  # of the price: two steps that find the same
FEWER = 0.6  # of the pairs: then the others are left behind
FAR = 1e12  # money, where another limit is broken
PAID = ("price", "resale", "upkeep")  # and the landed cost: what a price moves
OF_SCORE = ("upfront", "year_result", "resale")  # criteria that a price moves


@dataclass(frozen=True)
class AskedOf:
    """What the answer of some buyers rests on."""

    brief: object
    criteria: tuple
    figures: Figures
    trail: np.ndarray  # (month, row, variant, 1), of their months
    raw: np.ndarray  # (row, variant, criterion)
    scale: np.ndarray  # (buyer, criterion, 2)
    weights: np.ndarray  # (criterion,)
    shape: tuple  # buyers, 1 + draws: the rows


@dataclass(frozen=True)
class Priced:
    """What is on a straight line of the price: now, and what each time more adds."""

    upfront: np.ndarray  # (row, variant, 1)
    upfront_more: np.ndarray
    tax: np.ndarray
    tax_more: np.ndarray
    a_year_more: np.ndarray  # upkeep and insurance
    resale_more: np.ndarray

    def upfront_at(self, times):
        return np.maximum(self.upfront + (times - 1) * self.upfront_more, 0.0)

    def tax_at(self, times):
        return np.maximum(self.tax + (times - 1) * self.tax_more, 0.0)


def priced(evidence, variants, figures, lived):
    """Return the Priced of the variants, by the model at the price and at twice it."""
    machines, business = figures.machines, figures.buyer
    twice = _dearer(evidence, variants, machines)
    upfront = sum(upfront_lines(twice, business, lived.carried, lived.loaded))
    tax = tax_lent(machines, business)
    insurance = business.insurance_share * (twice.price - machines.price)
    return Priced(
        lived.upfront,
        upfront - lived.upfront,
        tax,
        tax_lent(twice, business) - tax,
        insurance + (twice.upkeep - machines.upkeep),
        twice.resale - machines.resale,
    )


def _dearer(evidence, variants, machines):
    """Return the MachineFigures at twice the price, with what is told as its share."""
    changed = {}
    for field in FIELDS:
        if not field.path.startswith("landed_cost.") and field.name not in PAID:
            continue
        moves = [_moves(evidence, v.machine.name, v.path(field.path)) for v in variants]
        if any(moves):
            times = np.where(moves, 2.0, 1.0)[None, :, None]
            changed[field.name] = getattr(machines, field.name) * times
    return machines._replace(**changed)


def _moves(evidence, owner, path):
    figure = evidence.get((owner, path))
    if figure is None:
        return False
    return path == "price" or (figure.is_unknown and OF_PRICE in figure.note)


def best_up_to(asked, of, limits, points, rivals, chosen):
    """Return up to how many times its price each machine is best, (buyer, machine).

    0 where it is not at the lowest that is looked at, and the highest where it is
    there too. NaN throughout where the chance that cash runs out is weighed, which is
    on no straight line.

    Parameters
    ----------
    asked : AskedOf
    of : Priced
    limits : all Limits as they stand
    points : shape (buyer, machine), at the present price
    rivals : shape (buyer, machine), of the best other machine; −inf for none
    chosen : int, shape (buyer, machine), the variant of each one's plan
    """
    ids = [criterion.id for criterion in asked.criteria]
    if asked.weights[[name == "cash_out" for name in ids]].any():
        return np.full(points.shape, np.nan)
    buyers = np.repeat(np.arange(len(points)), points.shape[1])
    pairs = buyers, chosen.ravel()
    lead = _lead(asked, of, (points - rivals).ravel(), pairs)
    times = _last(lead, *(np.full(points.size, end) for end in (LEAST, MOST)))
    some = np.flatnonzero(times > 0)
    if some.size:
        room = _room(asked, of, limits, tuple(side[some] for side in pairs))
        times[some] = _last(room, np.full(some.shape, LEAST), times[some])
    return times.reshape(points.shape)


def _last(margin, low, high):
    """Return the last place from `low` to `high` at which a margin is 0 or more.

    0 where it is below 0 at `low` already.

    Parameters
    ----------
    margin : function (pairs, their places) → their margins, falling with the place
    low, high : shape (pair,)

    Source
    ------
    The Illinois variant of false position: Dowell & Jarratt (1971), BIT 11, 168–174,
    doi:10.1007/BF01934364; from memory.
    """
    found = high.copy()
    at_high = margin(np.arange(len(high)), high)
    some = np.flatnonzero(at_high < 0)
    at_low = margin(some, low[some])
    found[some[at_low < 0]] = 0.0
    is_open = at_low >= 0
    some = some[is_open]
    ends = low[some], at_low[is_open], high[some], at_high[some]
    last = ends[0]
    for _ in range(MOST_STEPS):
        if not some.size:
            break
        low, at_low, high, at_high = ends
        there = low + (high - low) * (at_low / (at_low - at_high))
        value = margin(some, there)
        found[some] = there
        is_up = value >= 0  # the end that stays twice loses half of its weight
        ends = (
            np.where(is_up, there, low),
            np.where(is_up, value, at_low / 2),
            np.where(is_up, high, there),
            np.where(is_up, at_high / 2, value),
        )
        is_open = (abs(there - last) > NEAR) & (value != 0)
        some, last = some[is_open], there[is_open]
        ends = tuple(end[is_open] for end in ends)
    return found


def _picked(asked, pairs):
    """Return the function from (row, variant, …) to (pair, 1 + draw)."""
    buyers, variants = pairs
    rows = buyers[:, None] * asked.shape[1] + np.arange(asked.shape[1])
    shape, columns = asked.raw.shape[:2], variants[:, None]

    def picked(array):
        array = array[..., 0] if array.ndim > 2 else array
        return np.broadcast_to(array, shape)[rows, columns]

    return picked


def _lead(asked, of, ahead, pairs):
    """Return the function of prices that tells by how many points a pair leads.

    `ahead` are those at the present price, inf without a rival.
    """
    more = {
        "upfront": of.upfront_more,
        "year_result": -of.a_year_more,
        "resale": of.resale_more,
    }
    first = 1 if asked.shape[1] > 1 else 0
    picked, columns = _picked(asked, pairs), []
    for k, criterion in enumerate(asked.criteria):
        if criterion.id in more and asked.weights[k]:
            now, each = picked(asked.raw[..., k]), picked(more[criterion.id])
            scale = asked.scale[pairs[0], k][:, None, None]
            columns.append((k, now[:, first:], each[:, first:], scale))

    def of_moved(some, times):
        found, beyond = np.zeros(len(some)), times[:, None] - 1
        for k, now, each, scale in columns:
            column = (now[some] + beyond * each[some])[..., None]
            flat_above = [asked.criteria[k].flat_above]
            of_one = scales.scores(column, scale[some], flat_above)
            found += asked.weights[k] * of_one[..., 0].mean(axis=1)
        return found

    every = np.arange(len(pairs[0]))
    still = ahead - of_moved(every, np.ones(len(every)))

    def lead(some, times):  # without a rival by far, but finite
        return np.minimum(still[some] + of_moved(some, times) + ranking.TIE, 1.0)

    return lead


class _Payer(NamedTuple):
    """What of a buyer decides what a machine may cost; (pair, 1 + draw, 1)."""

    cash: np.ndarray
    credit: np.ndarray
    highest_upfront: np.ndarray
    payment: PaymentTerms


class _Room(NamedTuple):
    """What tells the money left within limits; (pair, 1 + draw, 1) but for months."""

    brief: object
    payer: _Payer
    line: tuple  # of Priced
    is_broken: np.ndarray  # another limit, that no price mends
    trail: (
        np.ndarray | None
    )  # (month, pair, 1 + draw, 1); None where months do not count
    dates: DueDates | None

    def of(self, some):
        """Return it for some of the pairs alone."""
        n_pairs = len(self.is_broken)

        def own(array):
            return array[some] if len(array) == n_pairs else array

        def by_month(array):
            return array[:, some] if array.shape[1] == n_pairs else array

        return self._replace(
            payer=mapped(own, self.payer),
            line=mapped(own, self.line),
            is_broken=self.is_broken[some],
            trail=None if self.trail is None else by_month(self.trail),
            dates=None if self.dates is None else mapped(by_month, self.dates),
        )

    def at(self, times):
        """Return what is left at a price of each pair, as `is_out` judges it: (pair,).

        Below 0 where limits rule a buyer's variant out: where in more than half of the
        draws money lacks, or another limit is broken, and as told too.
        """
        beyond, line = (times - 1)[:, None, None], Priced(*self.line)
        upfront, low = line.upfront_at(beyond + 1), SimpleNamespace()
        if self.trail is not None:
            payment = payment_of(self.payer, upfront, line.tax_at(beyond + 1))
            of = self.trail, self.dates, payment, beyond * line.a_year_more
            low.lowest = lowest_cash(*of)[..., 0]
            low.funds = funds_of(self.payer, upfront)[..., 0]
        found = money_limits(self.brief, self.payer, upfront[..., 0], low)
        left = [limit.allowed - limit.figure for limit in found]
        left = np.minimum.reduce([FAR + 0 * upfront[..., 0], *left])
        left = np.where(self.is_broken[..., 0], -FAR, left)
        return _in_enough(left, sure_of(self.brief))


def _room(asked, of, limits, pairs):
    """Return the function (pairs, their prices) that tells what is left: (pair,)."""
    picked, n_rows = _picked(asked, pairs), asked.shape[1]
    rows = pairs[0][:, None] * n_rows + np.arange(n_rows)
    buyer, trail, dates = asked.figures.buyer, None, None
    payer = _Payer(*(getattr(buyer, name) for name in _Payer._fields))
    if any(limit.kind == LimitKind.LOW_POINT for limit in limits):
        dates = (np.moveaxis(x, -1, 0) for x in due_dates(buyer))
        dates = DueDates(*(_of_rows(x, rows) for x in dates))
        trail = np.stack([picked(month) for month in asked.trail])[..., None]
    is_broken = np.zeros(asked.raw.shape[:2], bool)
    for limit in limits:
        if limit.kind not in PRICED:
            is_broken |= limit.is_broken
    held = np.arange(len(rows))
    room = _Room(
        asked.brief,
        mapped(lambda x: x[rows, 0] if len(x) > 1 else x, payer),
        tuple(picked(x)[..., None] for x in vars(of).values()),
        picked(is_broken)[..., None],
        trail,
        dates,
    )

    def left(some, times):
        nonlocal held, room
        if len(some) < FEWER * len(held):  # to copy takes as long as to ask once
            room, held = room.of(np.searchsorted(held, some)), some
        prices = np.ones(len(held))
        places = np.searchsorted(held, some)
        prices[places] = times
        return room.at(prices)[places]

    return left


def _of_rows(dates, rows):
    """Return (month, row, 1) for the rows of pairs; once where all are the same."""
    if (dates == dates[:, :1]).all():
        return dates[:, :1, None]
    return dates[:, rows]


def _in_enough(left, sure):
    """Return what is left in as many draws as limits have to hold in, (pair,).

    `left` is (pair, 1 + draw), the first as told: `is_out` of it as a figure.
    """
    drawn = np.sort(left[:, 1:] if left.shape[1] > 1 else left, axis=1)[:, ::-1]

    def in_share(share):
        return drawn[:, max(int(np.ceil(share * drawn.shape[1] - 1e-9)), 1) - 1]

    found = np.maximum(in_share(HALF), left[:, 0])
    return found if sure is None else np.minimum(found, in_share(sure))
