"""Commands for what comes after the ranking: the visit, the bank, buying or waiting."""

import click

from scoring.command_faults import faults_to_stderr
from scoring.command_options import (
    draws_option,
    evaluated,
    machines_option,
    print_json,
    seed_option,
    table_or_json,
)
from scoring.errors import ScoringError


@click.command("find-out")
@click.argument("brief")
@click.option("--out", help="The HTML file to write: the sheet to print.")
@click.option(
    "--minutes",
    type=click.FloatRange(0, 600),
    default=90,
    show_default=True,
    help="Of a visit.",
)
@click.option(
    "--visit-cost",
    type=click.FloatRange(0, 1_000_000),
    default=120,
    show_default=True,
    help="Of going there, in the brief's currency.",
)
@click.option("--draws", default=10_000, show_default=True, help="How many.")
@seed_option
@machines_option
@table_or_json
@faults_to_stderr
def find_out(brief, out, minutes, visit_cost, draws, seed, folder, form):
    """Plan the visits to sellers; with --out write the sheet to print for them."""
    from scoring.answer.evaluation import N_DRAWS
    from scoring.inputs.written import check_writable, write
    from scoring.questions.firmness import check_draws, how_firm
    from scoring.questions.visit import planned_round
    from scoring.records.visit import round_record
    from scoring.report.demo_day import round_html
    from scoring.text.visit import round_text

    check_draws(draws, seed)
    if out:
        check_writable(out, [brief])
    evaluation = evaluated(brief, folder, min(draws, N_DRAWS), seed)
    found = planned_round(evaluation, minutes, visit_cost, seed)
    if out:
        write(out, round_html(how_firm(evaluation, draws, seed), found))
        click.echo(out)
    elif form == "json":
        print_json(round_record(found))
    else:
        click.echo(round_text(found))


@click.command()
@click.argument("brief")
@click.option("--out", required=True, help="The file to write: .html, or .xlsx.")
@click.option("--machine", help="A machine's name; the leader when left out.")
@draws_option
@seed_option
@machines_option
@faults_to_stderr
def report(brief, out, machine, draws, seed, folder):
    """Write the case for the bank: a page and its appendix, or its workbook."""
    from scoring.inputs.written import check_writable, write, write_bytes
    from scoring.questions.bank_case import bank_case
    from scoring.report.bank_case import bank_case_html
    from scoring.report.bank_workbook import bank_workbook

    check_writable(out, [brief])
    case = bank_case(evaluated(brief, folder, draws, seed), machine)
    if out.lower().endswith(".xlsx"):
        write_bytes(out, bank_workbook(case))
    else:
        write(out, bank_case_html(case))
    click.echo(out)


@click.command()
@click.argument("brief")
@click.option("--machine", help="The machine to buy; the leader when left out.")
@draws_option
@seed_option
@machines_option
@table_or_json
@faults_to_stderr
def steps(brief, machine, draws, seed, folder, form):
    """Say whether to buy now or learn first, and from how many paid jobs on to buy."""
    from scoring.questions.other_ways import steps
    from scoring.records.other_ways import steps_record
    from scoring.text.other_ways import steps_text

    found = steps(evaluated(brief, folder, draws, seed), machine)
    if found is None:
        raise ScoringError("no machine is left within the limits; name one (--machine)")
    if form == "json":
        print_json(steps_record(found))
    else:
        click.echo(steps_text(found))
