"""What is typed into a form becomes the text of a file that every reader takes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring import evaluate
from scoring.inputs.brief_files import load_brief
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.own_case import (
    ASSUMED,
    BRIEF_FILE,
    CaseTold,
    JobTold,
    LeafletTold,
    basis_of,
    brief_text,
    common_jobs,
    jobs_a_month,
    leaflet_text,
    typed,
)
from scoring.inputs.quantity import Wrong


def brief_of(case):
    """Return the Brief of what was typed."""
    return load_brief((BRIEF_FILE, brief_text(case).encode()))


def machine_of(leaflet, currency="EUR"):
    """Return the Machine of what was typed."""
    return read_machine(("leaflet.yaml", leaflet_text(leaflet, currency).encode()))


@pytest.mark.parametrize("kind", common_jobs())
def test_each_common_kind_of_job_makes_a_brief(kind):
    """Typical sizes are within what a brief allows, in the currency chosen."""
    brief = brief_of(CaseTold(currency="SEK", jobs=[JobTold(kind, sold=12)]))
    (job,) = brief.work
    assert job.name == kind and job.per_month.likely == 1
    assert job.price.per_job.currency == "SEK"


def test_what_is_not_told_does_not_flatter():
    """No cash told is none; an hour not told has a price; a machine's silence stays."""
    brief = brief_of(CaseTold(jobs=[JobTold("gym wall", hoped=12)]))
    assert brief.money.cash.likely == 0 and brief.money.loan.likely == 0
    assert brief.money.own_hour.likely == float(ASSUMED["own_hour"]) > 0
    machine = machine_of(LeafletTold("Alder"))
    for key in ("price", "assembly_time", "prime_time", "heaviest_lift"):
        assert getattr(machine, key).is_unknown
    assert machine.odour.printing.is_unknown
    (plan,) = machine.subscription_fees
    assert plan.fee.is_unknown


def test_what_is_told_stands_in_the_sheet_as_a_sellers_word():
    """Figures of a leaflet are quoted, in their units, with a comma or a point."""
    told = LeafletTold(
        name="Alder",
        price="14500",
        speed="3,5",
        passes=8,
        build="25",
        heaviest="52 lb",
        reach="2.4",
        ink_price="120",
        fee="600",
        parts="10",
        smell="2",
    )
    machine = machine_of(told, "USD")
    assert (machine.price.likely, machine.price.currency) == (14500, "USD")
    assert machine.speed[8].likely == 3.5 and machine.speed[8].basis == "quoted"
    assert machine.heaviest_lift.likely == pytest.approx(52 * 0.45359237)
    assert machine.max_print_height.likely == 2.4
    assert (
        machine.ink.price.likely == 120 and machine.support.parts_lead_time.likely == 10
    )
    assert machine.subscription_fees[0].fee.likely == 600
    assert machine.odour.preparing.likely == machine.odour.printing.likely == 2


def test_a_comma_that_may_part_thousands_is_asked_about():
    """12,900 is 12 900 to one and 12.9 to another."""
    with pytest.raises(Wrong, match="two ways"):
        typed("12,900", "EUR")
    assert typed("12,90", "EUR") == "12.90 EUR"
    assert typed("12900 EUR", "EUR") == "12900 EUR"


@given(st.integers(0, 500), st.integers(0, 500), st.integers(0, 500))
def test_jobs_of_a_year_are_a_range_by_the_month(sold, asked, hoped):
    """At least what is sold, at most all; more asked for never makes fewer jobs."""
    job = JobTold("gym wall", sold=sold, asked=asked, hoped=hoped)
    ends = [float(x) for x in jobs_a_month(job).split("..")]
    assert ends == sorted(ends)
    assert ends[0] == pytest.approx(sold / 12, rel=0.01)
    assert ends[-1] == pytest.approx((sold + asked + hoped) / 12, rel=0.01)
    if sold + asked + hoped:
        brief_of(CaseTold(jobs=[job]))


def test_what_the_jobs_rest_on_is_what_there_is_most_of():
    """Ten asked for count as five; six sold are more, four sold are fewer."""
    assert basis_of(JobTold("w", sold=6, asked=10)) == "sold"
    assert basis_of(JobTold("w", sold=4, asked=10)) == "enquiries"
    assert basis_of(JobTold("w", hoped=10)) == "guess"
    assert basis_of(JobTold("w")) == "guess"


NAMES = st.text(min_size=1, max_size=60)


@given(NAMES, st.text(max_size=30), st.text(max_size=30))
def test_whatever_is_typed_is_read_or_refused_in_a_sentence(name, price, width):
    """No text makes a traceback, nor another key of the file."""
    from scoring.errors import ScoringError

    try:
        brief = brief_of(
            CaseTold(jobs=[JobTold(name, sold=1, width=width, price=price)])
        )
        machine = machine_of(LeafletTold(name, price=price))
    except ScoringError as error:
        assert str(error)
    else:
        assert len(brief.work) == 1 and machine.name.split() == name.split()


def test_a_beginners_case_has_an_answer():
    """Four enquiries, three leaflets, 20 000, alone: each machine has a status."""
    kinds = ("café wall", "nursery room", "gym wall", "waiting room")
    brief = brief_of(CaseTold(jobs=[JobTold(k, asked=6) for k in kinds], cash="20000"))
    machines = [
        machine_of(LeafletTold("Alder", price="14500", speed="3,5", heaviest="24")),
        machine_of(LeafletTold("Birch", price="9800", speed="2.2", heaviest="18")),
        machine_of(LeafletTold("Cedar", price="22000", speed="6", heaviest="38")),
    ]
    evaluation = evaluate(brief, machines)
    assert {evaluation.status(k) for k in range(3)} <= {
        "ranked",
        "in_doubt",
        "ruled_out",
    }
