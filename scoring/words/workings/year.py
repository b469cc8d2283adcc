"""How the money of a purchase and of a year came about."""

from scoring.answer.one_machine import of_place, told_at
from scoring.words.figures import figure, joined, number
from scoring.words.ruled_out import not_served
from scoring.words.workings.steps import Step, jobs_in_words, sheet_step, worded

RARE = (
    *("aids", "export_clearance", "broker", "inland_freight", "vehicle_fitting"),
    *("vehicle", "expired_ink", "insurance", "crew_pay"),
)
VEHICLE = ("vehicle.longest_piece", "vehicle.volume", "vehicle.mass")


def upfront_steps(evaluation, k, criterion, is_us):
    paths = {
        "price": ["price"],
        "freight": ["landed_cost.freight"],
        "insurance": ["landed_cost.insurance"],
        "duty": ["landed_cost.duty", "price", "landed_cost.freight"],
        "import_tax": ["landed_cost.import_tax"],
        "export_clearance": ["landed_cost.export_clearance"],
        "broker": ["landed_cost.broker"],
        "inland_freight": ["landed_cost.inland_freight"],
        "vehicle_fitting": ["landed_cost.vehicle_fitting"],
        "vehicle": ["vehicle.buy", *VEHICLE],
        "training": ["landed_cost.training"],
        "accessories": ["landed_cost.accessories"],
        "aids": [f"crew.aids.{name}.price" for name in evaluation.variants[k].way.aids],
    }
    currency = evaluation.brief.currency
    duty = of_place(evaluation.told.figures.machines, k).duty
    how = {
        "duty": f"{figure(duty, 'share')} of price, freight and insurance",
        "vehicle": "a larger one, bought: the machine does not go into yours",
        "import_tax": "recovered, so not a cost"
        if evaluation.brief.money.import_tax_recovered
        else "of all that and the duty",
        "aids": joined(n.replace("_", " ") for n in evaluation.variants[k].way.aids),
    }
    lines = told_at(evaluation, k).upfront_lines._asdict()
    return [
        sheet_step(
            evaluation,
            k,
            worded(name),
            line,
            currency,
            paths[name],
            how.get(name, ""),
        )
        for name, line in lines.items()
        if name not in RARE or line
    ]


def year_steps(evaluation, k, criterion, is_us):
    steps = booked_steps(evaluation, k, is_us)
    brief = evaluation.brief
    for j, job in enumerate(brief.work):
        lived = told_at(evaluation, k, j)
        served, left = lived.year.served_per_month, lived.contribution
        if served > 0:
            how = (
                f"12 × {number(served, 2)} a month × "
                f"{figure(left, brief.currency)} left after job costs"
            )
            value = 12 * served * left
            steps.append(Step(job.name, value, brief.currency, how))
    paths = {
        "plan_fee": [f"subscription_fees.{evaluation.variants[k].plan}.fee"],
        "upkeep": ["upkeep"],
        "idle_care": ["ink.idle_care", "ink.idle_every", "ink.price"],
        "expired_ink": ["ink.smallest_order", "ink.shelf_life", "ink.price"],
        "insurance": ["money.insurance", "price"],
        "crew_pay": ["crew.wage", "crew.on_costs"],
        "ageing": ["wear.head_months", "wear.lamp_months"],
        "fixed_costs": ["money.fixed_costs"],
    }
    names = {
        "crew_pay": "those of your crew paid by the month, work or not",
        "ageing": "heads and lamps that age before they wear out",
        "expired_ink": "ink that grows too old before it is used",
    }
    for name, line in told_at(evaluation, k).year.lines._asdict().items():
        if name in RARE and not line:
            continue
        if name != "contributions":
            what = names.get(name, worded(name))
            steps.append(
                sheet_step(evaluation, k, what, line, brief.currency, paths[name])
            )
    return steps


def booked_steps(evaluation, k, is_us=False):
    """Return how the days booked in a month came about, and the days there are."""
    steps = []
    for j, job in enumerate(evaluation.brief.work):
        lived = told_at(evaluation, k, j)
        served = lived.year.served_per_month
        if served > 0:
            days = lived.booked_days
            wanted = of_place(evaluation.told.figures.jobs, k, j).per_month
            how = f"{jobs_in_words(served)} × {figure(days, 'day')}"
            if served < wanted - 1e-9:
                how += f"; {number(wanted, 2)} a month wanted"
            steps.append(Step(f"{job.name}, a month", served * days, "day", how))
        else:
            why = not_served(evaluation, k, j, is_us) or "no days left for it"
            steps.append(Step(f"{job.name}, a month", 0.0, "day", f"not served: {why}"))
    year = told_at(evaluation, k).year
    there_are = figure(year.days_available, "day")
    how = f"of {there_are} there are, after breakdowns"
    return [*steps, Step("booked days a month", year.booked_days, "day", how)]
