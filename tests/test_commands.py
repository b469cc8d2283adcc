"""The commands: what they print, in which form, and how they end."""

import csv
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner

from scoring.commands import main
from tests.cases import brief, job, machine
from tests.questions.test_years import NOW, PLAIN

NEW_ENTRANT = "profiles/briefs/new-entrant.yaml"
QUICK = "rank", NEW_ENTRANT, "--draws", "40"  # where how it is printed is the question
PARTS = {
    "carry",
    "assembly",
    "prime",
    "measure_mask",
    "surface",
    "print",
    "moves",
    "closing",
}
PARTS |= {"arrival", "pack_down", "surface"}


def run(*arguments):
    """Return the outcome of a command."""
    return CliRunner().invoke(main, list(arguments))


def record(*arguments):
    """Return the JSON that a command prints; NaN and infinities are no JSON."""
    outcome = run(*arguments, "--format", "json")
    assert outcome.exit_code == 0, outcome.output

    def refuse(constant):
        raise AssertionError(f"{constant} in JSON")

    return json.loads(outcome.stdout, parse_constant=refuse)


def rows(*arguments):
    """Return the CSV that a command prints as dicts."""
    outcome = run(*arguments, "--format", "csv")
    assert outcome.exit_code == 0, outcome.output
    return list(csv.DictReader(outcome.stdout.splitlines()))


def written(folder, *records):
    """Write machines and briefs into a folder; return the folder's name."""
    for number, one in enumerate(records):
        (folder / f"{number}.yaml").write_text(one.text, encoding="utf-8")
    return str(folder)


def test_help_imports_nothing_heavy():
    """`--help` answers without the page, the arrays or the checks being loaded."""
    heavy = ("streamlit", "altair", "pandas", "numpy", "scipy", "pydantic", "pint")
    heavy += ("jinja2", "sqlalchemy", "openpyxl")
    code = (
        "import sys; from scoring.commands import main\n"
        "try: main(['--help'])\n"
        f"except SystemExit: print([m for m in {heavy} if m in sys.modules])"
    )
    out = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert out.stdout.strip().endswith("[]")
    assert "rank" in out.stdout


def test_usual_units_start_no_registry():
    """`rank` on the demo, whose sheets are in usual units, never loads pint."""
    code = (
        "import sys; from scoring.commands import main\n"
        f"try: main(['rank', {NEW_ENTRANT!r}, '--draws', '40'])\n"
        "except SystemExit: print('pint' in sys.modules)"
    )
    out = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert out.stdout.strip().endswith("False")


def test_rank_as_json():
    """Each machine has place, score, nearness and every criterion's figure."""
    found = record("rank", NEW_ENTRANT)
    keys = {
        "machines",
        "advice",
        "verdict",
        "kendall_tau",
        "pareto_front",
        "cautions",
        "other_ways",
    }
    assert set(found) == keys
    assert found["advice"] in ("buy", "close", "not_yet")
    ranked = [m for m in found["machines"] if m["status"] != "ruled_out"]
    out = [m for m in found["machines"] if m["status"] == "ruled_out"]
    assert found["machines"] == ranked + out and ranked and out
    for one in ranked:
        parts = one["criteria"].values()
        assert sum(p["weight"] for p in parts) == pytest.approx(1)
        assert sum(p["contribution"] for p in parts) == pytest.approx(
            one["weighted_sum"]
        )
        assert all(
            p["contribution"] == pytest.approx(p["score"] * p["weight"]) for p in parts
        )
        assert bool(one["reasons"]) == (one["status"] == "in_doubt")
        assert 0 <= one["chance_in"] <= 1
    places = [(m["rank_weighted_sum"], m["name"]) for m in ranked]
    assert places == sorted(places)
    for one in out:
        assert one["reasons"]
        assert one["weighted_sum"] is one["topsis"] is one["rank_topsis"] is None
        assert all(p["score"] is None for p in one["criteria"].values())
        assert one["criteria"]["upfront"]["value"] > 0
    assert {m["name"] for m in ranked} >= set(found["pareto_front"])
    assert found["cautions"]


def test_rank_with_other_weights():
    """`--weights` replaces the named ones; with all on one criterion it decides."""
    ids = list(record("rank", NEW_ENTRANT)["machines"][0]["criteria"])
    only = ",".join(f"{name}={int(name == 'support')}" for name in ids)
    machines = record("rank", NEW_ENTRANT, "--weights", only)["machines"]
    days = [m["criteria"]["support"]["value"] for m in machines if not m["reasons"]]
    assert days == sorted(days)


def test_rank_as_csv_is_safe_from_formulas(tmp_path):
    """A machine called =1+1 goes out as text, never as a formula."""
    folder = written(
        tmp_path, machine(("name: Alder", 'name: "=1+1"')), machine(name="B")
    )
    (tmp_path / "briefs").mkdir()
    path = tmp_path / "briefs" / "b.yaml"
    path.write_text(brief().text, encoding="utf-8")
    names = {row["machine"] for row in rows("rank", str(path), "--machines", folder)}
    assert names == {"'=1+1", "B"}


def test_job_parts_sum_to_the_minutes_on_site():
    """The parts of each served job sum to its minutes; a job not served has nulls."""
    for name in ("Thrumble Lite", "Varnholt Column"):
        found = record("job", "profiles/briefs/workshop.yaml", "--machine", name)
        assert found["machine"] == name
        for one in found["jobs"]:
            assert set(one["parts"]) == PARTS
            if one["served"]:
                total = sum(one["parts"].values())
                assert total == pytest.approx(one["on_site_min"])
                assert one["print_min"] == one["parts"]["print"]
                assert one["days"] >= one["booked_days"] > 0
            else:
                assert one["reason"]
                assert one["days"] is one["booked_days"] is one["on_site_min"] is None


def test_job_of_a_case_by_hand(tmp_path):
    """8 m² at 4 m²/h: 120 min of print in a visit of 205, 275 to spare."""
    # Build 20, prime 10, measure 30, print 120, closing 10, pack down 15: 205 of 480.
    folder = written(tmp_path, machine())
    (tmp_path / "b.yml.txt").write_text(brief().text, encoding="utf-8")
    path = str(tmp_path / "b.yml.txt")
    (one,) = record("job", path, "--machine", "Alder", "--machines", folder)["jobs"]
    by_hand = {"area_m2": 8, "print_min": 120, "visit_min": 205, "on_site_min": 205}
    by_hand |= {"days": 1, "booked_days": 1, "spare_min": 275, "pass_mode": 4}
    assert {key: one[key] for key in by_hand} == pytest.approx(by_hand)
    assert one["stands"] == 1 and one["served"] is True and one["reason"] is None


def test_money_of_a_case_by_hand(tmp_path):
    """10 000 paid, 24 000 a year: back in 5 months, 110 000 over five years at 0 %."""
    # 4 jobs a month at 500 without costs, at once and paid at once: 2 000 a month, back
    # in month 5. 60 · 2 000 − 10 000 = 110 000.
    folder = written(tmp_path, machine())
    at_once = brief(more=PLAIN + NOW)
    (tmp_path / "b.yml.txt").write_text(at_once.text, encoding="utf-8")
    found = record("money", str(tmp_path / "b.yml.txt"), "--machines", folder)
    (one,) = found["machines"]
    by_hand = {"upfront": 10000, "year_result": 24000, "payback_months": 5}
    by_hand |= {"npv": 110000, "booked_days": 4, "days_available": 10}
    assert {key: one[key] for key in by_hand} == pytest.approx(by_hand)
    assert one["name"] == "Alder" and one["plan"] == "No plan"
    assert one["jobs"] == [
        {"job": "wall", "served_per_month": 4, "revenue": 500, "contribution": 500}
    ]
    # the rate a month at which 60 months of 2 000 are worth 10 000, twelve times over
    month = (1 + one["irr"]) ** (1 / 12) - 1
    assert 2000 * (1 - (1 + month) ** -60) / month == pytest.approx(10000, rel=1e-6)


def test_money_of_a_machine_that_never_pays_back():
    """Where nothing is left, payback is null in JSON and `never` in words."""
    found = record("money", NEW_ENTRANT, "--machine", "Mossick Works")
    (one,) = found["machines"]
    assert one["year_result"] < 0 and one["payback_months"] is None
    said = run("money", NEW_ENTRANT, "--machine", "Mossick Works").stdout
    assert "never" in said


def test_money_has_the_months_and_simulated_years():
    """Beside each machine stands what its months and its simulated years come to."""
    found = record("money", NEW_ENTRANT, "--machine", "Lindqvar Plain")
    assert set(found) == {"machines", "years"}
    one = found["years"]["Lindqvar Plain"]
    assert one["low_point"] < 0 < one["payback_month"] < 60
    low, middle, high = one["result_p10_p50_p90"]
    assert low < middle < high
    assert 0 <= one["chance_of_shortfall"] <= 1


def test_firm_as_json():
    """Shares by rank, intervals, prices and questions stand in one record."""
    found = record("firm", NEW_ENTRANT, "--draws", "400", "--seed", "5")
    keys = {"draws", "seed", "acceptability", "ruled_out", "confidence", "regret"}
    keys |= {
        "expected_year",
        "first_as_weighed",
        "money_choice",
        "stability",
        "break_even_price",
        "find_out",
        "evpi",
    }
    assert set(found) == keys
    assert (found["draws"], found["seed"]) == (400, 5)
    for name, shares in found["acceptability"].items():
        assert sum(shares) + found["ruled_out"][name] == pytest.approx(1)
    for low, high in found["stability"].values():
        assert 0 <= low <= high <= 1
    assert set(found["find_out"][0]) == {"input", "machine", "evppi", "error"}
    again = record("firm", NEW_ENTRANT, "--draws", "400", "--seed", "5")
    assert again == found


def test_firm_where_every_machine_is_ruled_out(tmp_path):
    """Without a machine within the limits, `firm` still answers, in both forms."""
    folder = written(tmp_path, machine(lift=90), machine(name="Birch", lift=80))
    path = tmp_path / "b.txt"
    path.write_text(brief().text, encoding="utf-8")
    arguments = ["firm", str(path), "--machines", folder, "--draws", "100"]
    found = record(*arguments)
    assert found["money_choice"] == "buy nothing"
    assert found["stability"]["upfront"] == [None, None]
    assert "No machine is left" in run(*arguments).stdout


def test_fleet_as_json():
    """Each choice has its rigs, its money, its places and which rig does what."""
    found = record("fleet", "profiles/briefs/second-rig.yaml")["choices"]
    keys = {"choice", "rigs", "year_result", "added_result", "added_upfront"}
    keys |= {"payback_months", "npv", "assignment", "stand_in_value", "weighted_sum"}
    keys |= {"topsis", "rank_weighted_sum", "rank_topsis"}
    keys |= {"worth_a_year", "worth_p10", "worth_p90", "chance_best"}
    assert all(set(choice) == keys for choice in found)
    assert sum(choice["chance_best"] for choice in found) == pytest.approx(1)
    assert all(c["worth_p10"] < c["worth_a_year"] < c["worth_p90"] for c in found)
    places = [choice["rank_weighted_sum"] for choice in found]
    assert places == sorted(places)
    keep = next(choice for choice in found if choice["choice"].startswith("keep"))
    assert keep["added_result"] == 0 and keep["rigs"] == ["Lindqvar Plain"]
    for choice in found:
        assert choice["added_result"] == pytest.approx(
            choice["year_result"] - keep["year_result"]
        )
    assert len(rows("fleet", "profiles/briefs/second-rig.yaml")) == len(found)


def test_find_out_writes_the_sheet(tmp_path):
    """The demo-day sheet is written where asked, and its path printed."""
    out = tmp_path / "sheet.html"
    outcome = run("find-out", NEW_ENTRANT, "--out", str(out), "--draws", "400")
    assert outcome.exit_code == 0 and str(out) in outcome.stdout
    page = out.read_text(encoding="utf-8")
    assert "Starting out alone in Haverlune" in page
    assert "Go first to Lindqvar Plain." in page


def test_find_out_plans_the_visits():
    """Without a file to write, the plan is printed: tests, minutes, when to stop."""
    outcome = run("find-out", NEW_ENTRANT, "--minutes", "45", "--visit-cost", "100")
    assert outcome.exit_code == 0, outcome.output
    assert "Go first to Lindqvar Plain." in outcome.stdout
    assert "Worths are present values" in outcome.stdout
    assert "Local codes, the maker's manual" in outcome.stdout


def test_steps_say_what_to_do_first():
    """The steps name the machine, the worth of waiting and the other ways."""
    outcome = run("steps", NEW_ENTRANT, "--machine", "Lindqvar Plain")
    assert outcome.exit_code == 0, outcome.output
    assert "Lindqvar Plain" in outcome.stdout
    assert "Being able to wait is worth" in outcome.stdout
    assert "hire an operator: a job" in outcome.stdout


def test_a_round_of_visits_as_json():
    """Going to the sellers in their order leaves what the search promises.

    Weitzman (1979): a box is opened while its reservation value, which falls from one
    to the next, is above what was seen; it is the prize at which opening just pays.
    """
    asked = ["find-out", "profiles/briefs/workshop.yaml", "--minutes", "60"]
    found = record(*asked, "--draws", "400")
    values = [visit["reservation_value"] for visit in found["visits"]]
    going = [visit for visit in found["visits"] if visit["is_worth_going"]]
    assert values == sorted(values, reverse=True)
    assert [visit["reservation_value"] > 0 for visit in going] == [True] * len(going)
    opened = sum(visit["chance_opened"] for visit in found["visits"])
    assert found["visits_expected"] == pytest.approx(opened)
    text = run(*asked, "--draws", "400").stdout
    assert f"Go first to {found['visits'][0]['machine']}." in text
    tests = [test for visit in going for test in visit["tests"]]
    assert tests and all(test["test"] in " ".join(text.split()) for test in tests)
    for visit in found["visits"]:
        ends = [test["until_minute"] for test in visit["tests"]]
        each = [test["minutes"] for test in visit["tests"]]
        assert ends == pytest.approx([sum(each[: n + 1]) for n in range(len(each))])
        assert sum(each) <= 60


def test_steps_as_json():
    """What waiting adds is what is best now, above the better of buying now and not."""
    found = record("steps", NEW_ENTRANT, "--machine", "Lindqvar Plain")
    better = max(found["buy_now"], 0.0)
    assert found["worth"] == pytest.approx(better + found["worth_of_waiting"])
    assert len(found["buy_from"]) == found["months_to_decide"] + 1
    ranked = record("rank", NEW_ENTRANT)["other_ways"]
    assert {way["name"] for way in ranked} >= {"hire an operator", "rent by the day"}
    assert len(found["other_ways"]) == len(ranked)


def test_table_ranks_a_published_decision_matrix(tmp_path):
    """Four cars of a lecture on TOPSIS come out with the closeness printed there."""
    # Source: tests/reference/topsis_lecture_cars_four_options.yaml, which cites it.
    path = "tests/reference/topsis_lecture_cars_four_options.yaml"
    with open(path, encoding="utf-8") as file:
        case = yaml.safe_load(file)
    given = case["inputs"]
    directions = ["max" if sign > 0 else "min" for sign in given["types"]]
    lines = [
        ["", *given["criteria"]],
        ["direction", *directions],
        ["weight", *given["weights"]],
        *(
            [name, *row]
            for name, row in zip(given["alternatives"], given["matrix"], strict=True)
        ),
    ]
    file = tmp_path / "cars.csv"
    with file.open("w", encoding="utf-8", newline="") as out:
        csv.writer(out).writerows(lines)
    found = {m["name"]: m["topsis"] for m in record("table", str(file))["machines"]}
    closeness = case["published"]["values"]["closeness"]
    published = dict(zip(given["alternatives"], closeness, strict=True))
    assert found == pytest.approx(published, abs=1e-6)


FAULTY_TABLES = {
    "a,b\nx,1\n": "t.csv:1: has no alternatives; row 1 the criteria, row 2 "
    "`direction` (max or min), row 3 `weight`, then a row an alternative",
    "a,b\ndirection,up\nweight,-1\nx,1\n": "t.csv:2: b: direction 'up'; max or min\n"
    "t.csv:3: b: weight -1; 0 or more\n"
    "t.csv:3: weight: the weights sum to 0; one above 0",
    "a,b\ndirection,max\nweight,1\nx,nan\nx,1\n": "t.csv:5: x: alternative named "
    "twice\n"
    "t.csv:4: b: 'nan' is not a number; digits with a point",
}


@pytest.mark.parametrize("text", FAULTY_TABLES)
def test_faults_of_a_table(text, tmp_path, monkeypatch):
    """Every fault of a decision matrix is said at once, on standard error, exit 2."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "t.csv").write_text(text, encoding="utf-8")
    outcome = run("table", "t.csv")
    assert outcome.exit_code == 2
    assert outcome.stderr.strip() == FAULTY_TABLES[text]
    assert outcome.stdout == ""


def test_check_tells_every_fault_of_every_file(tmp_path):
    """One run of `check` names the faults of sheets and briefs alike, exit 2."""
    sheet = machine().text.replace("lift: 20 kg", "lift: 20")
    (tmp_path / "m.yaml").write_text(sheet, encoding="utf-8")
    wanted = brief().text.replace("passes: 4", "passes: four")
    (tmp_path / "b.yaml").write_text(wanted, encoding="utf-8")
    outcome = run("check", str(tmp_path))
    assert outcome.exit_code == 2 and outcome.stdout == ""
    said = outcome.stderr.splitlines()
    assert [line.split(": ")[1] for line in said] == ["work.0.passes", "heaviest_lift"]


def test_check_of_the_demo_finds_nothing():
    """The demo has no fault, and `check` says so for each file."""
    outcome = run("check", "profiles")
    assert outcome.exit_code == 0
    assert (
        len(outcome.stdout.splitlines()) == 19
    )  # 8 sheets, 3 and 7 briefs, a template
    assert all(line.endswith(": no fault") for line in outcome.stdout.splitlines())


SENTENCES = {
    ("rank", "nowhere.yaml"): "nowhere.yaml:1: there is no such file; a YAML file",
    ("rank", NEW_ENTRANT, "--machines", "nowhere"): "nowhere: there is no such folder",
    ("rank", NEW_ENTRANT, "--weights", "odour"): "--weights: 'odour' is not a weight; "
    "id=number, such as odour=0.2",
    ("check", "nowhere"): "nowhere: there is no such file or folder",
}


@pytest.mark.parametrize("arguments", SENTENCES)
def test_what_cannot_be_done_is_a_sentence(arguments):
    """A wrong path or option ends with exit 2 and one sentence on standard error."""
    outcome = run(*arguments)
    assert (outcome.exit_code, outcome.stderr.strip()) == (2, SENTENCES[arguments])


def test_a_kind_of_job_is_shown_with_its_working():
    """The text of `job` gives each part with its minutes and what it rests on."""
    said = run(
        "job", "profiles/briefs/second-rig.yaml", "--machine", "Lindqvar Plain"
    ).stdout
    # 3 walls of 6 × 2.2 m at 4.2 m²/h; rails of 3 m stand twice along each
    assert "print: 566 min – 39.6 m² at 4.2 m²/h in 4-pass [measured]" in said
    assert "3 × shift along" in said


def test_names_of_jobs_and_machines_are_data(tmp_path):
    """Names that look like markup come out as they are, in every form."""
    for name in ("<script>", "**bold**", "{x}", "%s", "N" * 300):
        odd = machine(("name: Alder", f"name: {json.dumps(name)}"))
        folder = written(tmp_path, odd)
        path = tmp_path / "b.txt"
        path.write_text(brief(job(name=json.dumps(name))).text, encoding="utf-8")
        for command in (["rank"], ["money"], ["job", "--machine", name]):
            outcome = run(*command, str(path), "--machines", folder, "--draws", "40")
            assert outcome.exit_code == 0, outcome.output
            assert name in outcome.stdout.replace("\n", "")


def test_sheets_are_sought_beside_the_brief(tmp_path, monkeypatch):
    """Without --machines, the sheets beside the brief are taken, wherever one is."""
    (tmp_path / "briefs").mkdir()
    brief = shutil.copy(NEW_ENTRANT, tmp_path / "briefs")
    shutil.copytree("profiles/machines", tmp_path / "machines")
    (tmp_path / "machines" / "ossery-twin.yaml").unlink()
    monkeypatch.chdir(tmp_path)
    names = [machine["name"] for machine in record("rank", str(brief))["machines"]]
    assert len(names) == 7 and "Ossery Twin" not in names


def test_a_brief_without_sheets_near_it_gets_a_sentence(tmp_path):
    """Where no folder `machines` is near, the sentence says where it was looked for."""
    brief = shutil.copy(NEW_ENTRANT, tmp_path)
    outcome = run("rank", str(brief))
    assert outcome.exit_code == 2
    assert "no folder of machine sheets near it" in outcome.stderr
    assert outcome.stderr.strip().endswith("name one with --machines")


def test_weights_on_the_command_line_are_read_strictly():
    """A weight named twice, without a figure, or with an underscore is a sentence."""
    for text in ("odour=1,odour=2", "odour=1_0", ",,,", "odour=", "odour=nan"):
        found = run("rank", NEW_ENTRANT, "--weights", text)
        assert found.exit_code == 2
        assert found.stderr.startswith("--weights: ")


def test_a_sheet_is_never_written_over_what_was_read(tmp_path):
    """The brief, a folder and `-` are refused before anything is drawn."""
    own = tmp_path / "brief.yaml"
    own.write_text(Path(NEW_ENTRANT).read_text("utf-8"), "utf-8")
    before = own.read_bytes()
    for out in (str(own), str(tmp_path), "-"):
        more = ["--machines", "profiles/machines", "--out", out]
        found = run("find-out", str(own), *more)
        assert found.exit_code == 2 and len(found.stderr) < 300
    assert own.read_bytes() == before


@pytest.mark.parametrize("encoding", ["cp1252", "latin-1", "cp850"])
def test_redirected_output_holds_every_name(encoding):
    """A console of few characters does not break what is written to a file."""
    found = subprocess.run(
        [sys.executable, "-m", "scoring", *QUICK, "--format", "csv"],
        env={**os.environ, "PYTHONIOENCODING": encoding},
        capture_output=True,
    )
    assert found.returncode == 0
    assert "Thrumble Lite" in found.stdout.decode("utf-8")


def test_a_full_disk_is_a_sentence():
    """Where the output cannot be written, that is said, without a traceback."""
    with open("/dev/full", "w") as full:
        found = subprocess.run(
            [sys.executable, "-m", "scoring", *QUICK],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
        )
    assert found.returncode == 2
    assert found.stderr == "output: cannot be written: No space left on device\n"


def test_a_closed_output_is_said():
    """Whose output was closed before it began gets a sentence too."""
    command = f'"{sys.executable}" -m scoring rank {NEW_ENTRANT} --format csv >&-'
    found = subprocess.run(command, shell=True, capture_output=True, text=True)
    assert found.returncode == 2
    assert found.stderr == "output: is closed; a terminal, a file or a pipe\n"


def test_expected_figures_are_the_same_everywhere():
    """`rank`, `money` and `firm` tell one year at the same draws, to the last digit."""
    of = NEW_ENTRANT, "--draws", "200"
    ranked = {m["name"]: m for m in record("rank", *of)["machines"]}
    paid = {m["name"]: m for m in record("money", *of)["machines"]}
    firm = record("firm", *of)["expected_year"]
    for name, one in ranked.items():
        year = one["criteria"]["year_result"]["value"]
        assert year == paid[name]["year_result"] == firm[name]


def test_a_table_of_the_largest_figures_there_are(tmp_path):
    """±1.7e308 is ranked without a warning, on the scale between the two."""
    file = tmp_path / "large.csv"
    rows = ["machine,a,b", "direction,max,min", "weight,1,1"]
    rows += ["One,1.7e308,1", "Two,-1.7e308,2", "Mid,0,1.5"]
    file.write_text("\n".join(rows), "utf-8")
    found = {
        m["name"]: m["weighted_sum"] for m in record("table", str(file))["machines"]
    }
    assert found == {"One": 1.0, "Mid": 0.5, "Two": 0.0}
