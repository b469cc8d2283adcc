"""Choices of rigs → a record of plain values."""

from dataclasses import dataclass

from scoring.records.plain import plain


@dataclass(frozen=True)
class ChoiceRecord:
    """One choice of rigs: its money and its places."""

    choice: str
    rigs: list
    year_result: float
    added_result: float
    added_upfront: float
    payback_months: float | None
    npv: float | None
    worth_a_year: float  # left in a year, what the change costs spread over the years
    worth_p10: float
    worth_p90: float
    chance_best: float  # share of draws in which it leaves most
    assignment: dict  # {kind of job: {rig: jobs a month}}
    stand_in_value: float | None
    weighted_sum: float
    topsis: float
    rank_weighted_sum: int
    rank_topsis: int


@dataclass(frozen=True)
class FleetRecord:
    """Every choice, best first."""

    choices: list


def fleet_record(found, spread):
    """Return the FleetRecord of the choices found, and of their Ranges."""
    return FleetRecord([_choice_record(found, spread, c) for c in found.order])


def _choice_record(found, spread, c):
    choice = found.choices[c]
    return ChoiceRecord(
        choice=choice.name,
        rigs=[rig.name for rig in choice.rigs],
        year_result=plain(choice.year_result),
        added_result=plain(choice.added_result),
        added_upfront=plain(choice.added_upfront),
        payback_months=plain(choice.payback_months),
        npv=plain(choice.npv),
        worth_a_year=plain(spread.mean[c]),
        worth_p10=plain(spread.percentiles[c, 0]),
        worth_p90=plain(spread.percentiles[c, 2]),
        chance_best=plain(spread.first[c]),
        assignment=choice.assignment,
        stand_in_value=plain(choice.stand_in_value),
        weighted_sum=plain(found.weighted_sum[c]),
        topsis=plain(found.topsis[c]),
        rank_weighted_sum=plain(found.rank_weighted_sum[c]),
        rank_topsis=plain(found.rank_topsis[c]),
    )
