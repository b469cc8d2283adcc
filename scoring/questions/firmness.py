"""How firm the answer is: the whole model on thousands of draws, summed by chunks.

Evidence and weights are drawn; every draw is the same model that gave the central
answer. Money is the net benefit in a year: present value as a level sum a year. Its
alternatives are the machines within the limits, each with its central plan, and buying
nothing, which is worth 0.
"""

from concurrent.futures import ThreadPoolExecutor
from contextvars import copy_context
from dataclasses import dataclass

import numpy as np

from scoring.answer.evaluation import Evaluation
from scoring.answer.run import benefit_a_year, redrawn
from scoring.decision import acceptability, information, ranking
from scoring.decision.central_weights import (
    CentralSums,
    central_of,
    central_sums,
    confidence,
)
from scoring.decision.drawn_weights import weights_from_uniform
from scoring.decision.pooling import disappointment
from scoring.errors import ScoringError
from scoring.evidence.draws import (
    drawn,
    figure_numbers,
    is_uncertain,
    numbers,
    stream_of,
)

CHUNK = 2_500  # draws at a time; bounds the memory, changes nothing else
THREADS = 2  # more hardly help: half of a chunk's time is the interpreter's
MOST_DRAWS = 10_000_000
MOST_KEPT = 20_000  # draws kept whole, for percentiles and central weights
CONCENTRATION = 50.0  # a weight of 20 % then varies by ±5.6 points; own estimate
KNOWLEDGE = ("stated", "order", "nothing")
NOTHING = "buy nothing"
PERCENTILES = (10, 50, 90)
AVERAGE_YEAR_IGNORES = ("trade.", "payment.")  # they act on the months alone,
LEARNING = "trade.learning_"  # but for this, where a sheet tells a beginner's time


@dataclass(frozen=True)
class WorthOfKnowing:
    """What finding out one uncertain figure is worth, in money a year."""

    owner: str
    path: str
    value: float
    error: float  # standard error by Monte Carlo


@dataclass(frozen=True)
class Firmness:
    """The answer over all draws; arrays follow the order of the machines."""

    evaluation: Evaluation
    n_draws: int
    seed: int
    knowledge: str
    first_as_weighed: np.ndarray  # (machine,) share first with the weights as stated
    acceptability: np.ndarray  # (machine, place) share of draws, weights drawn too
    ruled_out: np.ndarray  # (machine,) share of draws
    broken: dict  # (limit, its subject) → (machine,) share of draws that break it
    before: np.ndarray  # (machine, machine) share of draws in which the row is ahead
    confidence: np.ndarray  # (machine,) share first with its own central weights
    central_weights: np.ndarray  # (machine, criterion), NaN where never first
    alternatives: tuple[int, ...]  # machines that the money chooses from
    benefit: np.ndarray  # (machine,) mean net benefit a year, NaN if no alternative
    regret: np.ndarray  # (machine,) expected, money a year, NaN if no alternative
    regret_of_nothing: float
    evpi: float
    worths: tuple[WorthOfKnowing, ...]  # the largest first
    results: np.ndarray  # (machine, percentile) year's result
    mean_result: np.ndarray  # (machine,) what to expect of a year
    spills: np.ndarray  # (machine, job) share of draws that take more days
    luck: float  # by which the leader's year is expected to fall short of its mean
    is_kept: int  # draws behind results and confidence

    @property
    def money_choice(self):
        """The name of the alternative with the highest mean net benefit."""
        best = max(self.alternatives, key=lambda k: self.benefit[k], default=None)
        if best is None or self.benefit[best] <= 0:
            return NOTHING
        return self.evaluation.names[best]


def how_firm(
    evaluation,
    n_draws=10_000,
    seed=1,
    knowledge="stated",
    concentration=CONCENTRATION,
    chunk=CHUNK,
    on_progress=None,
):
    """Return the Firmness of an evaluation.

    Parameters
    ----------
    evaluation : Evaluation
    n_draws : int, 40 to 10 million
    seed : int, 0 or more
    knowledge : "stated", "order" or "nothing"
        What is known of the weights: about as stated, their order alone, or nothing.
    concentration : float above 0
        How closely drawn weights keep to the stated ones (Dirichlet).
    chunk : int
        Draws at a time.
    on_progress : function (share done), optional

    Raises
    ------
    ScoringError
        If a number is out of its range or `knowledge` is none of the three.
    """
    check_draws(n_draws, seed)
    _check(knowledge)
    draws = _Draws(n_draws, seed, knowledge, concentration)
    sums = None
    for stop, part in _parts(evaluation, draws, chunk):
        sums = part if sums is None else sums.plus(part)
        if on_progress:
            on_progress(stop / n_draws)
    return _concluded(evaluation, sums, n_draws, seed, knowledge)


def _parts(evaluation, draws, chunk):
    """Yield (draws done, _Sums of a chunk) in their order, worked out two at a time.

    Numpy lets go of the interpreter, so that threads share the cores. Who stops asking
    stops what has not begun.
    """
    starts = range(0, draws.n_draws, chunk)
    stops = [min(start + chunk, draws.n_draws) for start in starts]
    pool = ThreadPoolExecutor(THREADS)
    try:
        ends = zip(starts, stops, strict=True)
        # Each in a copy of the context, since numpy's error state is part of it.
        ways = [(copy_context().run, _part, evaluation, draws, *end) for end in ends]
        parts = [pool.submit(*way) for way in ways]
        while parts:
            yield stops.pop(0), parts.pop(0).result()
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def check_draws(n_draws, seed):
    """Raise ScoringError if a number of draws or a seed is out of its range."""
    if not information.FEWEST <= n_draws <= MOST_DRAWS:
        allowed = f"{information.FEWEST} to {MOST_DRAWS}"
        raise ScoringError(f"draws: {n_draws} is out of range; {allowed}")
    if seed < 0:
        raise ScoringError(f"seed: {seed} is below 0; 0 or more")


def _check(knowledge):
    if knowledge not in KNOWLEDGE:
        raise ScoringError(
            f"weights: {knowledge!r} is unknown; one of {', '.join(KNOWLEDGE)}"
        )


@dataclass(frozen=True)
class _Draws:
    n_draws: int
    seed: int
    knowledge: str
    concentration: float


@dataclass(frozen=True)
class _Sums:
    """What is summed over draws; two chunks add up to the chunk of both."""

    counts_as_weighed: np.ndarray
    rank_counts: np.ndarray
    ruled_out: np.ndarray
    broken: np.ndarray  # (limit, machine)
    order_counts: np.ndarray
    central: CentralSums
    benefit: np.ndarray
    regret: np.ndarray
    best: float
    bins: information.BinSums
    spilt: np.ndarray
    kept_scores: np.ndarray
    kept_results: np.ndarray

    def plus(self, other):
        pairs = {
            name: (getattr(self, name), getattr(other, name))
            for name in self.__dataclass_fields__
        }
        added = {}
        for name, (mine, more) in pairs.items():
            if name.startswith("kept"):
                added[name] = np.concatenate([mine, more])[:MOST_KEPT]
            elif name in ("central", "bins"):
                added[name] = information.added(mine, more)
            else:
                added[name] = mine + more
        return _Sums(**added)


def _part(evaluation, draws, start, stop):
    """Return the _Sums of some draws."""
    evidence, of = evaluation.evidence, (draws.seed, start, stop)
    uniform = figure_numbers(evidence, evaluation.brief, *of)
    figures = drawn(evidence, evaluation.brief, *of, uniform)
    again, scores = redrawn(evaluation, figures)
    weights = drawn_weights(evaluation, draws, start, stop)
    is_out = np.isnan(scores[..., 0])
    filled = np.nan_to_num(scores)
    as_stated, totals = (
        np.where(is_out, np.nan, ranking.weighted_sum(filled, each))
        for each in (evaluation.weights, weights)
    )
    benefit = net_benefit(evaluation, again)
    lived = again.outcome
    is_spilt = lived.site.days > evaluation.outcome.site.days
    return _Sums(
        counts_as_weighed=acceptability.rank_counts(as_stated),
        rank_counts=acceptability.rank_counts(totals),
        ruled_out=is_out.sum(axis=0),
        broken=np.stack([limit.is_broken.sum(axis=0) for limit in again.limits]),
        order_counts=acceptability.order_counts(totals),
        central=central_sums(weights, totals),
        benefit=benefit.sum(axis=0),
        regret=information.expected_regret(benefit) * (stop - start),
        best=float(benefit.max(axis=1).sum()),
        bins=_binned(evaluation, draws, benefit, uniform, start),
        spilt=(is_spilt & lived.can_do).sum(axis=0),
        kept_scores=scores[:MOST_KEPT],
        kept_results=lived.year.result[:MOST_KEPT, :, 0],
    )


def drawn_weights(evaluation, draws, start, stop):
    """Return weights, (draw, criterion), each criterion from a stream of its own."""
    stated = evaluation.weights
    names = [f"weights/{criterion.id}" for criterion in evaluation.criteria]
    uniform = numbers(draws.seed, names, start, stop)
    uniform = np.stack([uniform[name] for name in names], axis=-1)
    weights = np.zeros(uniform.shape)
    counts = stated > 0  # what weighs nothing is not in question
    known = {
        "stated": {"around": stated[counts], "concentration": draws.concentration},
        "order": {"order": ranking.ranks(stated[counts])},
        "nothing": {},
    }[draws.knowledge]
    weights[:, counts] = weights_from_uniform(uniform[:, counts], **known)
    return weights


def alternatives(evaluation):
    """Return the machines that money can choose: those within the limits centrally."""
    return tuple(int(k) for k in np.flatnonzero(evaluation.is_ranked))


def net_benefit(evaluation, again):
    """Return net benefit, money a year: (draw, alternative), the last buys nothing."""
    a_year = benefit_a_year(again)[:, list(alternatives(evaluation))]
    return np.concatenate([a_year, np.zeros((len(a_year), 1))], axis=1)


def streams(evaluation):
    """Return {stream: (owner, path)} of the uncertain figures that money rests on."""
    owners = {evaluation.names[k] for k in alternatives(evaluation)} | {"brief"}
    found = {}
    is_by_beginners = any(m.builds_before is not None for m in evaluation.machines)
    for (owner, path), figure in evaluation.evidence.items():
        is_later = owner == "brief" and path.startswith(AVERAGE_YEAR_IGNORES)
        is_later &= not (is_by_beginners and path.startswith(LEARNING))
        if owner in owners and is_uncertain(figure) and not is_later:
            found.setdefault(stream_of(owner, path), (owner, path))
    return found


def _binned(evaluation, draws, benefit, uniform, start):
    """Return net benefit summed in equal bins of each figure's own numbers.

    A figure rises with its uniform number, so equal bins of the number are equal bins
    of the figure, whatever the draws.
    """
    n_bins, n_draws = information.bins_for(draws.n_draws), len(benefit)
    bins = np.zeros((0, n_draws), int)
    if names := streams(evaluation):
        bins = (np.stack([uniform[name] for name in names]) * n_bins).astype(int)
    batches = information.batches_of(start, n_draws)
    return information.bin_sums(benefit, bins.T, n_bins, batches)


def _concluded(evaluation, sums, n_draws, seed, knowledge):
    """Return the Firmness that the sums amount to."""
    chosen = alternatives(evaluation)
    n = len(evaluation.machines)
    evpi = max(0.0, (sums.best - sums.benefit.max()) / n_draws)
    values, errors = information.evppi_of(sums.bins, evpi)
    worths = [
        WorthOfKnowing(owner, path, float(value), float(error))
        for (owner, path), value, error in zip(
            streams(evaluation).values(), values, errors, strict=True
        )
    ]
    benefit, regret = np.full(n, np.nan), np.full(n, np.nan)
    benefit[list(chosen)] = sums.benefit[:-1] / n_draws
    regret[list(chosen)] = sums.regret[:-1] / n_draws
    central = central_of(sums.central)
    return Firmness(
        evaluation=evaluation,
        n_draws=n_draws,
        seed=seed,
        knowledge=knowledge,
        first_as_weighed=acceptability.acceptability_of(
            sums.counts_as_weighed, n_draws
        )[:, 0],
        acceptability=acceptability.acceptability_of(sums.rank_counts, n_draws),
        ruled_out=sums.ruled_out / n_draws,
        broken={
            (limit.kind, limit.subject): share
            for limit, share in zip(
                evaluation.limits, sums.broken / n_draws, strict=True
            )
        },
        before=acceptability.order_of(sums.order_counts, n_draws),
        confidence=confidence_factors(sums.kept_scores, central),
        central_weights=central,
        alternatives=chosen,
        benefit=benefit,
        regret=regret,
        regret_of_nothing=float(sums.regret[-1] / n_draws),
        evpi=evpi,
        worths=tuple(sorted(worths, key=lambda worth: -worth.value)),
        mean_result=sums.kept_results.mean(axis=0),
        results=np.percentile(sums.kept_results, PERCENTILES, axis=0).T,
        spills=sums.spilt / n_draws,
        luck=luck_of_the_leader(evaluation, sums.kept_results),
        is_kept=len(sums.kept_scores),
    )


def luck_of_the_leader(evaluation, results):
    """Return by how much the leader's year is expected to fall short of its mean.

    Who comes first among several that are known unsurely was likely lucky as well. What
    all machines have in common, such as a thin year, is taken out of each one's error.

    Parameters
    ----------
    results : (draw, machine) year's results
    """
    chosen = list(alternatives(evaluation))
    leader = evaluation.order[0]
    if leader not in chosen or len(results) < 2:
        return 0.0
    own = results[:, chosen]
    errors = (own - own.mean(axis=1, keepdims=True)).std(axis=0)
    return disappointment(own.mean(axis=0), errors, chosen.index(leader))


def confidence_factors(scores, central_weights):
    """Return each machine's share of first places with its own central weights.

    0 where it is first with no weights that were drawn. Scores are (draw, machine,
    criterion), NaN where ruled out.
    """
    filled, is_out = np.nan_to_num(scores), np.isnan(scores[..., 0])
    totals = np.full((len(central_weights), *is_out.shape), np.nan)
    for k, weights in enumerate(central_weights):
        if np.isfinite(weights).all():
            sums = ranking.weighted_sum(filled, weights)
            totals[k] = np.where(is_out, np.nan, sums)
    return confidence(totals)
