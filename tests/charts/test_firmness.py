"""Charts of firmness: their rows are the engine's figures, their words say the same."""

import altair as alt
import numpy as np
import pytest
from scipy.stats import beta

from scoring import evaluate
from scoring.charts.best_map import (
    MAP_COLUMNS,
    map_in_words,
    map_rows,
    map_spec,
    on_map,
)
from scoring.charts.places import (
    PLACE_COLUMNS,
    by_first_place,
    ordinal,
    place_rows,
    places_in_words,
    places_spec,
    standings,
)
from scoring.charts.swings import (
    NOBODY,
    STAYS,
    SWING_COLUMNS,
    TOP_SWINGS,
    TOP_TOLD,
    TURNS,
    swing_rows,
    swings_in_words,
    swings_spec,
)
from scoring.charts.weights import (
    WEIGHT_COLUMNS,
    weight_rows,
    weights_in_words,
    weights_spec,
)
from scoring.questions import swings as swings_module
from scoring.questions.best_map import BestMap, own_range
from scoring.questions.best_price import MOST_PRICE, present_price
from scoring.questions.firmness import how_firm
from scoring.questions.swings import all_swings, level_value, present_lead
from scoring.questions.weight_ranges import stability_of
from scoring.words.evidence import mix_rests_on, revenue_by_basis, untold
from scoring.words.keys import what_swings
from scoring.words.turning import level_in_words, price_in_words
from tests import cases

SPECS = {
    "places": (places_spec, PLACE_COLUMNS),
    "swings": (swings_spec, SWING_COLUMNS),
    "weights": (weights_spec, WEIGHT_COLUMNS),
    "map": (lambda: map_spec({"Alder": "#111"}), MAP_COLUMNS),
}


@pytest.fixture(scope="module")
def evaluation():
    """A brief in which several figures alone change who leads."""
    return cases.demo("workshop")


@pytest.fixture(scope="module")
def firm(evaluation):
    """Its Firmness, on few draws."""
    return how_firm(evaluation, n_draws=300)


def fields(spec):
    """Return the columns that a spec reads."""
    if isinstance(spec, dict):
        own = {spec["field"]} if isinstance(spec.get("field"), str) else set()
        return own.union(*map(fields, spec.values()))
    return set().union(*map(fields, spec)) if isinstance(spec, list) else set()


@pytest.mark.parametrize("name", SPECS)
def test_a_spec_is_valid_constant_and_reads_columns_that_exist(name):
    """Each spec passes Vega-Lite's schema and names only columns of its rows."""
    make, columns = SPECS[name]
    alt.Chart.from_dict({**make(), "width": 640, "data": {"name": "rows"}}).to_dict()
    assert make() == make()
    assert fields(make()) <= set(columns)
    assert "image" not in columns  # a tooltip would load its value


def test_each_machines_standings_sum_to_one(firm):
    """Places and “ruled out” share all draws; later places are one standing."""
    rows = place_rows(firm)
    names = [firm.evaluation.names[k] for k in firm.evaluation.order]
    sums = rows.groupby("machine")["share"].sum()
    assert sorted(sums.index) == sorted(names)
    assert sums.to_numpy() == pytest.approx(1)
    k = firm.evaluation.order[0]
    assert standings(firm, k)[:2] == firm.acceptability[k, :2].tolist()
    assert sum(standings(firm, k)) == pytest.approx(1)


def test_the_most_often_first_stands_on_top(firm):
    """Bars go by share of first places, and say it, or that there is none."""
    rows = place_rows(firm).drop_duplicates("machine")
    best = int(np.argmax(firm.acceptability[:, 0]))
    top = rows.sort_values("place").iloc[0]
    assert top.machine == firm.evaluation.names[best]
    assert f"{100 * firm.acceptability[best, 0]:.0f} %" in top.line
    out = [firm.evaluation.names[k] for k in np.flatnonzero(firm.ruled_out == 1)]
    said = rows.set_index("machine").line
    assert out and all(said[name].endswith("always ruled out") for name in out)


def test_places_in_words_name_every_machine_and_its_shares(firm):
    """Each line has the shares of half a per cent or more."""
    lines = places_in_words(firm).split("\n")
    for k, line in zip(by_first_place(firm), lines, strict=True):
        assert line.startswith(f"{firm.evaluation.names[k]}: ")
        told = sum(share >= 0.005 for share in standings(firm, k))
        assert line.count("%") == told


@pytest.mark.parametrize("place, said", [(1, "1st"), (11, "11th"), (22, "22nd")])
def test_ordinals(place, said):
    """Places are written as people do, teens too."""
    assert ordinal(place) == said


def test_swings_run_from_the_smaller_lead_to_the_larger(evaluation):
    """Each figure has its two ends, sorted by lead, and who leads there."""
    swings = all_swings(evaluation)
    lead = present_lead(evaluation)
    rows = swing_rows(evaluation, swings, lead)
    assert len(rows) == 2 * TOP_SWINGS
    left, right = (rows[rows.side == side].reset_index() for side in ("left", "right"))
    assert (left.lead <= right.lead).all()
    assert (left.other == right.lead).all() and (right.other == left.lead).all()
    assert (right.lead - left.lead).is_monotonic_decreasing
    first = evaluation.names[swings_module.leader(evaluation)]
    assert set(rows[rows.standing == STAYS].leader) == {first}
    assert first not in set(rows[rows.standing == TURNS].leader)
    assert (rows.standing == TURNS).any()


def test_the_present_lead_is_first_less_second(evaluation):
    """The line in the chart is the lead that the ranking shows."""
    first, second, *_ = evaluation.order
    gap = evaluation.weighted_sum[first] - evaluation.weighted_sum[second]
    assert present_lead(evaluation) == pytest.approx(gap)


def test_an_end_at_which_nobody_is_left_is_no_lead():
    """Where every machine is ruled out, the end is marked and said as such."""
    brief = cases.brief(limits="highest_upfront: 11000 EUR")
    dear = cases.machine(price="9000..10000..13000")
    evaluation = evaluate(brief, [dear])
    swings = all_swings(evaluation)
    rows = swing_rows(evaluation, swings, 1.0)
    rows = rows[rows.what == "Alder: price"].set_index("leader")
    assert rows.loc["Alder"].standing == STAYS
    assert rows.loc[NOBODY].standing == TURNS
    said = swings_in_words(evaluation, swings)
    assert f"at 13\u202f000 EUR ({NOBODY})" in said


def test_swings_in_words_name_who_takes_the_lead(evaluation):
    """A line for each bar; where the lead is lost, the winner is in it."""
    swings = all_swings(evaluation)
    lines = swings_in_words(evaluation, swings).split("\n")
    assert len(lines) == TOP_TOLD
    for swing, line in zip(swings, lines, strict=False):
        assert line.startswith(what_swings(evaluation, swing))
        for leader in {swing.leader_low, swing.leader_high}:
            assert leader in line


def test_weights_stand_within_their_ranges(evaluation, firm):
    """The present weight lies in its range, heaviest first, in chart and words."""
    stability = stability_of(evaluation)
    rows = weight_rows(evaluation, stability)
    left = rows[rows.side == "left"]
    assert (left.end <= left.now + 1e-9).all() and (left.now <= left.other + 1e-9).all()
    assert left.now.is_monotonic_decreasing
    lines = weights_in_words(evaluation, stability).split("\n")
    for row, line in zip(left.itertuples(), lines, strict=True):
        assert line.startswith(f"{row.criterion}: now {100 * row.now:.0f} %")


def small_map():
    """Return a map of 2 × 2 cells: who is best by score, and where nobody is."""
    grid = (("Alder", "Birch"), ("Birch", ""))
    best = BestMap(np.array([2.0, 4.0]), np.array([5.0, 10.0]), grid, grid, 4.0, 5.0)
    return best, np.array([[3.0, 4.5], [4.0, 6.0]])


def test_a_map_has_a_cell_for_each_step_and_the_buyer_on_it():
    """Cells lie around their middles; the buyer's position has its range."""
    best, own = small_map()
    rows = map_rows(best, best.by_score, own)
    cells = rows[rows.kind == "cell"].set_index(["jobs", "wall"])
    assert cells.best.to_dict() == {
        (2, 5): "Alder",
        (4, 5): "Birch",
        (2, 10): "Birch",
        (4, 10): NOBODY,
    }
    assert (cells.loc[2, 5].left, cells.loc[2, 5].low) == (1, 2.5)
    (buyer,) = rows[rows.kind == "own"].to_dict("records")
    assert [buyer[key] for key in ("jobs", "wall")] == [4, 5]
    assert [buyer[k] for k in ("left", "right", "low", "high")] == [3, 4.5, 4, 6]


def test_a_map_in_us_units_has_square_feet():
    """5 m² / 0.3048² = 53.82 ft², on the map and on its axis."""
    best, own = small_map()
    rows = map_rows(best, best.by_score, own, is_us=True)
    assert rows.wall.min() == pytest.approx(53.82, abs=0.005)
    assert "ft²" in str(map_spec({"Alder": "#111"}, is_us=True))


def test_a_map_in_words_goes_along_both_axes_from_the_buyer():
    """It says who is best where the buyer stands, and on either side."""
    best, own = small_map()
    here, along, up = map_in_words(best, best.by_score, own).split("\n")
    assert "4 jobs a month (3 to 4.5)" in here and "5 m²" in here
    assert here.endswith("best there: Birch.")
    assert along.endswith("2 Alder, 4 Birch.")
    assert up.endswith(f"5 m² Birch, 10 m² {NOBODY}.")


def test_both_maps_colour_a_machine_alike():
    """The colour goes by the machine, whatever “none” is called."""
    best, _ = small_map()
    names = on_map(best)
    assert names == ["Alder", "Birch"]
    scales = [
        map_spec(dict(zip(names, ("#111", "#222"), strict=True)), nobody)["layer"][0][
            "encoding"
        ]["color"]["scale"]
        for nobody in ("none", "nothing")
    ]
    assert [scale["domain"][:2] for scale in scales] == [names, names]
    assert scales[0]["range"] == scales[1]["range"]


def test_the_buyers_own_range_is_that_of_the_brief():
    """Jobs of 2..4..6 a month: P10 and P90 of 2 + 4 · Beta(3, 3); a wall of 8 m²."""
    brief = cases.brief(cases.job(per_month="2..4..6"))
    found = own_range(evaluate(brief, [cases.machine()]), n_draws=20_000)
    assert found[0] == pytest.approx(2 + 4 * beta.ppf([0.1, 0.9], 3, 3), abs=0.03)
    assert found[1] == pytest.approx([8, 8])


def test_a_machines_speeds_draw_level_in_step():
    """Speeds of 1..7 and 0.5..3.5 meet a rival's 4.2 and 2.1 at one share, 8/15."""
    jobs = [cases.job(name="four"), cases.job(name="eight", passes=8)]
    slow = cases.machine(speed="4: 1..4..7 m²/h, 8: 0.5..2..3.5 m²/h")
    rival = cases.machine(name="Birch", speed="4: 4.2 m²/h, 8: 2.1 m²/h")
    evaluation = evaluate(cases.brief(*jobs), [slow, rival])
    ids = [criterion.id for criterion in evaluation.criteria]
    weights = {name: float(name == "site_hours") for name in ids}
    evaluation = evaluate(cases.brief(*jobs), [slow, rival], weights)
    level = [level_value(evaluation, "Alder", f"speed.{passes}") for passes in (4, 8)]
    assert level == pytest.approx([4.2, 2.1], abs=1e-6)


def test_level_in_words_names_side_value_and_winner(evaluation):
    """Ratings are said out of their scale, on the side where the lead is lost."""
    swings = {(s.owner, s.path): s for s in all_swings(evaluation)}
    swing = swings["Varnholt Column", "ratings.print_quality"]
    assert swing.turns and swing.lead_low < 0
    said = level_in_words(evaluation, swing, 4.1)
    assert said.endswith(f": below 4.1 of 5 {swing.leader_low} leads.")


def test_prices_in_words(evaluation):
    """None is “no such price”; the highest looked at is said to be no end."""
    name = evaluation.names[0]
    most = MOST_PRICE * present_price(evaluation, name)
    assert price_in_words(evaluation, name, None) == "no such price"
    assert price_in_words(evaluation, name, 900.0) == "900 EUR"
    assert price_in_words(evaluation, name, most).endswith("and more")


def test_revenue_rests_on_what_the_kinds_of_job_rest_on():
    """4 jobs at 500 sold and 1 at 6,000 guessed: a quarter, and three quarters."""
    brief = cases.brief(
        cases.job(name="sold", more="    basis: sold\n"),
        cases.job(name="guessed", per_month=1, price=6000),
    )
    evaluation = evaluate(brief, [cases.machine()])
    shares = revenue_by_basis(evaluation)
    assert shares == pytest.approx({"sold": 0.25, "enquiries": 0, "guess": 0.75})
    said = mix_rests_on(evaluation)
    assert "25 % on sold work, 0 % on enquiries and 75 % on guesses" in said


def test_without_paid_work_nothing_rests_on_anything():
    """No jobs at all: a sentence, not a division by 0."""
    evaluation = evaluate(cases.brief(cases.job(per_month=0)), [cases.machine()])
    assert revenue_by_basis(evaluation) == {}
    assert "no work" in mix_rests_on(evaluation)
    assert np.isfinite(own_range(evaluation)).all()


def test_what_is_not_told_is_named(evaluation):
    """A silent seller's keys are said in words; a telling one's are none."""
    k = evaluation.index("Corrandale Frame")
    assert "head life" in untold(evaluation, k)
    assert untold(evaluation, evaluation.index("Thrumble Lite")) == ""
