"""Brief + machines → Evaluation: the one result that every surface shows."""

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from scoring.answer.expected import (
    DOUBT,
    Expected,
    expected,
    is_doubtful,
    is_out,
    mean_of,
    of_places,
    told_of,
)
from scoring.answer.plans import PlanResult, choose_plans
from scoring.answer.preferences import brief_weights, criteria_of, ratings_of, scale_of
from scoring.answer.ranking import reweigh
from scoring.answer.run import Run, run
from scoring.answer.ways import WayResult, choose_ways
from scoring.decision import acceptability, ranking
from scoring.decision import criteria as decision_criteria
from scoring.decision import scale as scales
from scoring.errors import ScoringError
from scoring.evidence.draws import in_brief_currency, is_any_uncertain
from scoring.evidence.draws import rows as rows_of
from scoring.evidence.gathered import gather
from scoring.evidence.variants import Variant, variants_of
from scoring.inputs.together import check_together

FEWEST_DRAWS = 40
MOST_DRAWS = 100_000
N_DRAWS = 1_000
SEED = 1


@dataclass(frozen=True)
class Evaluation:
    """Everything that the page, the report and the command line show.

    Arrays follow the order of `machines` and of `criteria`; those of the model have one
    row, what to expect. Scores and ranks are NaN and 0 for machines that are ruled out.
    """

    brief: object
    machines: tuple
    variants: tuple[Variant, ...]
    plans: tuple[tuple[PlanResult, ...], ...]
    ways: tuple[tuple[WayResult, ...], ...]  # how the chosen plan may be carried
    evidence: dict
    rows: dict  # {(owner, path): (1 + draw,)}, own currency; the first as told
    seed: int
    told: Run  # the one draw in which all is as told
    expected: Expected  # means over the draws, one alternative
    drawn_scores: np.ndarray  # (draw, machine, criterion) 0–1, NaN where a limit breaks
    criteria: tuple
    scale: np.ndarray  # (criterion, 2): worst, best
    weights: np.ndarray  # (criterion,)
    is_ranked: np.ndarray  # bool (machine,)
    weighted_sum: np.ndarray
    topsis: np.ndarray
    rank_weighted_sum: np.ndarray  # 1 is best
    rank_topsis: np.ndarray
    kendall_tau: float | None
    is_on_pareto_front: np.ndarray  # bool (machine,)
    left_out: frozenset = frozenset()  # names that the buyer does not consider
    # {question: answer} on the model alone, shared by evaluations under other weights
    found: dict = field(default_factory=dict, compare=False, repr=False)

    @property
    def n_draws(self):
        """Draws behind what to expect; 0 where all is known and one run says it."""
        return len(next(iter(self.rows.values()))) - 1

    @property
    def figures(self):
        """What the model is given, means over the draws."""
        return self.expected.figures

    @property
    def outcome(self):
        """What follows, means over the draws."""
        return self.expected.outcome

    @property
    def limits(self):
        """The LimitChances of the brief."""
        return self.expected.limits

    @property
    def raw(self):
        """The decision matrix, (machine, criterion), means in each one's unit."""
        return self.expected.raw[0]

    @property
    def scores(self):
        """Mean scores 0–1, (machine, criterion)."""
        return self.expected.scores[0]

    @property
    def raw_as_told(self):
        """The decision matrix if all is as told, (machine, criterion)."""
        return self.told.raw[0]

    @property
    def npv(self):
        """Mean present values of the months, (machine,), in currency."""
        return self.expected.npv[0]

    @property
    def flows(self):
        """Mean cash of each month, (machine, month), currency; first what is paid."""
        return self.expected.months.cash.flows[0]

    @property
    def share_first(self):
        """The share of draws in which each machine comes first: (machine,).

        The weights as they stand; what breaks a limit in a draw is not first in it.
        """
        is_out = np.isnan(self.drawn_scores[..., 0])
        totals = ranking.weighted_sum(np.nan_to_num(self.drawn_scores), self.weights)
        counts = acceptability.rank_counts(np.where(is_out, np.nan, totals))
        return acceptability.acceptability_of(counts, len(totals))[:, 0]

    @property
    def chance_in(self):
        """The share of draws in which each machine is within all limits: (machine,)."""
        return self.expected.chance_in[0]

    @property
    def is_in_as_told(self):
        """Whether each machine is within all limits if all is as told: (machine,)."""
        return self.expected.is_in_as_told[0]

    @cached_property
    def drawn(self):
        """Every figure's mean, {(owner, path): (1,)}, in the brief's currency."""
        first = 1 if self.n_draws else 0
        found = in_brief_currency(self.rows, self.evidence, self.brief)
        return {key: x[first:].mean(keepdims=True) for key, x in found.items()}

    def status(self, k):
        """Return "ranked", "in_doubt" or "ruled_out"."""
        if self.is_out(k):
            return "ruled_out"
        is_maybe = is_doubtful(self.chance_in[k], self.is_in_as_told[k])
        return "in_doubt" if is_maybe else "ranked"

    def is_out(self, k):
        """Return whether limits rule a machine out."""
        sure = sure_of(self.brief)
        return bool(is_out(self.chance_in[k], self.is_in_as_told[k], sure))

    @property
    def names(self):
        return tuple(machine.name for machine in self.machines)

    @property
    def order(self):
        """The machines' indices by rank, then name, ruled out last, none left out."""

        def key(k):
            return (not self.is_ranked[k], self.rank_weighted_sum[k], self.names[k])

        considered = (
            k for k, name in enumerate(self.names) if name not in self.left_out
        )
        return sorted(considered, key=key)

    def index(self, name):
        """Return a machine's place in the arrays; ScoringError if there is none."""
        if name not in self.names:
            known = ", ".join(self.names)
            raise ScoringError(
                f"no machine is called {name!r}; the machines are {known}"
            )
        return self.names.index(name)

    def record_of(self, owner):
        """Return what a figure's owner stands for: the Brief, or a Machine."""
        return self.brief if owner == "brief" else self.machines[self.index(owner)]

    def broken(self, k):
        """Return what machine k breaks, or may; LimitChances of k, most often first."""
        of_machine = [limit.of(k) for limit in self.limits]
        may = [x for x in of_machine if x.chance > DOUBT or x.is_broken_as_told]
        return sorted(may, key=lambda limit: -limit.chance)


def sure_of(brief):
    """Return the share of draws in which the buyer wants limits to hold, or None."""
    sure = brief.limits.sure
    return None if sure is None else sure.likely


def evaluate(
    brief,
    machines,
    weights=None,
    scale=None,
    left_out=(),
    n_draws=N_DRAWS,
    seed=SEED,
):
    """Return the Evaluation of these machines for this brief.

    Parameters
    ----------
    brief : Brief
    machines : sequence of Machine
    weights : mapping of criterion id to number, optional
        Criteria not named keep the brief's weight; all are then brought to sum 1.
    scale : shape (n_criteria, 2), optional
        The [worst, best] anchors of an earlier Evaluation of the same loaded brief.
    left_out : names of machines that the buyer does not consider, optional
    n_draws : int, 40 to 100,000
        Draws whose mean is what to expect.
    seed : int, 0 or more

    Raises
    ------
    ScoringError
        For anything that a person can mend, in sentences.
    """
    machines = tuple(sorted(machines, key=lambda machine: machine.name))
    if not machines:
        raise ScoringError("there is no machine to rank; add a machine sheet")
    check_draws(n_draws, seed, MOST_DRAWS)
    criteria = criteria_of(brief)
    check_together(brief, machines, decision_criteria.known_ids())
    evidence = gather(brief, machines, ratings_of(criteria))
    n_draws = n_draws if is_any_uncertain(evidence, brief) else 0
    rows = rows_of(evidence, brief, seed, n_draws)
    return evaluated(brief, machines, evidence, rows, seed, weights, scale, left_out)


def check_draws(n_draws, seed, most):
    """Raise ScoringError if a number of draws or a seed is out of its range."""
    if not FEWEST_DRAWS <= n_draws <= most:
        raise ScoringError(
            f"draws: {n_draws} is out of range; {FEWEST_DRAWS} to {most}"
        )
    if seed < 0:
        raise ScoringError(f"seed: {seed} is below 0; 0 or more")


def evaluated(
    brief, machines, evidence, rows, seed, weights=None, scale=None, left_out=()
):
    """Return the Evaluation that this evidence and its rows amount to.

    As `evaluate`, with the machines in the order of their names.
    """
    criteria, n = criteria_of(brief), len(machines)
    all_variants = [variant for machine in machines for variant in variants_of(machine)]
    drawn = in_brief_currency(rows, evidence, brief)
    all_variants, ways = choose_ways(brief, all_variants, drawn)
    n_rows = len(next(iter(rows.values())))
    again = run(brief, criteria, all_variants, drawn, kept=mean_of(1, n_rows))
    if scale is None:
        scale = scale_of(brief, criteria, again)
    flat_above = [criterion.flat_above for criterion in criteria]
    of_all = told_of(again, 1, n_rows), expected(again, scale, flat_above, 1, n_rows)
    places, plans = choose_plans(machines, all_variants, of_all[1])
    told, found = (of_places(each, places, len(all_variants)) for each in of_all)
    out = is_out(found.chance_in[0], found.is_in_as_told[0], sure_of(brief))
    is_left_out = np.isin([machine.name for machine in machines], list(left_out))
    return reweigh(
        Evaluation(
            brief=brief,
            machines=machines,
            variants=tuple(all_variants[place] for place in places),
            plans=plans,
            ways=tuple(ways[place] for place in places),
            evidence=evidence,
            rows=rows,
            seed=seed,
            told=told,
            expected=found,
            drawn_scores=drawn_scores(again, scale, flat_above, places, is_left_out),
            criteria=criteria,
            scale=scale,
            weights=brief_weights(brief, criteria),
            is_ranked=~out & ~is_left_out,
            weighted_sum=np.zeros(n),
            topsis=np.zeros(n),
            rank_weighted_sum=np.zeros(n),
            rank_topsis=np.zeros(n),
            kendall_tau=None,
            is_on_pareto_front=np.zeros(n),
            left_out=frozenset(left_out),
        ),
        weights,
    )


def drawn_scores(again, scale, flat_above, places, is_left_out):
    """Return the scores of each draw of a Run, (draw, machine, criterion).

    NaN where a machine breaks a limit in a draw, or is left out. Where nothing is
    uncertain the one run is the only draw.
    """
    raw, is_out = again.raw[:, places], again.is_ruled_out[:, places] | is_left_out
    scores = scales.scores(raw, scale, flat_above)
    scores[is_out] = np.nan
    return scores[1:] if len(scores) > 1 else scores
