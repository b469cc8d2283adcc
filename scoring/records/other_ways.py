"""Other ways than buying new now → records of plain values."""

from dataclasses import asdict

from scoring.records.plain import plain
from scoring.records.ranking import OtherWayRecord


def steps_record(found):
    """Return Steps as JSON has them: present values in currency, jobs, months.

    `buy_from` is, after so many months, the fewest jobs seen that make buying best;
    null where none does.
    """
    plan = found.plan
    return {
        "machine": found.name,
        "currency": found.whole.brief.currency,
        "first": plan.first,
        "worth": plain(plan.worth),
        "buy_now": plain(plan.buy_now),
        "worth_of_waiting": plain(plan.worth_of_waiting),
        "learning_cost": plain(plan.learning_cost),
        "chance_bought": plain(plan.chance_bought),
        "buy_from": [n if n >= 0 else None for n in plan.buy_from.tolist()],
        "jobs_a_month_believed": plain(found.a / found.b),
        "months_to_decide": found.months,
        "other_ways": [asdict(OtherWayRecord(*map(plain, way))) for way in found.ways],
    }
