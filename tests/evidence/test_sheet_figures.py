"""A figure of the machine sheet has its place everywhere, or a test names the gap."""

import typing
from pathlib import Path

import pytest
from pydantic import BaseModel

from scoring import evaluate, load_brief
from scoring.evidence.sheet_figures import (
    FIELDS,
    HIGH,
    KEYS,
    LOW,
    is_high_better,
    settle_of,
)
from scoring.inputs.machine import Machine
from scoring.inputs.machine_folder import read_machine
from scoring.model.figures import MachineFigures
from scoring.report.demo_day import settled_in
from scoring.words.keys import in_words
from scoring.words.workings.criteria import working
from scoring.words.workings.job import job_steps
from scoring.words.workings.job_money import job_money_steps
from tests.cases import demo, demo_machines

PATHS = [field.path for field in FIELDS]
# What the model is given that is no single figure of the sheet: plans, features, lists.
DERIVED = {
    *("terms", "plan_fee", "pass_modes", "speed_m2_per_h", "skips_blank"),
    *("prints_white", "piece_kg", "piece_rolls", "aid_bought"),
    *("crew_level", "crew_stairs", "hires_first", "may_hire"),
    *("prints_surface", "prints_curved"),
    *("surface_min_per_m2", "drying_min", "surface_cost_per_m2"),
}


def record_at(path):
    """Return whether a dotted key can be written in a machine sheet."""
    model = Machine
    for part in path.split("."):
        if part not in model.model_fields:
            return False
        model = model_in(model.model_fields[part].annotation)
    return True


def model_in(annotation):
    """Return the record that a field's type holds, itself where it holds none."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    inner = [model_in(part) for part in typing.get_args(annotation)]
    return next((m for m in inner if isinstance(m, type) and m is not None), annotation)


def test_every_key_of_a_sheet_has_a_row():
    """Each key that a sheet may have, but its name, is shown in exactly one group."""
    assert sorted(key.name for key in KEYS) == sorted(
        set(Machine.model_fields) - {"name"}
    )


def test_every_array_of_the_model_has_a_row():
    """Each figure that the model is given comes from one row, or is a derived one."""
    names = [field.name for field in FIELDS]
    assert sorted([*names, *DERIVED]) == sorted(MachineFigures._fields)


@pytest.mark.parametrize("path", PATHS)
def test_a_figure_has_its_place(path):
    """It can be written, has a better end, words, something that settles it, a test."""
    field = next(field for field in FIELDS if field.path == path)
    assert record_at(path), "inputs/machine.py has no such key"
    assert field.better in (HIGH, LOW)
    assert settle_of(path) is not None, "nothing in KEYS settles it"
    assert settled_in(path) is not None, "no test or question of the sheet settles it"
    machine = demo_machines()[0]
    assert "_" not in in_words(machine, path), "words/keys.py has no words for it"


# Figures that no step of a working names, and where they are seen instead.
ELSEWHERE = {
    "max_print_height": "why a job is not served",
    "lowest_print_height": "why a job is not served",
    "side_clearance": "why a job is not served",
    "head_gap": "why a job is not served",
    "resale": "present value and cash by the month",
}


def test_a_figure_is_seen_in_a_working():
    """Each figure of the demo is a key of some step, or stands in the list above."""
    machines = [*demo_machines(), with_carriage()]
    seen = set()
    for brief in ("new-entrant", "workshop", "second-rig"):
        evaluation = evaluate(load_brief(f"profiles/briefs/{brief}.yaml"), machines)
        for step in steps_of(evaluation):
            seen.update(step.keys)
    assert sorted(set(PATHS) - seen) == sorted(ELSEWHERE)


def with_carriage():
    """Return a demo sheet of another name, with the motion of its carriage told."""
    text = Path("profiles/machines/thrumble-lite.yaml").read_text(encoding="utf-8")
    text = text.replace("name: Thrumble Lite", "name: Thrumble Swept")
    text += "carriage: {strip_width: 50 mm, head_speed: 0.3 m/s, turnaround: 2 s}\n"
    return read_machine(("swept.yaml", text.encode()))


def steps_of(evaluation):
    """Yield every step of every working."""
    for k, name in enumerate(evaluation.names):
        for criterion in evaluation.criteria:
            yield from working(evaluation, name, criterion.id)
        for j, _ in enumerate(evaluation.brief.work):
            yield from job_steps(evaluation, k, j)
            yield from job_money_steps(evaluation, k, j)


def test_the_lines_of_a_jobs_money_sum_to_what_is_left():
    """What the client pays less each cost is what the year counts for the job."""
    evaluation = demo("workshop")
    for k, _ in enumerate(evaluation.names):
        for j, _ in enumerate(evaluation.brief.work):
            steps = job_money_steps(evaluation, k, j)
            if not steps:
                assert not evaluation.told.outcome.can_do[0, k, j]
                continue
            end = [step.what for step in steps].index("left after job costs")
            lines, left = steps[:end], steps[end]
            assert sum(step.value for step in lines) == pytest.approx(left.value)
            assert left.value == evaluation.told.outcome.contribution[0, k, j]


# Common practice, no source: what an owner would rather have more of.
RATHER_MORE = (
    *("resale", "speed.4", "ratings.print_quality", "wear.head_life", "wear.lamp_life"),
    *(
        "max_print_height",
        "head_gap",
        "rail_length",
        "ink.idle_every",
        "ink.shelf_life",
    ),
    *("reliability.jobs_between_stoppages", "carriage.head_speed"),
)
RATHER_LESS = (
    *("price", "assembly_time", "heaviest_lift", "odour.printing", "ink.colour"),
    *("upkeep", "spoilt_share", "lowest_print_height", "side_clearance", "noise"),
    *("reliability.days_down", "support.response", "landed_cost.duty"),
)


def test_the_better_end_is_the_one_an_owner_would_choose():
    """More of what lasts, reaches and sells; less of what costs, weighs and smells."""
    assert all(is_high_better(path) for path in RATHER_MORE)
    assert not any(is_high_better(path) for path in RATHER_LESS)
