"""Leads and artwork on their way through the whole model."""

import numpy as np
import pytest

from scoring import evaluate
from scoring.evidence import draws
from scoring.inputs.brief_files import load_brief, with_leads, with_picture
from scoring.inputs.leads import Lead
from scoring.questions.skipped_artwork import drawing, savings
from tests.cases import brief, machine

SKIPPER = ("{name: No plan, fee: 0 EUR/year}",)
SKIPPER += ("{name: Full, fee: 0 EUR/year, unlocks: [skip_blank]}",)


def leads(n, probability=0.5, month="2026-11"):
    """Return n leads of one month for the one kind of job."""
    return [Lead("wall", probability, month, "enquiry") for _ in range(n)]


def test_leads_give_the_jobs_a_month():
    """Six leads of one half in one month are three jobs a month, in the central run."""
    evaluation = evaluate(with_leads(brief(), leads(6)), [machine()])
    assert evaluation.told.figures.jobs.per_month.tolist() == [[[3.0]]]
    assert evaluation.brief.work[0].per_month.text == "from 6 leads"


def test_six_leads_weigh_less_than_sixty():
    """Binomial: 6 leads of one half scatter by 41 % of their mean, 60 by 13 %."""
    # √(n p q)/(n p) = √(q/(n p)): √(0.5/3) = 0.408, √(0.5/30) = 0.129
    spreads = {}
    for n in (6, 60):
        evaluation = evaluate(with_leads(brief(), leads(n)), [machine()])
        found = draws.drawn(evaluation.evidence, evaluation.brief, 1, 0, 4000)
        jobs = found["brief", "work.0.per_month"]
        spreads[n] = jobs.std() / jobs.mean()
        assert jobs.mean() == pytest.approx(n / 2, rel=0.03)
    assert spreads == pytest.approx({6: 0.408, 60: 0.129}, rel=0.06)


def test_a_number_set_by_hand_replaces_the_leads():
    """Where a slider says another number than the leads, the draws keep to it."""
    from dataclasses import replace

    chosen = with_leads(brief(), leads(6))
    fixed = replace(chosen.work[0].per_month, low=5.0, likely=5.0, high=5.0)
    work = (chosen.work[0].model_copy(update={"per_month": fixed}),)
    evaluation = evaluate(chosen.model_copy(update={"work": work}), [machine()])
    found = draws.drawn(evaluation.evidence, evaluation.brief, 1, 0, 50)
    assert set(found["brief", "work.0.per_month"]) == {5.0}


def triangle(n=400):
    """Return a right triangle: its diagonal leaves half of the sweep blank."""
    return np.tri(n, dtype=bool)


def test_artwork_saves_minutes_where_the_machine_skips():
    """A right triangle on 120 min of printing saves 60 on a machine that skips."""
    # 8 m² at 4 m²/h are 120 min; strips of 0.05 m on 4 m are 80, so the share is
    # (1 − 1/80)/2 = 0.49375 and the minutes 59.25, to the rounding of the pixels.
    with_art = with_picture(brief(), 0, triangle())
    skips = machine(SKIPPER, name="Birch")
    evaluation = evaluate(with_art, [machine(), skips])
    printing = evaluation.outcome.site.print_min[0, :, 0].tolist()
    assert printing[0] == pytest.approx(120)
    assert printing[1] == pytest.approx(120 - 59.25, abs=0.5)
    plain, saving = savings(evaluation, 0)
    assert (plain.is_skipping, saving.is_skipping) == (False, True)
    assert plain.minutes == pytest.approx(59.25, abs=0.5)
    assert saving.minutes == pytest.approx(59.25, abs=0.5)


def test_a_wider_strip_skips_less():
    """The same triangle in strips of 1 m leaves (1 − 1/4)/2 of the sweep blank."""
    wide = machine(
        more="carriage: {strip_width: 1 m, head_speed: 1 m/s, turnaround: 1 s}\n"
    )
    evaluation = evaluate(with_picture(brief(), 0, triangle()), [wide])
    assert savings(evaluation, 0)[0].share == pytest.approx(0.375, abs=0.01)


def test_the_drawing_shades_what_is_skipped():
    """Of a full rectangle nothing is skipped; beside an empty strip all of it is."""
    full = drawing(np.ones((10, 100), bool), 4, 0.05)
    assert {tuple(colour) for colour in full.reshape(-1, 3)} == {(64, 64, 64)}
    half = np.ones((10, 100), bool)
    half[:, 50:] = False
    colours = {tuple(c) for c in drawing(half, 4, 0.4)[:, 55:].reshape(-1, 3)}
    assert colours == {(150, 205, 240)}


def test_files_beside_a_brief_are_read(tmp_path):
    """Leads that a brief names are read from its own folder."""
    written = brief().text + "leads: leads.csv\n"
    (tmp_path / "b.yaml").write_text(written, encoding="utf-8")
    table = (
        "job,width,height,price,probability,month,basis\nwall,,,,50 %,2026-11,guess\n"
    )
    (tmp_path / "leads.csv").write_text(table, encoding="utf-8")
    found = load_brief(tmp_path / "b.yaml")
    assert found.work[0].per_month.likely == 0.5
    assert len(found.leads_read) == 1
