"""Brief + machines → Evaluation: the one result that every surface shows."""

from dataclasses import dataclass

import numpy as np

from scoring.answer.limits import Limit
from scoring.answer.plans import PlanResult, choose_plans
from scoring.answer.preferences import brief_weights, criteria_of, ratings_of, scale_of
from scoring.answer.ranking import reweigh
from scoring.answer.run import run
from scoring.decision import criteria as decision_criteria
from scoring.decision import scale as scales
from scoring.errors import ScoringError
from scoring.evidence.draws import central
from scoring.evidence.gathered import gather
from scoring.evidence.variants import Variant
from scoring.inputs.together import check_together
from scoring.model.figures import Figures
from scoring.model.outcome import Outcome


@dataclass(frozen=True)
class Evaluation:
    """Everything that the page, the report and the command line show.

    Arrays follow the order of `machines` and of `criteria`; those of the model have one
    draw. Scores and ranks are NaN and 0 for machines that are ruled out.
    """

    brief: object
    machines: tuple
    variants: tuple[Variant, ...]
    plans: tuple[tuple[PlanResult, ...], ...]
    evidence: dict
    drawn: dict
    figures: Figures
    outcome: Outcome
    limits: tuple[Limit, ...]
    criteria: tuple
    raw: np.ndarray  # (machine, criterion), each in its unit
    scale: np.ndarray  # (criterion, 2): worst, best
    scores: np.ndarray  # (machine, criterion), 0–1
    weights: np.ndarray  # (criterion,)
    is_ranked: np.ndarray  # bool (machine,)
    weighted_sum: np.ndarray
    topsis: np.ndarray
    rank_weighted_sum: np.ndarray  # 1 is best
    rank_topsis: np.ndarray
    kendall_tau: float | None
    is_on_pareto_front: np.ndarray  # bool (machine,)
    left_out: frozenset = frozenset()  # names that the buyer does not consider

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
        """Return the limits that machine k breaks."""
        return [limit for limit in self.limits if limit.is_broken[0, k]]


def evaluate(brief, machines, weights=None, scale=None, left_out=()):
    """Return the Evaluation of these machines for this brief.

    Parameters
    ----------
    brief : Brief
    machines : sequence of Machine
    weights : mapping of criterion id to number, optional
        Criteria not named keep the brief's weight; all are then brought to sum 1.
    scale : shape (n_criteria, 2), optional
        The [worst, best] anchors of an earlier Evaluation of the same loaded brief.
        Left out, they come from the brief and from all machines before screening.
    left_out : names of machines that the buyer does not consider, optional
        They still count for the scale and for what is unknown of others, so that
        leaving one out reverses nothing.

    Raises
    ------
    ScoringError
        For anything that a person can mend, in sentences.
    """
    machines = tuple(sorted(machines, key=lambda machine: machine.name))
    if not machines:
        raise ScoringError("there is no machine to rank; add a machine sheet")
    criteria = criteria_of(brief)
    check_together(brief, machines, [c.id for c in decision_criteria.STANDARD])
    evidence = gather(brief, machines, ratings_of(criteria))
    return evaluated(brief, machines, evidence, weights, scale, left_out)


def evaluated(brief, machines, evidence, weights=None, scale=None, left_out=()):
    """Return the Evaluation that this evidence amounts to.

    As `evaluate`, with the figures gathered and the machines in the order of their
    names.
    """
    criteria = criteria_of(brief)
    drawn = central(evidence, brief)
    variants, plans = choose_plans(brief, machines, drawn)
    central_run = run(brief, criteria, variants, drawn)
    raw = central_run.raw[0]
    if scale is None:
        scale = scale_of(brief, criteria, raw)
    is_ranked = ~central_run.is_ruled_out[0]
    is_ranked &= ~np.isin([machine.name for machine in machines], list(left_out))
    scores = scales.scores(raw, scale, [c.flat_above for c in criteria])
    unranked = np.zeros(len(machines))
    return reweigh(
        Evaluation(
            brief=brief,
            machines=machines,
            variants=variants,
            plans=plans,
            evidence=evidence,
            drawn=drawn,
            figures=central_run.figures,
            outcome=central_run.outcome,
            limits=central_run.limits,
            criteria=criteria,
            raw=raw,
            scale=scale,
            scores=scores,
            weights=brief_weights(brief, criteria),
            is_ranked=is_ranked,
            weighted_sum=unranked,
            topsis=unranked,
            rank_weighted_sum=unranked,
            rank_topsis=unranked,
            kendall_tau=None,
            is_on_pareto_front=unranked,
            left_out=frozenset(left_out),
        ),
        weights,
    )
