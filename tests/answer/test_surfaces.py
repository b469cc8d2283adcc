"""What a surface needs besides the print: primer, its drying, varnish, and their cost.

A wall of 8 m² by hand; that drying is waited for on site is common practice, no source.
"""

import pytest

from scoring import evaluate
from scoring.answer.one_machine import told_at
from scoring.errors import InputFaults
from scoring.words.workings.job import job_steps
from scoring.words.workings.job_money import job_money_steps
from tests.cases import brief, job, machine

NEEDS = "{primer: 4 min/m², varnish: 1 min/m², cost: 2.5 EUR/m², drying: 2 h}"


def lived(surfaces, surface="brick"):
    """Return what a day on a wall of 4 × 2 m comes to with such a sheet."""
    work = job(more=f"    surface: {surface}\n")
    evaluation = evaluate(brief(work), [machine(more=f"surfaces: {surfaces}\n")])
    return evaluation, told_at(evaluation, 0, 0)


def test_time_and_money_of_a_primed_wall():
    """8 m² × 5 min and two hours' drying are 160 min; 8 × 2.5 EUR are 20 EUR."""
    _, plain = lived("{brick: ready}")
    _, primed = lived(f"{{painted: ready, brick: {NEEDS}}}")
    assert primed.can_do
    assert primed.site.on_site_min - plain.site.on_site_min == pytest.approx(160)
    assert primed.site.parts.surface == pytest.approx(160)
    assert primed.contribution_lines.surface == pytest.approx(-20)
    assert primed.contribution == pytest.approx(plain.contribution - 20)


def test_a_list_is_a_mapping_of_what_is_ready():
    """`[painted, brick]` says the same as a mapping in which both are ready."""
    assert (
        lived("[painted, brick]")[1].site
        == lived("{painted: ready, brick: ready}")[1].site
    )


def test_what_one_surface_needs_is_not_asked_of_another():
    """On a painted wall the primer for brick costs nothing; on glass is no job."""
    sheet = f"{{painted: ready, brick: {NEEDS}}}"
    assert lived(sheet, "painted")[1].site.parts.surface == 0
    assert not lived(sheet, "glass")[1].can_do


def test_the_working_names_the_keys():
    """The minutes and the money are traced to the lines of the sheet."""
    evaluation, _ = lived(f"{{brick: {NEEDS}}}")
    (step,) = (
        s for s in job_steps(evaluation, 0, 0) if s.what.startswith("prime, let")
    )
    assert step.value == pytest.approx(160)
    assert set(step.keys) == {
        f"surfaces.brick.{f}" for f in ("primer", "varnish", "drying")
    }
    (step,) = (
        s for s in job_money_steps(evaluation, 0, 0) if s.what == "primer and varnish"
    )
    assert (step.value, step.keys) == (pytest.approx(-20), ("surfaces.brick.cost",))


def test_an_unknown_need_counts_as_the_guess():
    """“Unknown” is no good news: the wide guess of the table stands in."""
    _, plain = lived("{brick: ready}")
    evaluation, primed = lived("{brick: {primer: unknown, cost: unknown}}")
    assert primed.site.parts.surface > 8 * 2
    assert primed.contribution_lines.surface < -8 * 1
    expected, ready = (
        e.outcome.year.result[0, 0, 0] for e in (evaluation, lived("{brick: ready}")[0])
    )
    assert expected < ready


@pytest.mark.parametrize(
    ("surfaces", "said"),
    [
        ("{brick: maybe}", "surfaces.brick"),
        ("{brick: {paint: 4 min/m²}}", "surfaces.brick.paint"),
        ("{brick: {primer: 4 min}}", "surfaces.brick.primer"),
        ("{brick: {primer: -1 min/m²}}", "surfaces.brick.primer"),
        ("{bri.ck: {primer: 1 min/m²}}", "surfaces.bri.ck"),
        ("[1, 2]", "surfaces"),
        ("brick", "surfaces"),
    ],
)
def test_what_cannot_be_gets_a_sentence(surfaces, said):
    """The key is named, what is wrong and what is allowed; no library's words."""
    with pytest.raises(InputFaults) as raised:
        machine(more=f"surfaces: {surfaces}\n")
    for fault in raised.value.faults:
        assert fault.key.startswith("surfaces")
        assert "valid" not in fault.what and fault.allowed
    assert any(fault.key.startswith(said) for fault in raised.value.faults)
