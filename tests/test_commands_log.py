"""The commands for jobs done: what they print and write, and how they end."""

import json
from pathlib import Path

from click.testing import CliRunner

from scoring.commands import main
from scoring.inputs.brief_files import load_brief
from scoring.inputs.claims import load_claims
from scoring.inputs.job_log import load_job_log
from scoring.inputs.machine_folder import load_machines

LOG = "profiles/logs/corrandale-frame.csv"
NAME = "Corrandale Frame"
BRIEF = "profiles/briefs/new-entrant.yaml"


def run(*arguments):
    return CliRunner().invoke(main, [str(argument) for argument in arguments])


def test_a_log_says_what_it_would_change_and_changes_nothing():
    """Without --out the fields are told, and nothing is written."""
    before = Path(BRIEF).read_text("utf-8")
    outcome = run("log", LOG, "--machine", NAME, "--brief", BRIEF)
    assert outcome.exit_code == 0, outcome.output
    assert "20 min, quoted" in outcome.output
    assert "Nothing is changed yet" in outcome.output
    assert Path(BRIEF).read_text("utf-8") == before


def test_taking_over_makes_a_case_that_ranks(tmp_path):
    """The folder written holds brief and sheets that every other command reads."""
    outcome = run("log", LOG, "--machine", NAME, "--brief", BRIEF, "--out", tmp_path)
    assert outcome.exit_code == 0, outcome.output
    brief = load_brief(tmp_path / "briefs" / "new-entrant.yaml")
    assert brief.trust.learnt["time"].seen == 3
    sheets = load_machines(tmp_path / "machines")
    frame = next(sheet for sheet in sheets if sheet.name == NAME)
    assert frame.assembly_time.basis == "measured"
    ranked = run("rank", tmp_path / "briefs" / "new-entrant.yaml", "--draws", 40)
    assert ranked.exit_code == 0, ranked.output


def test_a_log_as_json_has_figures_and_changes():
    """The record holds units of the files and plain numbers."""
    outcome = run("log", LOG, "--machine", NAME, "--brief", BRIEF, "--format", "json")
    found = json.loads(outcome.output)
    minutes = [row.build for row in load_job_log(LOG).rows if row.is_won]
    told = found["figures"]["assembly_time"]
    assert told["n"] == len(minutes)
    assert abs(told["mean"] - sum(minutes) / len(minutes)) < 1e-9
    assert {change["file"] for change in found["changes"]} == {"sheet", "brief"}


def test_pooled_logs_make_a_file_that_the_next_log_starts_from(tmp_path):
    """What a trainer pooled is read again by --priors."""
    out = tmp_path / "priors.yaml"
    outcome = run(
        *("log", "--pool", LOG, "--machine", NAME, "--brief", BRIEF, "--out", out)
    )
    assert outcome.exit_code == 0, outcome.output
    assert load_claims(out).time.seen == 3
    again = run("log", LOG, "--machine", NAME, "--priors", out)
    assert "6 figures" in again.output


def test_the_template_is_printed_for_the_kinds_of_a_brief():
    """It begins with the columns; each kind of job has its row."""
    lines = run("log", "--template", "--brief", BRIEF).output.splitlines()
    assert lines[0].startswith("day,kind,")
    assert [line.split(",")[1] for line in lines[1:3]] == [
        "child's bedroom",
        "waiting room",
    ]


def test_what_cannot_be_done_is_a_sentence(tmp_path):
    """No machine, one that nobody knows, faults of log and brief together: exit 2."""
    nobody = run("log", LOG, "--machine", "Corrandale")
    assert nobody.exit_code == 2
    assert "did you mean 'Corrandale Frame'?" in nobody.output
    assert run("log", LOG).output.startswith("--machine: which machine")
    bad = tmp_path / "log.csv"
    bad.write_text("day,kind\n2026-02-30,hall\n", "utf-8")
    wrong = tmp_path / "brief.yaml"
    wrong.write_text("title: x\n", "utf-8")
    sheets = "profiles/machines"
    both = run(*("log", bad, "--machine", NAME, "--brief", wrong, "--machines", sheets))
    assert both.exit_code == 2
    assert "log.csv:2: day: '2026-02-30' is no day" in both.output
    assert "brief.yaml:1: currency" in both.output


def test_a_prediction_is_frozen_once_and_held_against_a_log(tmp_path):
    """What was frozen stays; later the log says what came within its range."""
    frozen = tmp_path / "frame.yaml"
    asked = ("freeze", BRIEF, "--machine", NAME, "--out", frozen)
    outcome = run(*asked)
    assert outcome.exit_code == 0, outcome.output
    again = run(*asked)
    assert again.exit_code == 2 and "stays as it is" in again.output
    chart = tmp_path / "lived.svg"
    told = run("lived", frozen, LOG, "--chart", chart)
    assert told.exit_code == 0, told.output
    assert "16 jobs since" in told.output and "within their range" in told.output
    assert chart.read_text("utf-8").startswith("<svg")


def test_a_folder_of_predictions_makes_a_report_card(tmp_path):
    """Each prediction goes with the log of its name; one left alone is told of."""
    for n in range(2):
        run("freeze", BRIEF, "--machine", NAME, "--out", tmp_path / f"{n}.yaml")
        text = Path(LOG).read_text("utf-8")
        (tmp_path / f"{n}.csv").write_text(text, "utf-8")
    card = run("lived", tmp_path)
    assert card.exit_code == 0, card.output
    assert card.output.startswith("2 predictions, 30 figures")
    (tmp_path / "1.csv").unlink()
    alone = run("lived", tmp_path)
    assert alone.exit_code == 2
    assert "1.yaml: no log beside it; 1.csv or .xlsx" in alone.output


def test_what_was_lived_as_json(tmp_path):
    """The card's share is that of the figures listed, and each has its place."""
    run("freeze", BRIEF, "--machine", NAME, "--out", tmp_path / "a.yaml")
    outcome = run("lived", tmp_path / "a.yaml", LOG, "--format", "json")
    found = json.loads(outcome.output)
    figures = found["predictions"][0]["figures"]
    share = sum(one["is_inside"] for one in figures) / len(figures)
    assert abs(found["card"]["share_inside"] - share) < 1e-12
    assert all(0 <= one["place"] <= 1 for one in figures)
    assert {"part", "ratio", "is_found"} <= set(found["card"]["biases"][0])
