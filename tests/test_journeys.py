"""Whole verdicts: what one sentence says is what the tables and other commands say.

Each journey is a buyer of the demo, or one of them with a change that a practitioner
knows the consequence of. Figures are read back out of the sentences.
"""

import json
import re
from functools import cache
from shutil import copytree

import pytest
from click.testing import CliRunner

from scoring.commands import main
from scoring.words.figures import GROUP, MINUS, about
from tests.cases import PROFILES

DRAWS = "200"  # each command on the same ones
BRIEFS = ("new-entrant", "workshop", "second-rig")
CHANGES = {
    "as they are": (),
    "half the cash": ((r"cash: (\d+)", lambda n: str(int(n) // 2)),),
    "a price that nobody pays": (
        (r"(?:per_m2|minimum|per_job): (\d+)", lambda n: str(int(n) // 4)),
    ),
}
JOURNEYS = [(name, change) for name in BRIEFS for change in CHANGES]


def changed(name, change):
    """Return the text of a brief of the demo with a change in it."""
    text = (PROFILES / "briefs" / f"{name}.yaml").read_text("utf-8")
    for pattern, to in CHANGES[change]:

        def put(found, to=to):
            return found[0].replace(found[1], to(found[1]))

        text, n = re.subn(pattern, put, text)
        assert n, f"{pattern} is nowhere in {name}"
    return text


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A folder with the changed briefs, and with what the demo's briefs name."""
    return copytree(PROFILES / "briefs", tmp_path_factory.mktemp("all") / "briefs")


@cache
def said(command, file, form):
    arguments = [command, str(file), "--machines", str(PROFILES / "machines")]
    arguments += ["--draws", DRAWS, "--format", form]
    outcome = CliRunner().invoke(main, arguments)
    assert outcome.exit_code == 0, outcome.output
    return json.loads(outcome.output) if form == "json" else outcome.output


def journey(folder, name, change):
    """Return (ranking, money by machine) of a journey as records."""
    file = folder / f"{name}-{'-'.join(change.split())}.yaml"
    file.write_text(changed(name, change), "utf-8")
    money = {m["name"]: m for m in said("money", file, "json")["machines"]}
    return said("rank", file, "json"), money, file


def plain(text):
    return text.replace(GROUP, "").replace(MINUS, "-").replace("\u00a0", " ")


@pytest.mark.parametrize(("name", "change"), JOURNEYS)
def test_the_verdict_is_what_the_tables_say(folder, name, change):
    """Leader, score, worth, what it cannot do, advice: each against its own figure."""
    ranking, money, _ = journey(folder, name, change)
    verdict = plain(ranking["verdict"])
    ranked = [m for m in ranking["machines"] if m["rank_weighted_sum"]]
    if not ranked:
        assert ranking["advice"] == "not_yet" and "No machine is left" in verdict
        return
    leader = ranked[0]
    assert leader["rank_weighted_sum"] == 1
    assert leader["name"] in verdict
    score = re.search(r"([\d.]+) points out of 1|score ([\d.]+)\)", verdict)
    assert float(score[1] or score[2]) == pytest.approx(
        leader["weighted_sum"], abs=6e-3
    )
    own = money[leader["name"]]
    if found := re.search(r"is worth (\d+) EUR over", verdict):
        assert ranking["advice"] == "buy" and own["npv"] > 0
        assert found[1] == plain(about(own["npv"], "EUR")).split()[0]
    if found := re.search(r"the best, loses (\d+) EUR", verdict):
        assert ranking["advice"] == "not_yet" and own["npv"] <= 0
        assert found[1] == plain(about(-own["npv"], "EUR")).split()[0]
    for job in own["jobs"]:
        is_said = f"“{job['job']}”" in verdict.partition("It does not do")[2]
        assert not (is_said and job["served_per_month"] > 0.5), job


@pytest.mark.parametrize(("name", "change"), JOURNEYS)
def test_one_figure_has_one_value(folder, name, change):
    """`rank` and `money` agree on cost and year; present value and payback on sign."""
    ranking, money, _ = journey(folder, name, change)
    compared = 0
    for machine in ranking["machines"]:
        own = money.get(machine["name"])
        if own is None:
            continue
        for criterion, key in (("upfront", "upfront"), ("year_result", "year_result")):
            assert machine["criteria"][criterion]["value"] == pytest.approx(
                own[key], rel=1e-12
            )
        if own["payback_months"] is not None:
            assert own["year_result"] > 0
        compared += 1
    assert compared


@pytest.mark.parametrize("name", BRIEFS)
def test_a_price_that_nobody_pays_is_no_advice_to_buy(folder, name):
    """At a quarter of the price no machine pays: not yet, and the sentence says why."""
    ranking, money, _ = journey(folder, name, "a price that nobody pays")
    assert all(m["npv"] < 0 for m in money.values())
    assert ranking["advice"] == "not_yet"
    assert "Do not buy yet" in ranking["verdict"] or "No machine" in ranking["verdict"]
    assert "is worth" not in ranking["verdict"].partition("points")[0]


@pytest.mark.parametrize("name", BRIEFS)
def test_less_cash_lets_no_further_machine_in(folder, name):
    """Whoever is within the limits on half the cash is so on all of it."""
    whole, _, _ = journey(folder, name, "as they are")
    half, _, _ = journey(folder, name, "half the cash")
    chance = {m["name"]: m["chance_in"] for m in whole["machines"]}
    for machine in half["machines"]:
        assert machine["chance_in"] <= chance[machine["name"]] + 1e-12


def test_keeping_one_rig_is_what_money_says(folder):
    """`fleet` on keeping what there is, and `money` for that rig, tell one year."""
    _, money, file = journey(folder, "second-rig", "as they are")
    choices = said("fleet", file, "json")["choices"]
    (keep,) = (choice for choice in choices if choice["choice"] == "keep what you have")
    (rig,) = keep["rigs"]
    assert keep["year_result"] == pytest.approx(money[rig]["year_result"], rel=1e-9)
