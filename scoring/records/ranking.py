"""A ranking → a record of plain values."""

from dataclasses import dataclass, field

from scoring.questions.advice import advice
from scoring.questions.other_ways import other_ways
from scoring.questions.weights_in_money import weights_in_money
from scoring.records.plain import plain
from scoring.words.cautions import CAUTIONS, DECIDES
from scoring.words.doubt import why_not_in
from scoring.words.verdict import who_leads
from scoring.words.workings.criteria import unit_of

RANK_CAUTIONS = ("money", "lifting", "odour")


@dataclass(frozen=True)
class CriterionRecord:
    """One figure of a machine: expected, as told, and what it adds to the score."""

    value: float | None
    as_told: float | None
    unit: str
    score: float | None  # None where the machine is ruled out
    weight: float
    contribution: float | None


@dataclass(frozen=True)
class MachineRecord:
    """One machine in a ranking; places and scores are None where it is ruled out."""

    name: str
    status: str  # ranked, in_doubt, ruled_out
    reasons: list
    chance_in: float | None
    weighted_sum: float | None
    topsis: float | None
    rank_weighted_sum: int | None
    rank_topsis: int | None
    criteria: dict  # {criterion id: CriterionRecord}


@dataclass(frozen=True)
class RankingRecord:
    """Machines best first, ruled out last; None where a table says nothing of it."""

    machines: list
    advice: str | None
    verdict: str | None
    kendall_tau: float | None
    pareto_front: list
    cautions: list
    other_ways: list = field(default_factory=list)  # OtherWayRecords, the best first


@dataclass(frozen=True)
class OtherWayRecord:
    """Another way than buying new now; money in the brief's currency, after own pay."""

    name: str
    left_per_job: float
    jobs_a_month: float
    year_result: float
    present_value: float


def weights_record(evaluation):
    """Return {criterion id: money a year for one unit of it}, of those that weigh."""
    return {
        evaluation.criteria[one.criterion].id: one.worth / one.step
        for one in weights_in_money(evaluation)
    }


def ranking_record(evaluation):
    """Return the RankingRecord of an evaluation."""
    return RankingRecord(
        machines=[_machine_record(evaluation, k) for k in evaluation.order],
        advice=advice(evaluation).kind,
        verdict=who_leads(evaluation),
        kendall_tau=plain(evaluation.kendall_tau),
        pareto_front=[
            evaluation.names[k]
            for k in evaluation.order
            if evaluation.is_on_pareto_front[k]
        ],
        cautions=[*(CAUTIONS[place] for place in RANK_CAUTIONS), DECIDES],
        other_ways=[
            OtherWayRecord(*map(plain, way))
            for way in sorted(other_ways(evaluation), key=lambda way: -way.npv)
        ],
    )


def _machine_record(evaluation, k):
    return MachineRecord(
        name=evaluation.names[k],
        status=evaluation.status(k),
        reasons=why_not_in(evaluation, k),
        chance_in=plain(evaluation.chance_in[k]),
        weighted_sum=plain(evaluation.weighted_sum[k]),
        topsis=plain(evaluation.topsis[k]),
        rank_weighted_sum=plain(evaluation.rank_weighted_sum[k]) or None,
        rank_topsis=plain(evaluation.rank_topsis[k]) or None,
        criteria={
            criterion.id: _criterion_record(evaluation, k, c)
            for c, criterion in enumerate(evaluation.criteria)
        },
    )


def _criterion_record(evaluation, k, c):
    return criterion_record(
        evaluation.raw[k, c],
        evaluation.raw_as_told[k, c],
        unit_of(evaluation, c),
        evaluation.scores[k, c] if evaluation.is_ranked[k] else None,
        evaluation.weights[c],
    )


def criterion_record(value, as_told, unit, score, weight):
    """Return a CriterionRecord; without a score nothing is contributed."""
    return CriterionRecord(
        value=plain(value),
        as_told=plain(as_told),
        unit=unit,
        score=plain(score),
        weight=plain(weight),
        contribution=None if score is None else plain(score * weight),
    )
