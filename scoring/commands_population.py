"""The commands of many buyers: `python -m scoring population …`."""

import os

import click

from scoring.command_faults import faults_to_stderr
from scoring.command_options import (
    format_option,
    machines_option,
    print_csv,
    print_json,
    seed_option,
)


class _OrTemplate(click.Group):
    """A group whose first word is a command's name, or else a template's path."""

    def parse_args(self, ctx, args):
        if args and args[0] not in (*self.commands, *ctx.help_option_names):
            args = ["run", *args]
        return super().parse_args(ctx, args)


@click.group(cls=_OrTemplate)
def population():
    """Work out a template's many buyers: `population TEMPLATE --buyers N --out FOLDER`.

    Then `population show FOLDER` says for whom each machine is best.
    """


@population.command(hidden=True)
@click.argument("template")
@click.option("--buyers", required=True, type=int, help="How many.")
@click.option(
    "--out", required=True, help="The folder to write into, or to go on with."
)
@click.option(
    "--scheduler", help="A Dask scheduler's address, as tcp://127.0.0.1:8786."
)
@click.option(
    "--workers",
    type=click.IntRange(1, 64),
    default=min(64, os.cpu_count() or 1),
    show_default="as many as this computer has cores",
    help="Processes on this computer.",
)
@click.option("--draws", default=200, show_default=True, help="Draws of each buyer.")
@seed_option
@machines_option
@faults_to_stderr
def run(template, buyers, out, scheduler, workers, draws, seed, folder):
    """Work out many buyers of a template into a folder; what is there is kept."""
    from scoring.inputs.machine_folder import folder_beside
    from scoring.population import engine
    from scoring.population.run import populate, task_of

    sheets = folder or folder_beside(template)
    task = task_of(template, sheets, draws, seed)
    engine_of = engine.scheduler(scheduler) if scheduler else engine.processes(workers)
    err = click.get_text_stream("stderr")
    with click.progressbar(length=buyers, label="buyers", file=err) as bar:
        populate(task, buyers, out, engine_of, bar.update)
    click.echo(out)


@population.command()
@click.argument("folder")
@click.option("--machine", help="One whose price is another (--price).")
@click.option("--price", help="Its price, such as '21000 EUR'; nothing is run again.")
@click.option("--across", help="What the map shows from left to right.")
@click.option("--up", help="What the map shows from bottom to top.")
@format_option
@faults_to_stderr
def show(folder, machine, price, across, up, form):
    """Say for whom each machine is best, in a map and a few questions."""
    from scoring.population.buyers import population_in
    from scoring.population.prices import times_of
    from scoring.population.shown import shown
    from scoring.records.population import population_record
    from scoring.text.population import population_rows, population_text

    population = population_in(folder)
    for name in filter(None, (across, up)):
        population.difference(name)
    k, times = times_of(population, machine, price)
    found = shown(population, k, times, across, up)
    if form == "json":
        print_json(population_record(found))
    elif form == "csv":
        print_csv(population_rows(found))
    else:
        click.echo(population_text(found))
