"""Seven answers make a brief, a leaflet a sheet, a table of leads the kinds of job."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring import evaluate
from scoring.errors import ScoringError
from scoring.inputs.brief_files import load_brief
from scoring.inputs.case.leaflet import LEAFLET, sheet_of
from scoring.inputs.case.new_leads import (
    rows_of,
    table_of,
    with_leads_file,
    without_leads,
)
from scoring.inputs.case.record import Case, read, with_brief, with_new_sheet
from scoring.inputs.case.scenarios import changes_between, keep_scenario, scenarios_in
from scoring.inputs.case.starter import (
    Answers,
    KindOfJob,
    assumptions,
    brief_of,
    per_month_of,
    starter,
    typical,
)
from scoring.inputs.machine_folder import read_machine
from tests.inputs.sheets import BRIEF, SHEET

HALL = KindOfJob("hall", "6", "2,5", "70", sold=3)


def brief(*jobs, **more):
    """Return the Brief of some answers."""
    text = brief_of(Answers(jobs or (HALL,), cash="20000", **more))
    return load_brief(("brief.yaml", text.encode()))


@pytest.mark.parametrize("kind", starter()["kinds"])
@pytest.mark.parametrize("currency, per_euro", [("EUR", ""), ("JPY", "160")])
def test_each_common_kind_makes_a_brief_that_is_marked(kind, currency, per_euro):
    """Typical sizes are read, in any currency, and each figure says it is assumed."""
    found = brief(
        typical(kind, float(per_euro or 1))._replace(asked=2),
        currency=currency,
        per_euro=per_euro,
    )
    (job,) = found.work
    assert job.width.note == job.price.per_m2.note == "assumed"
    assert job.price.per_m2.currency == found.money.fixed_costs.currency == currency
    assert found.money.own_hour.note == "assumed"


def test_what_is_told_is_not_assumed():
    """Typed answers have no such note; help costs what an hour of one's own does."""
    found = brief(people=2, lift="20,5", own_hour="25", credit="5 000")
    assert found.money.own_hour.text == "25 EUR/h" and not found.money.own_hour.note
    assert found.crew.lift_limit.likely == 20.5
    assert found.crew.wage.likely == 25 and found.crew.wage.note == "assumed"
    assert found.money.loan.likely == 5000
    text = brief_of(Answers((HALL,), cash="1", own_hour="25"))
    assert "money.own_hour" not in assumptions(text)
    assert "travel.speed" in assumptions(text)


def test_silence_does_not_flatter():
    """No cash, no worth of an hour in a foreign currency, no count: each is asked."""
    with pytest.raises(ScoringError, match="cash: is missing"):
        brief_of(Answers((HALL,)))
    with pytest.raises(ScoringError, match="how many; sold"):
        brief_of(Answers((HALL._replace(sold=0),), cash="1"))
    with pytest.raises(ScoringError, match="one euro in JPY: is missing"):
        brief_of(Answers((HALL,), cash="1", currency="JPY"))
    with pytest.raises(ScoringError, match="jobs: none is named"):
        brief_of(Answers((), cash="1"))


def test_every_wrong_answer_is_told_at_once():
    """Two faults, two lines, each with what it is about."""
    jobs = (HALL._replace(width="wide"), HALL._replace(name="b", price="dear"))
    with pytest.raises(ScoringError) as error:
        brief_of(Answers(jobs, cash="1"))
    lines = str(error.value).splitlines()
    assert [line.partition(":")[0] for line in lines] == ["hall, width", "b, price"]


@given(st.integers(0, 99), st.integers(0, 99), st.integers(0, 99))
def test_jobs_a_month_rise_with_each_count(sold, asked, hoped):
    """What is sold comes surely; nothing makes more than all that was counted."""
    job = KindOfJob("hall", "", "", "", sold, asked, hoped)
    ends = [float(end) for end in per_month_of(job).split("..")]
    assert ends == sorted(ends)
    months = starter()["months"]
    assert ends[0] >= round(sold / months, 2) * 0.99
    assert ends[-1] <= (sold + asked + hoped) / months * 1.01


def test_a_leaflet_that_tells_nothing_is_a_sheet_of_unknowns():
    """A name alone: all else unknown, nothing 0, and it can be ranked."""
    sheet = sheet_of({"name": "Alder"}, "EUR")
    machine = read_machine(("a.yaml", sheet.encode()))
    for key in ("price", "assembly_time", "move_time", "heaviest_lift", "head_gap"):
        assert getattr(machine, key).is_unknown
    assert machine.subscription_fees[0].fee.is_unknown
    case, _ = with_new_sheet(Case(BRIEF), sheet)
    found = read(case)
    assert evaluate(found.brief, found.machines).names == ("Alder",)


def test_a_leaflet_is_a_sellers_word_of_a_day():
    """Every figure told is quoted, with its day, in whatever unit it was typed."""
    told = {"name": "Alder", "price": "14 500 USD", "fee": "600", "speed": "4,5"}
    told |= {"passes": "8", "assembly_time": "1 h", "heaviest_lift": "52 lb"}
    told |= {"max_print_height": "9 ft", "ink_price": "not told"}
    assert set(told) == {field.key for field in LEAFLET}
    text = sheet_of(told, "EUR", "2026-11-20")
    machine = read_machine(("a.yaml", text.encode()))
    assert machine.price.currency == "USD" and machine.price.as_of == "2026-11-20"
    assert machine.speed[8].likely == 4.5 and machine.speed[8].basis == "quoted"
    assert machine.assembly_time.likely == 60
    assert machine.heaviest_lift.likely == pytest.approx(52 * 0.45359237)  # 1 lb, exact
    assert machine.max_print_height.likely == pytest.approx(9 * 0.3048)  # 1 ft, exact
    assert machine.ink.price.is_unknown


@pytest.mark.parametrize(
    "typed, said",
    [
        ({}, "Name: is missing"),
        ({"name": "A", "passes": "many"}, "At how many passes: 'many'"),
        ({"name": "A", "price": "12,900"}, "Price: '12,900' may be"),
        ({"name": "A", "speed": "fast"}, "Printing speed: 'fast' is not a figure"),
    ],
)
def test_what_no_leaflet_tells_is_refused(typed, said):
    with pytest.raises(ScoringError, match=said):
        sheet_of(typed, "EUR")


CASE = Case(BRIEF, {"alder.yaml": SHEET})
ROWS = [
    {"job": "wall", "basis": "sold", "month": "2026-10"},
    {"job": "nursery", "width": "4,5", "height": "1,6", "price": "600"}
    | {"month": "2026-11", "basis": "enquiry"},
    {"job": "gym", "probability": "20", "month": "2026-12", "basis": "guess"},
    {"month": "2026-12", "basis": "enquiry"},  # a row that nobody filled in
]


def test_a_lead_may_be_of_a_new_kind():
    """Nursery and gym become kinds of job: as told, else usual and marked so."""
    data = table_of(ROWS, "EUR").encode()
    case = with_leads_file(CASE, "leads.csv", data)
    found = read(case).brief
    assert [job.name for job in found.work] == ["wall", "nursery", "gym"]
    _, nursery, gym = found.work
    assert (nursery.width.likely, nursery.price.per_job.likely) == (4.5, 600)
    assert gym.width.note == "assumed"
    # By hand: three months; one sold, 35 % of one asked for, 20 % of one.
    month = [job.per_month.likely for job in found.work]
    assert month == pytest.approx([1 / 3, 0.35 / 3, 0.2 / 3])
    assert [row["job"] for row in rows_of(case)] == ["wall", "nursery", "gym"]
    again = without_leads(case)
    assert not read(again).brief.leads_read and not again.files


def test_leads_typed_wrong_are_all_told():
    rows = [{"job": "a", "width": "wide", "price": "dear", "month": "2026-10"}]
    with pytest.raises(ScoringError) as error:
        table_of(rows, "EUR")
    assert [line[:6] for line in str(error.value).splitlines()] == ["lead 1"] * 2
    with pytest.raises(ScoringError, match="there are no leads"):
        table_of(ROWS[-1:], "EUR")


def test_scenarios_are_kept_and_told_apart(tmp_path):
    """By name; what differs is named by key, jobs by their names."""
    other = with_brief(CASE, {"crew.people": 2, "work.0.width": "4 m"})
    other, name = with_new_sheet(other, SHEET.replace("Alder", "Birch"))
    keep_scenario(tmp_path, "alone", CASE)
    keep_scenario(tmp_path, "with a helper", other)
    held = scenarios_in(tmp_path)
    assert {key: found[0] for key, found in held.items()} == {
        "alone": CASE,
        "with a helper": other,
    }
    assert changes_between(CASE, other) == [
        ("brief", "work.wall.width", "3 m", "4 m"),
        ("brief", "crew", None, "told"),
        (name, "", "not there", "there"),
    ]
    assert changes_between(CASE, CASE) == []
    with pytest.raises(ScoringError, match="no name"):
        keep_scenario(tmp_path, "", CASE)
