"""Choices of rigs → JSON-ready records."""

from scoring.records.plain import plain


def fleet_record(found):
    """Return the choices of rigs as one JSON-ready record, best first."""
    return {"choices": [_choice_record(found, c) for c in found.order]}


def _choice_record(found, c):
    choice = found.choices[c]
    return {
        "choice": choice.name,
        "rigs": [rig.name for rig in choice.rigs],
        "year_result": plain(choice.year_result),
        "added_result": plain(choice.added_result),
        "added_upfront": plain(choice.added_upfront),
        "payback_months": plain(choice.payback_months),
        "npv": plain(choice.npv),
        "assignment": choice.assignment,
        "stand_in_value": plain(choice.stand_in_value),
        "weighted_sum": plain(found.weighted_sum[c]),
        "topsis": plain(found.topsis[c]),
        "rank_weighted_sum": plain(found.rank_weighted_sum[c]),
        "rank_topsis": plain(found.rank_topsis[c]),
    }
