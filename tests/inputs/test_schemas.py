"""The JSON Schemas beside the profiles: current, valid, agreeing with the reader."""

import json
from pathlib import Path

import jsonschema
import pytest

from scoring.inputs.schemas import FILES, schema_text
from scoring.inputs.yaml_lines import read_yaml
from tests.inputs.sheets import BRIEF, SHEET, changed
from tests.population.small import template_text

PROFILES = Path(__file__).parents[2] / "profiles"
KINDS = {"machine": SHEET, "brief": BRIEF, "population": template_text()}


def complaints(kind, text):
    """Return what the schema of this kind says about a YAML text."""
    schema = json.loads((PROFILES / f"{kind}.schema.json").read_text("utf-8"))
    document, _ = read_yaml(text.encode(), "a.yaml")
    return list(jsonschema.Draft202012Validator(schema).iter_errors(document.data))


@pytest.mark.parametrize("name", FILES)
def test_the_schema_beside_the_profiles_is_current(name):
    """What lies in the folder is what the models give now."""
    stored = (PROFILES / name).read_text("utf-8")
    assert stored == schema_text(FILES[name]), (
        "stale: run `python -m scoring.inputs.schemas profiles`"
    )
    jsonschema.Draft202012Validator.check_schema(json.loads(stored))


@pytest.mark.parametrize("kind", KINDS)
def test_profiles_of_the_demo_pass_their_schema(kind):
    """An editor that checks by the schema has nothing to say about the demo."""
    files = sorted((PROFILES / f"{kind}s").glob("*.yaml"))
    assert files
    for file in files:
        text = file.read_text("utf-8")
        assert text.startswith(
            f"# yaml-language-server: $schema=../{kind}.schema.json\n"
        )
        assert complaints(kind, text) == [], file


FAULTS = [
    ("machine", "heaviest_lift", "heviest_lift"),
    ("machine", "speed:\n  4: 3 m²/h", "speed: [4]"),
    ("machine", "10000 EUR", "[1]"),
    ("machine", "name: Alder", "name: 12"),
    ("brief", "passes: 4", "passes: 4.5"),
    ("brief", "work:", "weights: {swing: {odour: 1}, order: [odour]}\nwork:"),
    ("brief", "work:", "work_order: worst\nwork:"),
]


@pytest.mark.parametrize(("kind", "old", "new"), FAULTS)
def test_the_schema_finds_faults_of_form(kind, old, new):
    """Unknown keys, wrong types and wrong words are marked in the editor too."""
    assert complaints(kind, KINDS[kind]) == []
    assert complaints(kind, changed(KINDS[kind], old, new))


def test_all_ways_to_state_weights_pass():
    """Plain numbers and each of the four other ways are allowed."""
    for weights in (
        "{odour: 2, upfront: 1}",
        "{swing: {odour: 100}}",
        "{order: [odour, [upfront, support]]}",
        "{pairwise: {criteria: [odour, upfront], judgements: [[1, 2], [0.5, 1]]}}",
        "{priced: {odour: 500 EUR/year}}",
    ):
        text = changed(BRIEF, "work:", f"weights: {weights}\nwork:")
        assert complaints("brief", text) == [], weights
