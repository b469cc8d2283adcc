"""Records and sentences laid out as plain text or as rows for a spreadsheet."""

from textwrap import fill, indent

from scoring import tables
from scoring.questions.fleet.break_even import break_even
from scoring.questions.fleet.choices import KEEP
from scoring.questions.years import SAID, years
from scoring.words.cautions import CAUTIONS, DECIDES
from scoring.words.figures import figure, joined, number
from scoring.words.firmness import (
    first_questions,
    how_surely,
    kept_out_by,
    money_differs,
    when_to_stop,
)
from scoring.words.fleet import (
    break_evens_in_words,
    not_chosen,
    payback_in_words,
    which_choice,
)
from scoring.words.money import does_it_pay, how_paid, low_point
from scoring.words.ruled_out import reasons
from scoring.words.verdict import disagreement, double_counting, who_leads
from scoring.workings import job_steps, unit_of

WIDTH = 88
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def formula_safe(cell):
    """Return a cell that a spreadsheet shows as text, never runs as a formula.

    Examples
    --------
    >>> formula_safe("=1+1"), formula_safe(-2.5), formula_safe(None)
    ("'=1+1", -2.5, '')
    """
    if cell is None:
        return ""
    if isinstance(cell, str) and cell.startswith(FORMULA_STARTS):
        return f"'{cell}"
    return cell


def columns(rows, align=""):
    """Return rows of text in aligned columns; `align` has < or > a column."""
    cells = [[str(cell) for cell in row] for row in rows]
    widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
    align = align.ljust(len(widths), ">")
    return "\n".join(
        "  ".join(
            f"{cell:{side}{width}}"
            for cell, side, width in zip(row, align, widths, strict=True)
        ).rstrip()
        for row in cells
    )


def ranking_text(evaluation):
    """Return the ranking as text: verdict, places, raw figures, ruled out, cautions."""
    ranked = [k for k in evaluation.order if evaluation.is_ranked[k]]
    out = [k for k in evaluation.order if not evaluation.is_ranked[k]]
    parts = [evaluation.brief.title, fill(who_leads(evaluation), WIDTH)]
    if ranked:
        parts += [_places(evaluation, ranked), _figures(evaluation, ranked)]
    parts.append(fill(disagreement(evaluation), WIDTH))
    parts.append(fill(double_counting(evaluation), WIDTH))
    if out:
        lines = [_ruled_out(evaluation, k) for k in out]
        parts.append("\n".join(["Ruled out by your limits:", *lines]))
    parts.append(_cautions(tables.RANK_CAUTIONS))
    return "\n\n".join(filter(None, parts))


def _places(evaluation, ranked):
    head = ["place", "machine", "score", "nearness to best", "place by nearness", ""]
    rows = [
        [
            evaluation.rank_weighted_sum[k],
            evaluation.names[k],
            f"{evaluation.weighted_sum[k]:.3f}",
            f"{evaluation.topsis[k]:.3f}",
            evaluation.rank_topsis[k],
            "" if evaluation.is_on_pareto_front[k] else "outdone",
        ]
        for k in ranked
    ]
    return columns([head, *rows], "><>>><")


def _figures(evaluation, ranked):
    head = ["what matters", "weight", *(evaluation.names[k] for k in ranked)]
    rows = [
        [
            criterion.label,
            figure(evaluation.weights[c], "share"),
            *(figure(evaluation.raw[k, c], unit_of(evaluation, c)) for k in ranked),
        ]
        for c, criterion in enumerate(evaluation.criteria)
    ]
    return columns([head, *rows], "<>")


def _ruled_out(evaluation, k):
    text = f"{evaluation.names[k]}: {' '.join(reasons(evaluation, k))}"
    return indent(fill(text, WIDTH - 2), "  ")


def _cautions(places):
    """Return cautions, and who decides."""
    said = [CAUTIONS[place] for place in places]
    return "\n".join(fill(text, WIDTH) for text in [*said, DECIDES])


def ranking_rows(record):
    """Return the ranking as rows for a spreadsheet, safe from formulas."""
    machines = record["machines"]
    ids = list(machines[0]["criteria"])
    units = {name: machines[0]["criteria"][name]["unit"] for name in ids}
    head = ["place", "place by nearness", "machine", "status", "score", "nearness"]
    head += [f"{name} ({units[name]})" if units[name] else name for name in ids]
    rows = [
        [
            machine["rank_weighted_sum"],
            machine["rank_topsis"],
            machine["name"],
            machine["status"].replace("_", " "),
            machine["weighted_sum"],
            machine["topsis"],
            *(machine["criteria"][name]["value"] for name in ids),
            " ".join(machine["reasons"]),
        ]
        for machine in machines
    ]
    return _safe([[*head, "reasons"], *rows])


def _safe(rows):
    return [[formula_safe(cell) for cell in row] for row in rows]


def table_text(record):
    """Return the ranking of a decision matrix as text."""
    head = [
        "place",
        "alternative",
        "score",
        "nearness to best",
        "place by nearness",
        "",
    ]
    rows = [
        [
            machine["rank_weighted_sum"],
            machine["name"],
            f"{machine['weighted_sum']:.3f}",
            f"{machine['topsis']:.3f}",
            machine["rank_topsis"],
            "" if machine["name"] in record["pareto_front"] else "outdone",
        ]
        for machine in record["machines"]
    ]
    return columns([head, *rows], "><>>><")


def job_text(evaluation, name):
    """Return the working of every job type with one machine."""
    k = evaluation.index(name)
    blocks = [f"{name} – {evaluation.brief.title}"]
    for j, job in enumerate(evaluation.brief.work):
        steps = [f"  {step.text()}" for step in job_steps(evaluation, k, j)]
        blocks.append("\n".join([job.name, *steps]))
    blocks.append(_cautions(("lifting", "printing")))
    return "\n\n".join(blocks)


def job_rows(record):
    """Return the jobs of one machine as rows for a spreadsheet."""
    jobs = record["jobs"]
    keys = [key for key in jobs[0] if key != "parts"]
    parts = list(jobs[0]["parts"])
    head = ["machine", *keys, *(f"{part}_min" for part in parts)]
    rows = [
        [record["machine"], *(job[key] for key in keys), *job["parts"].values()]
        for job in jobs
    ]
    return _safe([head, *rows])


def money_text(evaluation, record, months):
    """Return upfront cost, year, payback and present value of the machines as text.

    `record` and `months` are those of `tables.money_record` and `tables.years_record`.
    """
    currency = evaluation.brief.currency
    head = ["machine", "plan", "to your door", "left in a year", "earned back in"]
    head += ["present value", "return", "booked of days a month"]
    rows = [
        [
            machine["name"],
            machine["plan"],
            figure(machine["upfront"], currency),
            figure(machine["year_result"], currency),
            _payback(machine["payback_months"]),
            figure(machine["npv"], currency),
            figure(machine["irr"], "share"),
            f"{number(machine['booked_days'], 1)} of "
            f"{number(machine['days_available'], 1)}",
        ]
        for machine in record["machines"]
    ]
    blocks = [evaluation.brief.title, columns([head, *rows], "<<")]
    blocks += [_months(months, currency), _year_spread(months, currency)]
    found = years(evaluation)
    for machine in record["machines"]:
        k = evaluation.index(machine["name"])
        said = [does_it_pay(found, k), *how_paid(found, k)]
        said.append(low_point(found, k))
        blocks.append("\n".join(fill(text, WIDTH) for text in said))
        blocks += [_one_machine(machine, currency), _jobs_left(machine, currency)]
    return "\n\n".join([*blocks, _cautions(("money",))])


def _months(months, currency):
    """Return what the months of the machines come to."""
    head = ["by the month", "deepest in the red", "in month", "short of cash by"]
    head += [
        "back in month",
        "with interest",
        "return a year",
        "jobs a month that cover a year",
    ]
    head += ["jobs a month that earn it back"]
    head += ["an average job costs", "a m² costs", "a day worked leaves"]
    rows = [
        [
            name,
            figure(-one["low_point"], currency),
            one["low_month"],
            figure(one["funds_gap"], currency) if one["funds_gap"] > 0 else "–",
            *(
                "never" if one[key] is None else number(one[key])
                for key in ("payback_month", "discounted_payback_month")
            ),
            _rate(one),
            _carried(one["jobs_to_cover_a_year"]),
            _carried(one["break_even_jobs"]),
            figure(one["cost_per_job"], currency),
            figure(one["cost_per_m2"], f"{currency}/m²"),
            figure(one["cash_per_day"], currency),
        ]
        for name, one in months.items()
    ]
    return columns([head, *rows], "<")


def _rate(one):
    return figure(one["irr"], "share") if one["irr_kind"] == "one" else one["irr_kind"]


def _carried(n_jobs):
    return "none do" if n_jobs is None else number(n_jobs, 1)


def _year_spread(months, currency):
    """Return good and bad years of the machines."""
    head = ["simulated years", "low", "middle", "high", "too little"]
    head += ["jobs turned away", "idle days", "weeks a client waits"]
    rows = [
        [
            name,
            *(figure(x, currency) for x in one["result_p10_p50_p90"]),
            figure(one["chance_of_shortfall"], "share"),
            number(one["turned_away"], 1),
            number(one["days_idle"]),
            number(one["backlog_weeks_p10_p50_p90"][1], 1),
        ]
        for name, one in months.items()
    ]
    return f"{columns([head, *rows], '<')}\n{SAID}"


def _one_machine(machine, currency):
    """Return the lines to the door of one machine, and what its plans would leave."""
    door = joined(
        f"{name.replace('_', ' ')} {figure(line, currency)}"
        for name, line in machine["to_the_door"].items()
        if line
    )
    plans = joined(
        f"{plan['plan']} {figure(plan['year'], currency)}" for plan in machine["plans"]
    )
    said = [f"{machine['name']}, to your door: {door}.", f"A year by plan: {plans}."]
    for one in machine["dearer_plan_pays_from"]:
        dear, cheap, n_jobs = one["plan"], one["against"], one["jobs_per_month"]
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
            job["job"],
            f"{number(job['served_per_month'], 2)} a month",
            figure(job["revenue"], currency),
            figure(job["contribution"], currency),
        ]
        for job in machine["jobs"]
    ]
    head = [machine["name"], "served", "client pays", "left after job costs"]
    return columns([head, *rows], "<")


def _payback(months):
    return "never" if months is None else figure(months, "months")


def money_rows(record):
    """Return the money of the machines as rows for a spreadsheet."""
    nested = ("jobs", "to_the_door", "plans", "dearer_plan_pays_from")
    keys = [key for key in record["machines"][0] if key not in nested]
    head = [*keys, "job", "served_per_month", "revenue", "contribution"]
    rows = [
        [*(machine[key] for key in keys), *job.values()]
        for machine in record["machines"]
        for job in machine["jobs"]
    ]
    return _safe([head, *rows])


def firm_text(firm, questions):
    """Return how firm the answer is as text."""
    evaluation = firm.evaluation
    currency = f"{evaluation.brief.currency}/year"
    record = tables.firm_record(firm, questions)
    first = [who_leads(evaluation), how_surely(firm)]
    parts = [evaluation.brief.title, *(fill(text, WIDTH) for text in first)]
    parts.append(_acceptability(record))
    kept_out = (fill(text, WIDTH, subsequent_indent="  ") for text in kept_out_by(firm))
    parts.append("\n".join(kept_out))
    parts.append(_stability(evaluation, record))
    parts.append(_prices(record, evaluation.brief.currency))
    parts.append(fill(money_differs(firm), WIDTH))
    parts.append(_money_of(firm, currency))
    asked = [
        fill(f"{n}. {text}", WIDTH, subsequent_indent="   ")
        for n, text in enumerate(first_questions(firm, questions), 1)
    ]
    parts.append("\n".join(["What to find out first:", *asked]))
    parts.append(fill(when_to_stop(firm), WIDTH))
    parts.append(
        f"{number(firm.n_draws)} draws, seed {firm.seed}; the same seed gives the same."
    )
    return "\n\n".join(filter(None, [*parts, _cautions(("money",))]))


def _acceptability(record):
    n = len(record["acceptability"])
    head = ["how often", *(f"no. {place}" for place in range(1, n + 1)), "ruled out"]
    rows = [
        [name, *(figure(share, "share") for share in shares), figure(out, "share")]
        for (name, shares), out in zip(
            record["acceptability"].items(), record["ruled_out"].values(), strict=True
        )
    ]
    rows.sort(key=lambda row: -record["acceptability"][row[0]][0])
    return columns([head, *rows], "<")


def _stability(evaluation, record):
    head = ["the leader stays first while the weight of", "is from", "to", "now"]
    rows = [
        [criterion.label, figure(low, "share"), figure(high, "share"), now]
        for criterion, (low, high), now in zip(
            evaluation.criteria,
            record["stability"].values(),
            (figure(weight, "share") for weight in evaluation.weights),
            strict=True,
        )
        if low is not None
    ]
    return columns([head, *rows], "<") if rows else ""


def _prices(record, currency):
    head = ["the best buy up to a price of", ""]
    rows = [
        [name, "no such price" if price is None else figure(price, currency)]
        for name, price in record["break_even_price"].items()
    ]
    return columns([head, *rows], "<")


def _money_of(firm, currency):
    names = firm.evaluation.names
    head = ["in money", "net benefit", "what choosing it wrongly costs"]
    rows = [
        [names[k], figure(firm.benefit[k], currency), figure(firm.regret[k], currency)]
        for k in sorted(firm.alternatives, key=lambda k: -firm.benefit[k])
    ]
    rows.append(
        ["buy nothing", figure(0, currency), figure(firm.regret_of_nothing, currency)]
    )
    return columns([head, *rows], "<")


def firm_rows(record):
    """Return the places' shares and what goes with them as rows for a spreadsheet."""
    n = len(record["acceptability"])
    head = ["machine", *(f"no. {place}" for place in range(1, n + 1))]
    head += ["ruled out", "confidence", "regret", "best buy up to"]
    rows = [
        [
            name,
            *shares,
            record["ruled_out"][name],
            record["confidence"][name],
            record["regret"][name],
            record["break_even_price"][name],
        ]
        for name, shares in record["acceptability"].items()
    ]
    return _safe([head, *rows])


def fleet_text(found):
    """Return the choices of rigs as text: places, money, which rig does which work."""
    evaluation = found.evaluation
    currency = evaluation.brief.currency
    head = ["place", "choice", "score", "nearness", "year", "more than now", "to pay"]
    head += ["earned back", "present value"]
    rows, plans = [], []
    for c in found.order:
        choice = found.choices[c]
        is_change = choice.name != KEEP
        rows.append(
            [
                found.rank_weighted_sum[c],
                choice.name,
                f"{found.weighted_sum[c]:.3f}",
                f"{found.topsis[c]:.3f}",
                figure(choice.year_result, currency),
                figure(choice.added_result, currency),
                figure(choice.added_upfront, currency),
                payback_in_words(choice.payback_months, found) if is_change else "–",
                figure(choice.npv, currency) if is_change else "–",
            ]
        )
        plans.append(_assignment(choice))
    parts = [evaluation.brief.title, fill(which_choice(found), WIDTH)]
    parts += [columns([head, *rows], "><"), "\n".join(plans)]
    parts.append(_break_evens(found))
    parts += [fill(text, WIDTH) for text in not_chosen(found)]
    return "\n\n".join(filter(None, [*parts, _cautions(("money", "lifting"))]))


def _break_evens(found):
    """Return when the first choice pays, a line each; "" where nothing changes."""
    best = found.choices[found.order[0]]
    if not best.deed.new:
        return ""
    even = break_even(found, best)
    said = [
        fill(f"{what}: {sentence}", WIDTH, subsequent_indent="  ")
        for what, sentence in break_evens_in_words(found, best, even)
    ]
    return "\n".join([f"What breaks even when, to {best.name}:", *said])


def _assignment(choice):
    """Return which rig does how many jobs a month, in a line or two."""
    said = [
        f"{job}: "
        + joined(f"{rig} {number(n_jobs, 1)}" for rig, n_jobs in rigs.items())
        for job, rigs in choice.assignment.items()
        if rigs
    ]
    n_crews = choice.plan.n_crews
    crews = "one crew" if n_crews == 1 else f"{n_crews} crews"
    text = f"{choice.name} ({crews}), jobs a month: {'; '.join(said) or 'none'}"
    return fill(text, WIDTH, subsequent_indent="  ")


def fleet_rows(record):
    """Return the choices as rows for a spreadsheet."""
    keys = [key for key in record["choices"][0] if key not in ("rigs", "assignment")]
    rows = [
        [*(choice[key] for key in keys), " + ".join(choice["rigs"])]
        for choice in record["choices"]
    ]
    return _safe([[*keys, "rigs"], *rows])
