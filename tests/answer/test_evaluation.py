"""The whole way from sheets and brief to a ranking, on small cases worked by hand."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scoring.answer.evaluation import evaluate
from scoring.answer.ranking import reweigh
from scoring.errors import ScoringError
from scoring.words.ruled_out import not_served, reasons
from scoring.words.verdict import disagreement, double_counting, who_leads
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


def test_no_machine_at_all_is_a_sentence():
    """Without any sheet there is a sentence, not a traceback."""
    with pytest.raises(ScoringError, match="there is no machine to rank"):
        evaluate(brief(), [])


def test_no_machine_left():
    """Where every machine breaks a limit, each says which and by how much."""
    evaluation = evaluate(
        brief(cash=4000), [machine(), machine(name="Birch", price=7000)]
    )
    assert not evaluation.is_ranked.any()
    assert who_leads(evaluation).startswith(
        "No machine is left: each breaks one of your"
    )
    assert reasons(evaluation, 0) == [
        "It costs 10\u202f000 EUR to your door; cash and loan come to 4\u202f000 EUR. "
        "Smallest change: 6\u202f000 EUR more, or as much off the price."
    ]


def test_all_weight_on_one_criterion_ranks_by_it():
    """With all weight on one criterion, both methods follow its figures alone."""
    machines = [machine(lift=20), machine(name="Birch", lift=12, price=30000)]
    evaluation = ranked_by(["heaviest_lift"], machines)
    assert evaluation.rank_weighted_sum.tolist() == [2, 1]
    assert evaluation.rank_topsis.tolist() == [2, 1]
    # One person lifts 25 kg: 20 kg are 5/25, 12 kg are 13/25 of the way to none.
    assert evaluation.weighted_sum.tolist() == pytest.approx([0.2, 0.52])


def test_a_criterion_on_which_all_are_equal_separates_nothing():
    """It gives every machine the same score, so the order is that of the others."""
    machines = [machine(), machine(name="Birch", price=20000)]
    evaluation = ranked_by(["upfront", "print_quality"], machines)
    scores = evaluation.scores[
        :, [c.id for c in evaluation.criteria].index("print_quality")
    ]
    # 3 of 1..5; 10 000 and 20 000 of the 100 000 there are.
    assert scores.tolist() == pytest.approx([0.5, 0.5])
    assert evaluation.weighted_sum.tolist() == pytest.approx([0.7, 0.65])


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


def test_the_smallest_change_that_lets_a_heavy_machine_in():
    """30 kg at 25 kg each need a second person: named with what it costs in a year."""
    # Two may lift 2 · 25 · 2/3 = 33.3 kg. Help costs 20 an hour, at least 2 h a call:
    # the whole visit of 205 min is 68.33, two call-outs of 120 min 80. So 68.33 a job,
    # 4 · 12 · 68.33 = 3 280 a year.
    crew = ", hired_help: {allowed: false, rate: 20 EUR/h, minimum: 2 h}"
    evaluation = evaluate(brief(crew=crew), [machine(lift=30), machine(name="Birch")])
    assert reasons(evaluation, 0) == [
        "The heaviest piece lifted by hand is reckoned at 30 kg; one person lifts up "
        "to 25 kg, 5 kg less. Smallest change: a second person on each visit, about "
        "3\u202f280 EUR/year of hired help; or an aid rated for 30 kg, or pieces that "
        "come apart; or 30 kg a person, where an assessment allows so much."
    ]
    allowed = crew.replace("false", "true")
    evaluation = evaluate(
        brief(crew=allowed), [machine(lift=30), machine(name="Birch")]
    )
    assert evaluation.is_ranked.all()
    assert column(evaluation, "year_result")["Alder"] == pytest.approx(24000 - 3280)


def test_must_haves_and_must_serves_rule_out():
    """A missing feature and a kind of job that must be served give their reasons."""
    limits = "must_have: [movable_rail], must_serve: [wall]"
    movable = machine(more="features: [movable_rail]\n")
    smelly = machine(name="Birch", odour=4, more="features: [movable_rail]\n")
    fixed = machine(name="Cedar")
    wall = job(more="    odour_limit: 2\n")
    evaluation = evaluate(brief(wall, limits=limits), [movable, smelly, fixed])
    assert evaluation.is_ranked.tolist() == [True, False, False]
    assert reasons(evaluation, 1) == [
        "It cannot do “wall”, which you must serve: its smell is 2 steps of 6 above "
        "what the client allows. Smallest change: an ink 2 steps of 6 weaker, or the "
        "client's leave."
    ]
    assert reasons(evaluation, 2)[0].startswith(
        "It has no movable rail under any of its"
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


def test_weighting_what_already_acts_through_money_is_said():
    """Weight on the share of work served beside the money is called counting twice."""
    evaluation = evaluate(brief(), [machine(), machine(name="Birch", price=20000)])
    assert double_counting(evaluation) == ""
    twice = reweigh(evaluation, {"work_served": 0.2})
    assert double_counting(twice) == (
        "Counted twice: share of the work served already acts through "
        "money left over in a year."
    )


def test_new_weights_merge_with_the_briefs():
    """Named weights replace, the rest keep their proportion, and all sum to 1."""
    # Eight criteria weigh 1/8 each; upfront at 1/8 · 9 makes 16/8 in all: 9/16, 1/16.
    evaluation = evaluate(brief(), [machine()], {"upfront": 9 / 8})
    assert evaluation.weights[:8].tolist() == pytest.approx([9 / 16] + [1 / 16] * 7)
    with pytest.raises(ScoringError, match="no criterion is called 'odor'"):
        evaluate(brief(), [machine()], {"odor": 1})
    with pytest.raises(ScoringError):
        evaluate(brief(), [machine()], {"upfront": -1})


def test_a_loser_left_out_still_holds_the_scale():
    """Leaving a machine out hides it and moves no other machine's score."""
    machines = [
        machine(),
        machine(name="Birch", price=12000),
        machine(name="C", lift=24),
    ]
    all_of_them = evaluate(brief(), machines)
    fewer = evaluate(brief(), machines, left_out=["C"])
    assert [fewer.names[k] for k in fewer.order] == ["Alder", "Birch"]
    assert fewer.weighted_sum[:2].tolist() == all_of_them.weighted_sum[:2].tolist()
    assert not fewer.is_ranked[2]


def test_must_serve_work_that_fills_the_diary_leaves_none_for_the_rest():
    """10 days a month, all taken by 12 must-serve days: other work gets nothing."""
    # 12 jobs of a day are cut to 10; nothing is left for the other wall.
    must = job(name="must", per_month=12)
    rest = job(name="rest", per_month=3)
    evaluation = evaluate(brief(must, rest, limits="must_serve: [must]"), [machine()])
    assert evaluation.outcome.year.served_per_month[0, 0].tolist() == [10, 0]


FIGURES = st.fixed_dictionaries(
    {
        "price": st.integers(5000, 60000),
        "speed": st.integers(2, 12).map(lambda v: f"4: {v} m²/h"),
        "assembly": st.integers(10, 60),
        "lift": st.integers(8, 25),
        "odour": st.integers(1, 6),
        "response": st.integers(0, 9),
        "quality": st.sampled_from([2, 2.5, 3, 3.5]),
    }
)
SEVERAL = st.lists(FIGURES, min_size=2, max_size=5)
WEIGHTS = st.lists(st.integers(1, 9), min_size=8, max_size=8)
IDS = ("upfront", "year_result", "ready_time", "heaviest_lift", "odour", "support")
IDS += ("print_quality", "software_ease")
FEW = 100  # draws: what holds holds for any number of them


def evaluated(figures, weights):
    """Return the Evaluation of random machines, named by their place."""
    machines = [machine(name=f"M{k}", **own) for k, own in enumerate(figures)]
    stated = dict(zip(IDS, weights, strict=True))
    return evaluate(brief(), machines, stated, n_draws=FEW)


@settings(max_examples=25)
@given(SEVERAL, WEIGHTS, st.randoms())
def test_the_order_of_machines_changes_nothing(figures, weights, random):
    """Permuting the machines permutes the answer."""
    machines = [machine(name=f"M{k}", **own) for k, own in enumerate(figures)]
    stated = dict(zip(IDS, weights, strict=True))
    first = evaluate(brief(), machines, stated, n_draws=FEW)
    random.shuffle(machines)
    second = evaluate(brief(), machines, stated, n_draws=FEW)
    assert first.names == second.names
    assert first.weighted_sum.tolist() == second.weighted_sum.tolist()
    assert first.topsis.tolist() == second.topsis.tolist()


@settings(max_examples=25)
@given(SEVERAL, WEIGHTS)
def test_a_dominated_machine_never_outranks_its_dominator(figures, weights):
    """Where one is at least as good on all that counts, it is at least as high."""
    evaluation = evaluated(figures, weights)
    scores = evaluation.scores[:, evaluation.weights > 0]
    for a, better in enumerate(scores):
        for b, worse in enumerate(scores):
            if np.all(better >= worse):
                slack = 1e-9
                assert evaluation.weighted_sum[a] >= evaluation.weighted_sum[b] - slack
                assert evaluation.topsis[a] >= evaluation.topsis[b] - slack


@settings(max_examples=25)
@given(SEVERAL, WEIGHTS, st.sampled_from(["price", "lift", "odour", "response"]))
def test_improving_a_machine_never_lowers_its_score(figures, weights, what):
    """A lower price, lift, smell or response never lowers the weighted sum."""
    before = evaluated(figures, weights)
    improved = [dict(own) for own in figures]
    improved[0][what] = improved[0][what] * 0.9
    machines = [machine(name=f"M{k}", **own) for k, own in enumerate(improved)]
    stated = dict(zip(IDS, weights, strict=True))
    after = evaluate(brief(), machines, stated, before.scale, n_draws=FEW)
    assert after.weighted_sum[0] >= before.weighted_sum[0] - 1e-12


@settings(max_examples=25)
@given(SEVERAL, WEIGHTS)
def test_leaving_a_loser_out_never_reorders_the_rest(figures, weights):
    """Without the last machine, the others keep their order by weighted sum."""
    evaluation = evaluated(figures, weights)
    loser = evaluation.order[-1]
    machines = evaluation.machines
    fewer = evaluate(
        evaluation.brief,
        machines,
        dict(zip(IDS, weights, strict=True)),
        left_out=[evaluation.names[loser]],
        n_draws=FEW,
    )
    assert fewer.order == evaluation.order[:-1]


@settings(max_examples=15)
@given(FIGURES)
def test_units_of_the_input_change_nothing(own):
    """The same machine in feet, pounds, hours and another currency is the same."""
    speed = int(own["speed"].split()[1])
    customary = machine(
        (
            f"heaviest_lift: {own['lift']} kg",
            f"heaviest_lift: {own['lift'] / 0.45359237:.12f} lb",
        ),
        (own["speed"], f"4: {speed / 0.3048**2:.12f} ft²/h"),
        (
            f"assembly_time: {own['assembly']} min",
            f"assembly_time: {own['assembly'] / 60:.12f} h",
        ),
        (f"price: {own['price']} EUR\n", f"price: {own['price'] / 0.8:.12f} USD\n"),
        name="A",
        **own,
    )
    metric = machine(name="A", **own)
    wanted = brief(more="exchange: {USD: 0.8 EUR}\n")
    other = machine(name="B")
    first, second = (
        evaluate(wanted, [one, other], n_draws=FEW) for one in (metric, customary)
    )
    assert first.raw == pytest.approx(second.raw, rel=1e-9)
    assert first.weighted_sum == pytest.approx(second.weighted_sum, rel=1e-9)


def test_where_the_methods_part_ways_the_reason_is_given():
    """A machine with one large gap ranks lower by nearness than by score."""
    # Three criteria of weight 1/3, from 100 000 EUR, 25 kg and smell 6 to none. Uneven
    # scores (0.9, 0.96, 0) sum to 1.86; even ones (0.55, 0.6, 0.667) to 1.82. The gap
    # of 1 counts squared, so nearness prefers the even one.
    uneven = machine(name="Uneven", price=10000, lift=1, odour=6)
    even = machine(name="Even", price=45000, lift=10, odour=2)
    worst = machine(name="Worst", price=90000, lift=20, odour=6)
    best = machine(name="Best", price=10000, lift=2, odour=1)
    evaluation = ranked_by(
        ["upfront", "heaviest_lift", "odour"], [uneven, even, worst, best]
    )
    k = evaluation.index("Uneven")
    assert evaluation.rank_weighted_sum[k] < evaluation.rank_topsis[k]
    assert "by score and number" in disagreement(evaluation)


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
