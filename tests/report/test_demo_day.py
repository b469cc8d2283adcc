"""The demo-day sheet: what it holds, in which order, and that names stay text."""

import re
from functools import cache
from html import unescape
from html.parser import HTMLParser

import pytest
from click.testing import CliRunner

from scoring import evaluate
from scoring.commands import main
from scoring.evidence.draws import is_uncertain
from scoring.inputs.visit import BY_PATH, INTENSITIES
from scoring.questions import find_out
from scoring.questions.find_out import settled_by
from scoring.questions.firmness import how_firm
from scoring.questions.visit import planned_round, planned_visit
from scoring.report import demo_day
from scoring.words.cautions import CAUTIONS, DECIDES
from scoring.words.figures import about
from scoring.words.visit import plan_in_words
from tests import cases
from tests.cases import brief, job, machine

BRIEFS = ("new-entrant", "workshop", "second-rig")
HOSTILE = (
    "<script>alert(1)</script>",
    "**bold**",
    "{{ sheet }} {% if %} {x}",
    "N" * 300,
)
DRAWS = 500


@cache
def of_demo(name, n_draws=DRAWS):
    """Return the Firmness of a brief of the demo; a second to draw, so only once."""
    return how_firm(cases.demo(name), n_draws)


@cache
def asked_of(name, n_draws=DRAWS):
    """Return the questions of that Firmness."""
    return find_out.questions(of_demo(name, n_draws))


@cache
def page_of(name, n_draws=DRAWS):
    """Return the sheet of that Firmness."""
    return demo_day.demo_day_html(of_demo(name, n_draws))


@pytest.fixture(scope="module")
def firm():
    """The new entrant's Firmness, on few draws."""
    return of_demo("new-entrant")


@pytest.fixture(scope="module")
def asked():
    """The new entrant's questions."""
    return asked_of("new-entrant")


@pytest.fixture(scope="module")
def page():
    """The new entrant's sheet."""
    return page_of("new-entrant")


def text_of(page):
    """Return what a page says, tags left out."""
    return unescape(re.sub(r"<[^>]*>", " ", page.partition("<body>")[2]))


def titles(page):
    """Return the tests' headings in order, without numbers."""
    return [unescape(t) for t in re.findall(r"<h3>\d+\. (.*?) <i>", page)]


def test_every_test_of_a_visit_is_there(page):
    """All that a visit should try is on the sheet, in so many words."""
    said = text_of(page)
    for words in (
        "same image, size and pass mode",
        "Three builds, timed by one person",
        "heaviest piece",
        "VDI 3882",
        "at once, after an hour, after a day",
        "your own vehicle",
        "uneven floor",
        "painted, textured, dark and white",
        "Scratch and tape rub, after a day",
        "Power off in mid-print, and resume",
        "Three idle days, then a nozzle check",
        "to the floor, into a corner",
        "second wall",
        "Ring two owners",
        "in writing",
        *INTENSITIES,
    ):
        assert words in said, words
    assert len(titles(page)) == len(demo_day.TESTS)


def test_quick_tests_come_first_then_the_worthwhile(asked):
    """Free and fast before the rest; within each, the first question leads."""
    order = demo_day.ordered(asked, demo_day.TESTS)
    assert [t.is_quick for t, _ in order] == sorted(
        (t.is_quick for t, _ in order), reverse=True
    )
    for is_quick in (True, False):
        best = [
            asked.index(found[0]) if found else len(asked)
            for test, found in order
            if test.is_quick == is_quick
        ]
        assert best == sorted(best)


def test_the_page_keeps_that_order(asked, page):
    """The headings stand in the order of the tests."""
    order = demo_day.ordered(asked, demo_day.TESTS)
    assert titles(page) == [test.title for test, _ in order]


def test_the_sheet_follows_the_plan():
    """The tests of the plan come first, in its order, below what the plan says."""
    firm = of_demo("workshop")
    visit = planned_visit(firm.evaluation, "Corrandale Frame", n=1_000)
    page = demo_day.visit_html(firm, visit)
    assert len(visit.titles) >= 2
    assert titles(page)[: len(visit.titles)] == list(visit.titles)
    assert len(titles(page)) == len(demo_day.TESTS)
    said = " ".join(text_of(page).split())
    for line in plan_in_words(visit):
        assert " ".join(line.split()) in said
    assert said.index("In the order of the plan") < said.index("Free and fast")


def test_worth_in_money_is_told_where_it_is_clear():
    """A question that is worth money has its sum beside the test that settles it."""
    firm = of_demo("workshop", 4000)
    found = [
        (demo_day.settled_in(question.path), question)
        for question in asked_of("workshop", 4000)
        if question.owner != "brief" and question.sure_value > 0
    ]
    assert found, "the case must have a question that is worth money"
    said = text_of(page_of("workshop", 4000))
    place, best = found[0]
    assert (
        f"Worth {about(best.value, firm.evaluation.brief.currency + '/year')}" in said
    )


@pytest.mark.parametrize("name", BRIEFS)
def test_what_turns_the_lead_is_told(name):
    """Each place on the sheet whose figures turn the lead says between whom."""
    page, asked = page_of(name), asked_of(name)
    places = demo_day.ordered(asked, (*demo_day.TESTS, *demo_day.LETTER))
    turning = [p for p, found in places if any(q.turns_to for q in found)]
    own = [q for q in asked if q.owner == "brief"][: demo_day.FIRST]
    n = len(turning) + sum(bool(q.turns_to) for q in own)
    assert text_of(page).count("Could turn the lead between") == n


@pytest.mark.parametrize("name", BRIEFS)
def test_every_uncertain_figure_of_a_machine_is_settled_somewhere(name):
    """A test or a question in writing settles each, in the way the advice names."""
    firm = of_demo(name)
    owners = next(t for t in demo_day.TESTS if t.title == "Ring two owners")
    for (owner, path), evidence in firm.evaluation.evidence.items():
        if owner == "brief" or not is_uncertain(evidence):
            continue
        place = demo_day.settled_in(path)
        where = settled_by(owner, path)[1]
        assert place is not None, path
        assert (place in demo_day.LETTER) == (where == "letter"), path
        assert (place == owners) == (where == "owners"), path


@pytest.mark.parametrize("path", BY_PATH)
def test_what_can_be_typed_in_has_a_test(path):
    """Each figure of the form on the phone has a test on paper."""
    assert demo_day.settled_in(path) in demo_day.TESTS


def test_every_caution_stands_at_a_test_it_belongs_to(asked, page):
    """The first test that can hurt in some way says how; later ones point to it."""
    sections = re.findall(r'<section class="test">.*?</section>', page, re.DOTALL)
    order = demo_day.ordered(asked, demo_day.TESTS)
    told = {}
    for n, ((test, _), section) in enumerate(zip(order, sections, strict=True), 1):
        said = text_of(f"<body>{section}")
        for name in test.cautions:
            if name in told:
                assert f"{demo_day.NAMED[name]} at test {told[name]}" in said
            else:
                assert CAUTIONS[name] in said
                told[name] = n
    assert set(told) == set(CAUTIONS) - {"money", "artwork"}
    assert CAUTIONS["money"] in text_of(page)
    assert DECIDES in text_of(page)
    assert not re.search(r"\bsafe\b", text_of(page))


def test_three_runs_have_three_boxes(page):
    """What is timed has a box for each of three runs."""
    row = re.search(r"<tr><th>build</th>(.*?)</tr>", page)[1]
    assert row == "<td></td>" * 3


def test_machines_are_listed_only_where_something_is_open(firm, asked, page):
    """A machine has a list if a question of it is open and it may be chosen."""
    listed = re.findall(r'<section class="machine"><h3>(.*?)</h3>', page)
    evaluation = firm.evaluation
    assert listed
    for k, name in enumerate(evaluation.names):
        is_asked = any(q.owner == name for q in asked)
        if not is_asked or firm.ruled_out[k] == 1:
            assert name not in listed
    assert "Mossick Works" not in listed  # it breaks a limit of this brief in each draw


class Parts(HTMLParser):
    """Notes the tags and attributes of a page."""

    def __init__(self):
        super().__init__()
        self.tags, self.attributes = set(), set()

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}


def parts(page):
    found = Parts()
    found.feed(page)
    return found


@pytest.mark.parametrize("name", HOSTILE)
def test_names_stay_text(name):
    """Whatever machine, plan, piece, brief and job are called, nothing is run."""
    first = machine(
        ("name: No plan, fee: 0 EUR/year", f"name: '{name}', fee: 100 EUR/year"),
        ("{name: all,", f"{{name: '{name}',"),
        name=f"'{name}'",
        price="9000..10000..30000",
    )
    second = machine(name="Birch", price=11000)
    own = brief(
        job(name=f"'{name}'", per_month="2..4..6"),
        edits=[("title: An invented studio", f"title: '{name}'")],
    )
    page = demo_day.demo_day_html(how_firm(evaluate(own, [first, second]), DRAWS))
    found = parts(page)
    assert "script" not in found.tags
    assert not found.attributes & {"src", "href", "onclick", "onerror", "action"}
    assert text_of(page).count(name[:59]) >= 2  # in the title, and as a machine


def test_nothing_is_loaded_from_outside(page):
    """The page holds all that it needs, and forbids the rest."""
    found = parts(page)
    assert found.tags.isdisjoint({"script", "link", "img", "iframe", "object"})
    assert "default-src 'none'" in page
    assert "url(" not in page and "@import" not in page


def test_the_command_writes_the_sheet(tmp_path):
    """`find-out` writes the page of the same draws and seed, and prints its path."""
    out = tmp_path / "sheet.html"
    given = ["find-out", "profiles/briefs/new-entrant.yaml", "--out", str(out)]
    result = CliRunner().invoke(main, [*given, "--draws", str(DRAWS)])
    assert (result.exit_code, result.stdout) == (0, f"{out}\n")
    found = planned_round(cases.demo("new-entrant"), 90, 120)
    expected = demo_day.round_html(of_demo("new-entrant"), found)
    assert out.read_text(encoding="utf-8") == expected


def test_the_command_tells_faults_in_sentences(tmp_path):
    """A folder that is not there, and draws that are too few, exit with 2."""
    given = ["find-out", "profiles/briefs/new-entrant.yaml", "--draws", "40"]
    out = tmp_path / "none" / "sheet.html"
    result = CliRunner().invoke(main, [*given, "--out", str(out)])
    assert result.exit_code == 2
    assert "cannot be written there; another folder" in result.stderr
    given[-1] = "0"
    result = CliRunner().invoke(main, [*given, "--out", str(tmp_path / "a.html")])
    assert (result.exit_code, result.stdout) == (2, "")
    assert "draws: 0 is out of range; 40 to 10000000" in result.stderr
