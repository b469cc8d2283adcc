"""The money of machines as text and as rows."""

from dataclasses import astuple, fields
from textwrap import fill

from scoring.questions.years import SAID, years
from scoring.text.layout import WIDTH, cautions_text, columns, safe_rows
from scoring.words.figures import about, figure, joined, number
from scoring.words.money import does_it_pay, how_paid, low_point


def money_text(evaluation, records, months, has_return=False):
    """Return upfront cost, year, payback and present value of the machines as text.

    `records` and `months` are those of `money_records` and `years_records`. The rate
    of return only where asked: it says nothing of how much is earned.
    """
    currency = evaluation.brief.currency
    head = ["machine", "plan", "to your door", "left in a year", "earned back in"]
    head += ["present value", "booked of days a month"]
    rows = [
        [
            machine.name,
            machine.plan,
            about(machine.upfront, currency),
            about(machine.year_result, currency),
            _payback(machine.payback_months),
            about(machine.npv, currency),
            f"{number(machine.booked_days, 1)} of {number(machine.days_available, 1)}",
        ]
        for machine in records
    ]
    blocks = [evaluation.brief.title, columns([head, *rows], "<<")]
    blocks.append(_months(months, currency, has_return))
    blocks.append(_year_spread(months, currency))
    found = years(evaluation)
    for machine in records:
        k = evaluation.index(machine.name)
        said = [does_it_pay(found, k), *how_paid(found, k)]
        said.append(low_point(found, k))
        blocks.append("\n".join(fill(text, WIDTH) for text in said))
        blocks += [_one_machine(machine, currency), _jobs_left(machine, currency)]
    return "\n\n".join([*blocks, cautions_text(("money",))])


def _months(months, currency, has_return):
    """Return what the months of the machines come to."""
    head = ["by the month", "deepest in the red", "in month", "short of cash by"]
    head += ["back in month", "with interest"]
    head += ["return a year"] if has_return else []
    head += ["jobs a month that cover a year", "jobs a month that earn it back"]
    head += ["an average job costs", "a m² costs", "a day worked leaves"]
    rows = [
        [
            name,
            about(-one.low_point, currency),
            one.low_month,
            about(one.funds_gap, currency) if one.funds_gap > 0 else "–",
            *(
                "never" if month is None else number(month)
                for month in (one.payback_month, one.discounted_payback_month)
            ),
            *([_rate(one)] if has_return else []),
            _carried(one.jobs_to_cover_a_year),
            _carried(one.break_even_jobs),
            about(one.cost_per_job, currency),
            about(one.cost_per_m2, f"{currency}/m²"),
            about(one.cash_per_day, currency),
        ]
        for name, one in months.items()
    ]
    return columns([head, *rows], "<")


def _rate(one):
    return figure(one.irr, "share") if one.irr_kind == "one" else one.irr_kind


def _carried(n_jobs):
    return "none do" if n_jobs is None else number(n_jobs, 1)


def _year_spread(months, currency):
    """Return good and bad years of the machines."""
    head = ["simulated years", "low", "middle", "high"]
    head += ["too little by luck", "by figures", "by both"]
    head += ["jobs turned away", "idle days", "weeks a client waits"]
    rows = [
        [
            name,
            *(about(x, currency) for x in one.result_p10_p50_p90),
            figure(one.chance_of_shortfall_by_luck, "share"),
            figure(one.chance_of_shortfall_by_figures, "share"),
            figure(one.chance_of_shortfall, "share"),
            number(one.turned_away, 1),
            number(one.days_idle),
            number(one.backlog_weeks_p10_p50_p90[1], 1),
        ]
        for name, one in months.items()
    ]
    return f"{columns([head, *rows], '<')}\n{SAID}"


def _one_machine(machine, currency):
    """Return the lines to the door of one machine, and what its plans would leave."""
    door = joined(
        f"{name.replace('_', ' ')} {figure(line, currency)}"
        for name, line in machine.to_the_door.items()
        if line
    )
    plans = joined(
        f"{plan.plan} {about(plan.year, currency)}" for plan in machine.plans
    )
    said = [f"{machine.name}, to your door: {door}.", f"A year by plan: {plans}."]
    for one in machine.dearer_plan_pays_from:
        dear, cheap, n_jobs = one.plan, one.against, one.jobs_per_month
        if n_jobs is None:
            said.append(f"{dear} never pays against {cheap}.")
        else:
            jobs = number(n_jobs, 1)
            said.append(f"{dear} pays against {cheap} from {jobs} jobs a month.")
    return fill(" ".join(said), WIDTH)


def _jobs_left(machine, currency):
    """Return what one job of each kind leaves with a machine."""
    rows = [
        [
            job.job,
            f"{number(job.served_per_month, 2)} a month",
            about(job.revenue, currency),
            about(job.contribution, currency),
        ]
        for job in machine.jobs
    ]
    head = [machine.name, "served", "client pays", "left after job costs"]
    return columns([head, *rows], "<")


def _payback(months):
    return "never" if months is None else figure(months, "months")


def money_rows(records):
    """Return the money of the machines as rows for a spreadsheet."""
    nested = ("jobs", "to_the_door", "plans", "dearer_plan_pays_from")
    every = [field.name for field in fields(records[0])]
    keys = [key for key in every if key not in nested]
    head = [*keys, "job", "served_per_month", "revenue", "contribution"]
    rows = [
        [*(getattr(machine, key) for key in keys), *astuple(job)]
        for machine in records
        for job in machine.jobs
    ]
    return safe_rows([head, *rows])
