"""What several commands take, and the Evaluation that they make of it."""

import csv
import json
import os
import sys

import click

from scoring.errors import InputFaults

FORMATS = click.Choice(["table", "json", "csv"])
format_option = click.option(
    "--format", "form", type=FORMATS, default="table", show_default=True
)
table_or_json = click.option(
    "--format",
    "form",
    type=click.Choice(["table", "json"]),
    default="table",
    show_default=True,
)
machines_option = click.option(
    "--machines",
    "folder",
    help="Folder of machine sheets; else `machines` beside the brief or its folder.",
)


draws_option = click.option(
    "--draws",
    default=1_000,
    show_default=True,
    help="Draws whose mean is what to expect.",
)
seed_option = click.option(
    "--seed", default=1, show_default=True, help="Same seed, same answer."
)


def evaluated(brief, folder, draws, seed, weights=None):
    """Return the Evaluation, or raise every fault of the brief and of the sheets."""
    from scoring import evaluate
    from scoring.inputs.brief_files import is_case, load_brief
    from scoring.inputs.machine_folder import folder_beside, load_machines

    faults, loaded = [], []
    if folder is None and (os.path.isfile(brief) or is_case(brief)):
        folder = folder_beside(brief)
    for load, source in ((load_brief, brief), (load_machines, folder)):
        if source is None:
            continue  # the brief that is none is the fault to tell
        try:
            loaded.append(load(source))
        except InputFaults as found:
            faults += found.faults
    if faults:
        raise InputFaults(faults)
    return evaluate(*loaded, weights, n_draws=draws, seed=seed)


def print_json(record):
    """Print a JSON-ready record."""
    click.echo(json.dumps(record, ensure_ascii=False, indent=2, allow_nan=False))


def print_csv(rows):
    """Print rows that no spreadsheet runs."""
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerows(rows)
