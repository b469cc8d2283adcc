"""Plans for visits to sellers → records of plain values."""

from scoring.records.plain import plain


def round_record(found):
    """Return a Round as JSON has it: present values in currency, minutes.

    The sellers stand in the order of their reservation values; `is_worth_going`: the
    visit is worth opening by that order.
    """
    if not found.visits:
        return {"currency": None, "visits": [], "worth": 0.0, "visits_expected": 0.0}
    each = zip(found.visits, found.search.values, strict=True)
    return {
        "currency": found.visits[0].evaluation.brief.currency,
        "worth": plain(found.search.worth),
        "visits_expected": plain(found.search.chance_opened.sum()),
        "visits": [
            visit_record(visit)
            | {
                "reservation_value": plain(value),
                "is_worth_going": box in found.search.order,
                "chance_opened": plain(found.search.chance_opened[box]),
            }
            for box, (visit, value) in enumerate(each)
        ],
    }


def visit_record(found):
    """Return a PlannedVisit as JSON has it."""
    return {
        "machine": found.name,
        "worth": plain(found.plan.worth),
        "worth_by_score": plain(found.by_score),
        "cost": plain(found.plan.cost),
        "visit_cost": plain(found.visit_cost),
        "tests": [_test(found, step) for step in found.plan.steps],
    }


def _test(found, step):
    trial, leave = found.tests[step.test], found.leave.get(step.test)
    return {
        "test": trial.title,
        "settles": list(trial.settles),
        "minutes": plain(trial.estimate.minutes),
        "until_minute": plain(step.minutes),
        "leave_if": None if leave is None else _leave(found, leave),
    }


def _leave(found, leave):
    evidence = found.evaluation.evidence[found.name, leave.path]
    return {
        "key": leave.path,
        "unit": evidence.currency or evidence.unit,
        "at_least" if leave.is_above else "at_most": plain(leave.value),
    }
