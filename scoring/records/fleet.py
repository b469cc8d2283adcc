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


def fleet_record(found):
    """Return the FleetRecord of the choices found."""
    return FleetRecord([_choice_record(found, c) for c in found.order])


def _choice_record(found, c):
    choice = found.choices[c]
    return ChoiceRecord(
        choice=choice.name,
        rigs=[rig.name for rig in choice.rigs],
        year_result=plain(choice.year_result),
        added_result=plain(choice.added_result),
        added_upfront=plain(choice.added_upfront),
        payback_months=plain(choice.payback_months),
        npv=plain(choice.npv),
        assignment=choice.assignment,
        stand_in_value=plain(choice.stand_in_value),
        weighted_sum=plain(found.weighted_sum[c]),
        topsis=plain(found.topsis[c]),
        rank_weighted_sum=plain(found.rank_weighted_sum[c]),
        rank_topsis=plain(found.rank_topsis[c]),
    )
