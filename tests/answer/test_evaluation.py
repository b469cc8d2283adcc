"""The whole way from sheets and brief to a ranking, on small cases worked by hand."""

import numpy as np
import pytest

from scoring.answer.evaluation import evaluate
from scoring.words.ruled_out import not_served, reasons
from scoring.words.verdict import who_leads
from tests.cases import brief, job, machine


def ranked_by(ids, machines, **more):
    """Return the Evaluation when these criteria weigh the same and no other counts."""
    written = ", ".join(f"{name}: 1" for name in ids)
    return evaluate(brief(more=f"weights: {{{written}}}\n", **more), machines)


def column(evaluation, name):
    """Return the raw figures of a criterion by machine name."""
    c = [criterion.id for criterion in evaluation.criteria].index(name)
    return dict(zip(evaluation.names, evaluation.raw[:, c].tolist(), strict=True))


def days(evaluation):
    """Return the days that the first kind of job takes, by machine name."""
    figures = evaluation.outcome.site.days[0, :, 0].tolist()
    return dict(zip(evaluation.names, figures, strict=True))


# Common practice, no source: on a day that holds one job either way, a machine that
# prints twice as fast earns the same that day.
def test_speed_that_frees_no_day_earns_nothing():
    """8 m² take 120 or 60 min; either way the visit fits a day that holds one job."""
    # 20 + 10 + 15 + 10 + 30 = 85 min besides printing: 205 or 145 of 480 min; 4 jobs a
    # month at 500 are 4 · 12 · 500 = 24 000 a year with both.
    slow, fast = machine(), machine(name="Birch", speed="4: 8 m²/h")
    evaluation = evaluate(brief(), [slow, fast])
    assert days(evaluation) == {"Alder": 1, "Birch": 1}
    assert column(evaluation, "year_result") == {"Alder": 24000, "Birch": 24000}
    by_hand = {"Alder": 480 - 205, "Birch": 480 - 145}
    spare = evaluation.outcome.site.spare_min[0, :, 0]
    assert dict(zip(evaluation.names, spare, strict=True)) == pytest.approx(by_hand)


def test_speed_that_frees_a_day_with_work_waiting_earns():
    """Where the diary is full, a second job in the day doubles what is earned."""
    # 10 days a month are bookable: 5 · 48/12 · 50 %. 20 jobs wanted; alone 480 min fit
    # 205 twice (410), which halves the days: 20 jobs in 10 days. Slow: 85 + 240 = 325,
    # one a day, so 10 jobs. 12 · 20 · 500 = 120 000 against 60 000.
    slow = machine(speed="4: 2 m²/h")
    fast = machine(name="Birch", speed="4: 4 m²/h")
    both = brief(
        job(per_month=20),
        edits=[("day_margin: 0 %", "day_margin: 0 %, jobs_per_day_max: 2")],
    )
    evaluation = evaluate(both, [slow, fast])
    assert column(evaluation, "year_result") == {"Alder": 60000, "Birch": 120000}


def test_a_build_too_slow_for_a_two_stand_wall_costs_a_second_day():
    """Two stands of 147 min: a build of 45 min leaves room for both, one of 150 not."""
    # 4 m × 4.8 m = 19.2 m² at 4 m²/h: 288 min, one shift of 6. Quick: 85 + 294 = 379.
    # Slow build 80, pack down 60: 80 + 60 + 10 + 10 + 30 = 190, + 294 = 484 > 480. Of
    # the stands (147 min each), floor((480 − 190)/147) = 1 fits the first day, so 2.
    wall = job(height=4.8, overnight="false")
    quick = machine(rail="rail_length: 2 m\n")
    slow = machine(name="Birch", rail="rail_length: 2 m\n", assembly=80, pack_down=60)
    assert days(evaluate(brief(wall), [quick, slow])) == {"Alder": 1, "Birch": 2}


def test_a_short_rail_on_a_long_wall_costs_shifts():
    """12 m in stands of 2 m take five shifts of 10 min, in stands of 6 m one."""
    # 24 m² at 4 m²/h: 360 min. 85 + 360 + 10 = 455 fits 480; 85 + 360 + 50 = 495 does
    # not: ceil((495 − 20)/(480 − 20)) = 2.
    short = machine(rail="rail_length: 2 m\n", shift=10)
    long = machine(name="Birch", rail="rail_length: 6 m\n", shift=10)
    evaluation = evaluate(brief(job(width=12)), [short, long])
    assert days(evaluation) == {"Alder": 2, "Birch": 1}
    moves = np.broadcast_to(evaluation.outcome.site.parts.moves, (1, 2, 1))[0, :, 0]
    assert moves.tolist() == [50, 10]


def test_a_machine_that_may_not_stay_built_prints_whole_stands():
    """Four stands of 201 min take 2 days where it stays built, 3 where it may not."""
    # 8 m × 6.4 m = 51.2 m²: 768 min, three shifts of 12: 804, a stand 201. Staying:
    # visit 85 + 804 = 889, ceil((889 − 20)/460) = 2. Not staying: first day
    # floor((480 − 85)/201) = 1, later floor((480 − 55)/201) = 2: 1 + ceil(3/2) = 3.
    one = machine(rail="rail_length: 2 m\n", shift=12)
    for overnight, by_hand in (("true", 2), ("false", 3)):
        wall = job(width=8, height=6.4, overnight=overnight)
        assert days(evaluate(brief(wall), [one])) == {"Alder": by_hand}


def test_a_tie_shares_the_place():
    """Two machines alike in all that counts share first place; the third is third."""
    evaluation = ranked_by(
        ["heaviest_lift"],
        [machine(), machine(name="Birch", price=9000), machine(name="Cedar", lift=24)],
    )
    assert evaluation.rank_weighted_sum.tolist() == [1, 1, 3]
    assert evaluation.rank_topsis.tolist() == [1, 1, 3]
    assert who_leads(evaluation).endswith(
        "Alder and Birch share first place: this work does not tell them apart."
    )


def test_a_single_machine_is_first():
    """One machine alone is ranked first by both methods, and the verdict says alone."""
    evaluation = evaluate(brief(), [machine()])
    assert evaluation.rank_weighted_sum.tolist() == [1]
    assert evaluation.rank_topsis.tolist() == [1]
    assert "Alder is the only machine there is (score 0.7" in who_leads(evaluation)


def test_a_machine_that_serves_no_job():
    """It earns nothing, its days are not there, and the reason is kept."""
    machines = [machine(), machine(name="Birch", speed="2: 4 m²/h")]
    evaluation = evaluate(brief(), machines)
    assert column(evaluation, "year_result")["Birch"] == 0
    assert column(evaluation, "work_served") == {"Alder": 1, "Birch": 0}
    assert np.isnan(days(evaluation)["Birch"])
    assert not_served(evaluation, 1, 0) == "it has no mode with 4 passes or more."
    assert evaluation.is_ranked.all() and evaluation.rank_weighted_sum.tolist() == [
        1,
        2,
    ]


def test_a_leader_that_earns_nothing_is_not_praised_alone():
    """Where nobody can do the work, the verdict of the first says so."""
    wall = job(passes=8)
    evaluation = evaluate(brief(wall), [machine(), machine(name="Birch", price=20000)])
    assert who_leads(evaluation).endswith("It does none of your work.")
    poor = evaluate(
        brief(job(price=1), limits="must_serve: [wall]"),
        [machine(("upkeep: 0 EUR/year", "upkeep: 1000 EUR/year"))],
    )
    # 4 · 12 · 1 − 1 000 = −952
    assert who_leads(poor).endswith(
        "At this work it would lose 952 EUR/year: buying nothing is better."
    )


def test_the_plan_that_earns_most_is_chosen_and_a_tie_goes_to_the_cheaper():
    """A plan that skips empty areas pays only where it frees a day."""
    both = machine(
        (
            "{name: No plan, fee: 0 EUR/year}",
            "{name: Bare, fee: 0 EUR/year}, "
            "{name: Full, fee: 900 EUR/year, unlocks: [skip_blank]}",
        )
    )
    # 4 × 2 m: one day with or without. 4 × 7 m: 28 m² are 420 min, 85 + 420 = 505 of
    # 480, two days; half of it blank: 295, one day. With 10 days and 10 jobs wanted, 5
    # or 10 jobs a month: 12 · 5 · 500 = 30 000 or 60 000 − 900.
    short = evaluate(brief(job(more="    blank_share: 50 %\n")), [both])
    tall = evaluate(
        brief(job(height=7, per_month=10, more="    blank_share: 50 %\n")), [both]
    )
    assert [p.name for p in short.plans[0] if p.is_chosen] == ["Bare"]
    assert [p.name for p in tall.plans[0] if p.is_chosen] == ["Full"]
    assert [p.year_result for p in tall.plans[0]] == pytest.approx([30000, 59100])


def test_must_serve_work_that_fills_the_diary_leaves_none_for_the_rest():
    """10 days a month, all taken by 12 must-serve days: other work gets nothing."""
    # 12 jobs of a day are cut to 10; nothing is left for the other wall.
    must = job(name="must", per_month=12)
    rest = job(name="rest", per_month=3)
    evaluation = evaluate(brief(must, rest, limits="must_serve: [must]"), [machine()])
    assert evaluation.outcome.year.served_per_month[0, 0].tolist() == [10, 0]


def test_terms_of_delivery_tell_who_pays_what_is_not_written():
    """Under DDP duty is in the price; under DAP nobody owes the insurance: each 0."""
    written = "{freight: 0 EUR, insurance: 0 EUR, duty: 0 %, import_tax: 0 %,"
    not_insured = "nobody owes it under DAP: ask whether the way is insured"
    for terms, rest, part, said in (
        ("DDP", "", "duty", "in the price under DDP"),
        ("DAP", " duty: 0 %, import_tax: 0 %,", "insurance", not_insured),
    ):
        one = machine((written, f"{{terms: {terms},{rest}"))
        evidence = evaluate(brief(), [one]).evidence["Alder", f"landed_cost.{part}"]
        assert (evidence.likely, evidence.text) == (0, said)
        assert not evidence.is_unknown


def test_a_beginners_time_is_not_held_against_the_machine():
    """Timed at the first build, twice as slow as later: 40 min count as 20."""
    # 1 + (2 − 1) · 2^(−n/5): twice at the first, 1.5 times after five, 1.25 after ten.
    trade = "trade: {learning_start: 2, learning_halving: 5}\n"
    told = {0: 40, 5: 30, 10: 25}
    for n_builds, minutes in told.items():
        slow = machine(assembly=minutes, more=f"builds_before: {n_builds}\n")
        found = evaluate(brief(more=trade), [slow]).figures.machines
        assert found.assembly_min.item() == pytest.approx(20)
        assert found.prime_min.item() == pytest.approx(10 * 20 / minutes)
        assert found.pack_down_min.item() == 15
    practised = evaluate(brief(more=trade), [machine(assembly=40)]).figures.machines
    assert practised.assembly_min.item() == 40


def test_a_licence_that_ends_leaves_no_resale():
    """Where the licence does not go with the machine, resale counts as 0."""
    sold = ("resale: 0 EUR", "resale: 3000 EUR")
    for told, resale in (("true", 3000), ("unknown", 3000), ("false", 0)):
        ends = (
            "parts_lead_time: 1 day",
            f"parts_lead_time: 1 day, licence_transfers: {told}",
        )
        found = evaluate(brief(), [machine(sold, ends)])
        assert found.figures.machines.resale.item() == resale


def test_a_machine_too_large_for_the_vehicle_names_what_is_lacking():
    """A piece of 2.2 m in a vehicle of 2 m: out, unless a larger one can be hired."""
    long = machine(more="vehicle: {longest_piece: 2.2 m}\n")
    small = brief(more="vehicle: {length: 2 m}\n")
    found = evaluate(small, [long])
    assert not found.is_ranked[0]
    (reason,) = reasons(found, 0)
    assert "2.2 m of length for its longest piece; your vehicle has 2 m" in reason
    hired = evaluate(brief(more="vehicle: {length: 2 m, hire: 60 EUR}\n"), [long])
    assert hired.is_ranked[0]
    # 48 one-day jobs a year at 500 less 60 of hire.
    assert column(hired, "year_result") == {"Alder": 48 * 440}
