"""How each figure of the decision matrix came about, and its score."""

from scoring.answer.one_machine import of_place, told_at
from scoring.decision.criteria import GROWN
from scoring.model.money.served import bookable_days_down
from scoring.words.expected import differs, why_differs
from scoring.words.figures import figure, number
from scoring.words.workings.carrying import lift_steps
from scoring.words.workings.steps import Step, sheet_step, with_practice
from scoring.words.workings.year import (
    booked_steps,
    upfront_steps,
    year_steps,
)


def working(evaluation, name, criterion_id, is_us=False):
    """Return the steps by which a machine's figure for a criterion came about.

    First what is so if all is as told; then, where the two differ, what to expect and
    what makes the difference. The last steps are the figure, as it stands in the
    decision matrix, and its score.
    """
    k = evaluation.index(name)
    ids = [criterion.id for criterion in evaluation.criteria]
    column = ids.index(criterion_id)
    criterion = evaluation.criteria[column]
    steps = STEPS.get(criterion_id, _rating_steps)(evaluation, k, criterion, is_us)
    unit, value = unit_of(evaluation, column), evaluation.raw[k, column]
    told, how = evaluation.raw_as_told[k, column], ""
    if evaluation.n_draws:
        steps.append(Step("if all is as told", told, unit))
        how = f"what to expect: the mean of {figure(evaluation.n_draws, '')} draws"
        if differs(value, told):
            whys = why_differs(evaluation, k, criterion_id)
            how = "; ".join([how, *whys])
    result = Step(criterion.label, value, unit, how)
    return [*steps, result, _score_step(evaluation, k, column, is_us)]


def unit_of(evaluation, column):
    """Return a criterion's unit, with the brief's currency where it is money."""
    unit = evaluation.criteria[column].unit
    return unit.replace("currency", evaluation.brief.currency)


def _score_step(evaluation, k, column, is_us):
    unit = unit_of(evaluation, column)
    worst, best = (figure(anchor, unit, is_us) for anchor in evaluation.scale[column])
    score = evaluation.scores[k, column]
    if evaluation.scale[column, 0] == evaluation.scale[column, 1]:
        how = "all machines are equal here: does not separate them"
    else:
        how = f"on the scale from {worst} (0) to {best} (1)"
    weight = number(100 * evaluation.weights[column], 1)
    return Step("score", score, "", f"{how}, weighs {weight} %")


def _ready_steps(evaluation, k, criterion, is_us):
    machines = of_place(evaluation.told.figures.machines, k)
    parts = [
        ("build", machines.assembly_min, ["assembly_time"]),
        ("prime and nozzle check", machines.prime_min, ["prime_time"]),
    ]
    steps = [
        sheet_step(
            *(evaluation, k, what, minutes, "min", paths),
            then=with_practice(evaluation, k),
        )
        for what, minutes, paths in parts
    ]
    lived = told_at(evaluation, k)
    carry = lived.ready_min - sum(step.value for step in steps)
    work = evaluation.brief.work
    found = [int(told_at(evaluation, k, j).trips) for j, _ in enumerate(work)]
    few, many = min(found), max(found)
    n_trips = f"{few}" if few == many else f"{few} to {many}"
    trips = "one trip" if many == 1 else f"{n_trips} trips"
    return [Step("carry in", carry, "min", f"{trips}, mean over your jobs"), *steps]


def _odour_steps(evaluation, k, criterion, is_us):
    machines = of_place(evaluation.told.figures.machines, k)
    return [
        sheet_step(evaluation, k, what, level, "of 6", [f"odour.{what}"])
        for what, level in (
            ("preparing", machines.odour_preparing),
            ("printing", machines.odour_printing),
        )
    ]


def _support_steps(evaluation, k, criterion, is_us):
    machines = of_place(evaluation.told.figures.machines, k)
    return [
        sheet_step(evaluation, k, what, days, "day", [path])
        for what, days, path in (
            ("an answer", machines.response_days, "support.response"),
            ("parts arrive", machines.parts_days, "support.parts_lead_time"),
        )
    ]


def _rating_steps(evaluation, k, criterion, is_us):
    path = criterion.derived_from[0]
    value = evaluation.told.drawn[evaluation.names[k], path][0]
    step = sheet_step(evaluation, k, "rating", value, "of 5", [path])
    if criterion.flat_above is None:
        return [step]
    cap = Step(
        "what clients notice", criterion.flat_above, "of 5", "more counts no more"
    )
    return [step, cap]


def _served_steps(evaluation, k, criterion, is_us):
    income, currency = told_at(evaluation, k).year.revenue, evaluation.brief.currency
    return [
        *booked_steps(evaluation, k, is_us),
        Step("revenue served in a year", income, currency),
    ]


def _hours_steps(evaluation, k, criterion, is_us):
    year = told_at(evaluation, k).year
    return [
        Step("crew hours on site in a year", year.site_hours, "h"),
        Step("revenue in a year", year.revenue, evaluation.brief.currency),
    ]


def _lost_steps(evaluation, k, criterion, is_us):
    told = evaluation.told
    machines = of_place(told.figures.machines, k)
    jobs = 12 * told.outcome.year.served_per_month[0, k].sum()
    between = machines.jobs_between_stoppages
    return [
        Step("jobs in a year", jobs, "jobs"),
        sheet_step(
            evaluation,
            k,
            "jobs between two breakdowns",
            between,
            "jobs",
            ["reliability.jobs_between_stoppages"],
        ),
        sheet_step(
            evaluation,
            k,
            "days down each time",
            machines.days_down,
            "day",
            ["reliability.days_down"],
        ),
        Step(
            "of them bookable",
            bookable_days_down(machines, of_place(evaluation.figures.buyer, k)),
            "day",
            "of calendar days down, the share that would have been worked on jobs",
        ),
    ]


def _cash_out_steps(evaluation, k, criterion, is_us):
    months, currency = evaluation.expected.months, evaluation.brief.currency
    return [
        Step("cash and credit that there is", months.funds[0, k], currency, "the mean"),
        Step("deepest in the red", -months.lowest[0, k], currency, "the mean"),
    ]


def _resale_steps(evaluation, k, criterion, is_us):
    machines = of_place(evaluation.told.figures.machines, k)
    what, currency = "resale", evaluation.brief.currency
    return [sheet_step(evaluation, k, what, machines.resale, currency, ["resale"])]


def _grown_steps(evaluation, k, criterion, is_us):
    told = evaluation.told.figures.jobs.per_month[0, 0].sum()
    how = f"{number(GROWN, 1)} × the work of the brief"
    return [Step("jobs a month that would be wanted", GROWN * told, "jobs", how)]


STEPS = {
    "cash_out": _cash_out_steps,
    "resale": _resale_steps,
    "room_to_grow": _grown_steps,
    "upfront": upfront_steps,
    "year_result": year_steps,
    "ready_time": _ready_steps,
    "heaviest_lift": lift_steps,
    "odour": _odour_steps,
    "support": _support_steps,
    "work_served": _served_steps,
    "site_hours": _hours_steps,
    "days_lost": _lost_steps,
}
