"""The command line: `python -m scoring …`."""

import re
import sys

import click

from scoring.command_faults import faults_to_stderr
from scoring.command_options import (
    draws_option,
    evaluated,
    format_option,
    machines_option,
    print_csv,
    print_json,
    seed_option,
)
from scoring.commands_log import freeze, lived, log
from scoring.commands_next import find_out, report, steps
from scoring.commands_population import population
from scoring.commands_workshop import workshop
from scoring.errors import ScoringError, shown


@click.group()
def main():
    """Which wall-mural printing machine suits this buyer's work, crew and money."""
    for stream in (sys.stdout, sys.stderr):  # a file takes any name of a machine
        if hasattr(stream, "reconfigure") and not stream.isatty():
            stream.reconfigure(encoding="utf-8")


for command in (find_out, report, steps, log, freeze, lived, population, workshop):
    main.add_command(command)


@main.command()
@click.argument("paths", nargs=-1, required=True)
@faults_to_stderr
def check(paths):
    """Check machine sheets and briefs: files, or folders of them."""
    from scoring.decision.criteria import known_ids
    from scoring.inputs.together import check_paths

    found = check_paths(paths, known_ids())
    for record in sum(found, ()):
        click.echo(f"{record.source}: no fault")


@main.command()
@click.argument("brief")
@click.option(
    "--weights",
    default="",
    metavar="ID=W,…",
    help="Shares of 1 in place of the brief's; all are then brought to sum 1.",
)
@click.option(
    "--explain-weights",
    "explain",
    is_flag=True,
    help="Say what one step of each thing that matters is worth in money a year.",
)
@draws_option
@seed_option
@machines_option
@format_option
@faults_to_stderr
def rank(brief, weights, explain, draws, seed, folder, form):
    """Rank the machines for a brief, with reasons."""
    from scoring.records.plain import json_ready
    from scoring.records.ranking import ranking_record, weights_record
    from scoring.text import ranking

    evaluation = evaluated(brief, folder, draws, seed, _weights(weights))
    if form == "json":
        more = {"weights_in_money": weights_record(evaluation)} if explain else {}
        print_json(json_ready(ranking_record(evaluation)) | more)
    elif form == "csv":
        print_csv(ranking.ranking_rows(ranking_record(evaluation)))
    else:
        click.echo(ranking.ranking_text(evaluation, explain))


@main.command()
@click.argument("brief")
@click.option("--machine", required=True, help="A machine's name.")
@draws_option
@seed_option
@machines_option
@format_option
@faults_to_stderr
def job(brief, machine, draws, seed, folder, form):
    """Show minutes and days of each job type with one machine, part by part."""
    from scoring.records.job import job_record
    from scoring.records.plain import json_ready
    from scoring.text import job

    evaluation = evaluated(brief, folder, draws, seed)
    if form == "json":
        print_json(json_ready(job_record(evaluation, machine)))
    elif form == "csv":
        print_csv(job.job_rows(job_record(evaluation, machine)))
    else:
        click.echo(job.job_text(evaluation, machine))


@main.command()
@click.argument("brief")
@click.option("--machine", help="A machine's name; all when left out.")
@click.option(
    "--years",
    "n_years",
    type=click.IntRange(100, 1_000_000),
    default=2_000,
    show_default=True,
    help="Years to simulate.",
)
@click.option(
    "--return-a-year",
    "has_return",
    is_flag=True,
    help="With the rate of return, which says nothing of how much is earned.",
)
@draws_option
@seed_option
@machines_option
@format_option
@faults_to_stderr
def money(brief, machine, n_years, has_return, draws, seed, folder, form):
    """Show upfront cost, contributions, year, payback and net present value.

    As text and JSON with cash by the month and simulated years; CSV holds the average
    year alone.
    """
    from scoring.questions.from_jobs import jobs_needed, plan_break_evens
    from scoring.questions.years import years
    from scoring.records.money import money_records, years_records
    from scoring.records.plain import json_ready
    from scoring.text import money

    evaluation = evaluated(brief, folder, draws, seed)
    names = [evaluation.names[k] for k in evaluation.order]
    names = names if machine is None else [machine]
    even = {n: plan_break_evens(evaluation, evaluation.index(n)) for n in names}
    records = money_records(evaluation, even, names)
    if form == "csv":
        print_csv(money.money_rows(records))
        return
    simulated = _simulated(evaluation, n_years)
    months = years_records(years(evaluation), simulated, jobs_needed(evaluation))
    months = {name: months[name] for name in names}
    if form == "json":
        said = {"machines": [json_ready(record) for record in records]}
        print_json(said | {"years": json_ready(months)})
    else:
        click.echo(money.money_text(evaluation, records, months, has_return))


@main.command()
@click.argument("brief")
@click.option("--draws", default=10_000, show_default=True, help="How many.")
@seed_option
@click.option(
    "--known",
    type=click.Choice(["stated", "order", "nothing"]),
    default="stated",
    show_default=True,
    help="What is known of the weights.",
)
@machines_option
@format_option
@faults_to_stderr
def firm(brief, draws, seed, known, folder, form):
    """Show how firm the answer is, what would turn it, and what to find out first."""
    from scoring.answer.evaluation import N_DRAWS
    from scoring.questions.best_price import best_buy_prices
    from scoring.questions.find_out import questions
    from scoring.questions.firmness import check_draws, how_firm
    from scoring.questions.weight_ranges import stability_of
    from scoring.records.firmness import firm_record
    from scoring.records.plain import json_ready
    from scoring.text import firmness

    check_draws(draws, seed)
    evaluation = evaluated(brief, folder, min(draws, N_DRAWS), seed)
    found = how_firm(evaluation, draws, seed, known)
    asked = questions(found)
    prices, ranges = best_buy_prices(evaluation), stability_of(evaluation)
    record = firm_record(found, asked, prices, ranges)
    if form == "json":
        print_json(json_ready(record))
    elif form == "csv":
        print_csv(firmness.firm_rows(record))
    else:
        click.echo(firmness.firm_text(found, asked, record))


@main.command()
@click.argument("brief")
@draws_option
@seed_option
@machines_option
@format_option
@faults_to_stderr
def fleet(brief, draws, seed, folder, form):
    """Rank the choices of an operator: keep, add or replace a rig."""
    from scoring.questions.fleet.choices import choices
    from scoring.questions.fleet.ranges import ranges
    from scoring.records.fleet import fleet_record
    from scoring.records.plain import json_ready
    from scoring.text import fleet

    found = choices(evaluated(brief, folder, draws, seed))
    spread = ranges(found)
    if form == "json":
        print_json(json_ready(fleet_record(found, spread)))
    elif form == "csv":
        print_csv(fleet.fleet_rows(fleet_record(found, spread)))
    else:
        click.echo(fleet.fleet_text(found, spread))


@main.command()
@click.argument("file")
@format_option
@faults_to_stderr
def table(file, form):
    """Rank any decision matrix in a CSV file.

    First column the alternatives, then a column a criterion; row 2 `direction` (max or
    min), row 3 `weight`.
    """
    from scoring.inputs.decision_table import load_table
    from scoring.records.decision_table import table_record
    from scoring.records.plain import json_ready
    from scoring.text import decision_table, ranking

    record = table_record(load_table(file))
    if form == "json":
        print_json(json_ready(record))
    elif form == "csv":
        print_csv(ranking.ranking_rows(record))
    else:
        click.echo(decision_table.table_text(record))


def _simulated(evaluation, n_years):
    """Return the Chances of so many years; a bar shows how far, if anybody looks."""
    from scoring.questions.years import chances

    if not sys.stderr.isatty():
        return chances(evaluation, n_years)
    parts = 1_000
    with click.progressbar(
        length=parts, label="simulated years", file=sys.stderr
    ) as bar:
        return chances(
            evaluation,
            n_years,
            on_progress=lambda share: bar.update(round(share * parts) - bar.pos),
        )


def _weights(text):
    """Return {id: weight} of `id=w,…`."""
    weights = {}
    for pair in text.split(",") if text else ():
        name, _, figure = (part.strip() for part in pair.partition("="))
        if not re.fullmatch(r"\d{1,9}(\.\d{1,9})?", figure):
            raise ScoringError(
                f"--weights: {shown(pair)} is not a weight; id=number, such as "
                "odour=0.2"
            )
        if name in weights:
            raise ScoringError(f"--weights: {shown(name)} is named twice; once each")
        weights[name] = float(figure)
    return weights
