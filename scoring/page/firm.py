"""The screen "How firm": how surely who leads, what would turn it, what to ask first.

The controls stand in no fragment: Streamlit lets the rerun of a fragment wait until the
script has ended, but the rerun of the whole page breaks off a run of draws at its next
step. So a change during a run starts anew, and nothing piles up.
"""

from dataclasses import dataclass

import streamlit as st

from scoring.answer.ranking import reweigh
from scoring.charts.best_map import map_in_words, map_rows, map_spec, on_map
from scoring.charts.places import (
    OUT,
    by_first_place,
    ordinal,
    place_rows,
    places_in_words,
    places_spec,
)
from scoring.charts.swings import (
    NOBODY,
    TOP_SWINGS,
    swing_rows,
    swings_in_words,
    swings_spec,
)
from scoring.charts.weights import weight_rows, weights_in_words, weights_spec
from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.state import work
from scoring.page.state.files import header, loaded
from scoring.page.state.memory import echo, keep
from scoring.page.state.weights import points, sliders
from scoring.page.state.work import work_chosen
from scoring.questions import find_out
from scoring.questions.bad_unknowns import ranks_if_unknowns_turn_out_bad
from scoring.questions.best_map import BestMap, best_map, own_range
from scoring.questions.best_price import best_buy_price, present_price
from scoring.questions.firmness import NOTHING, Firmness, how_firm
from scoring.questions.swings import all_swings, level_value, present_lead
from scoring.records.firmness import firm_record
from scoring.text.firmness import firm_rows
from scoring.words import firmness
from scoring.words.evidence import mix_rests_on, unknowns, untold
from scoring.words.figures import figure, joined, number
from scoring.words.firmness import (
    FIRST,
    how_surely,
    kept_out_by,
    money_differs,
    when_to_stop,
)
from scoring.words.keys import what_asked
from scoring.words.turning import level_in_words, price_in_words
from scoring.words.verdict import who_leads

DRAWS = (1_000, 10_000, 100_000)
DEFAULT_DRAWS = 10_000
MOST_SEED = 2**31 - 1
KNOWN = {
    "stated": "about as stated",
    "order": "their order alone",
    "nothing": "nothing",
}
KNOWN_HELP = (
    "Weights are drawn from a Dirichlet distribution: around yours; evenly among all "
    "that keep the order of yours; or evenly among all. A weight of 0 stays 0."
)
DRAWS_HELP = (
    "Each draw takes one value of every uncertain figure (Beta-PERT) and one set of "
    "weights through the whole model: Monte Carlo. More draws shrink the error by "
    "1/√n; they do not make the answer firmer."
)
SEED_HELP = "Where chance starts. The same seed gives the same draws, on any computer."
PLACES_HELP = "Rank acceptability (SMAA-2): the share of draws with each place."
WORTH_HELP = (
    "Expected value of partial perfect information (EVPPI), with its standard error by "
    "Monte Carlo: how much better you would choose, on average, if you knew this alone."
)
SWING_HELP = (
    "One uncertain figure at a time is set to the lowest and the highest of its range, "
    "all others stay (one-way sensitivity, a tornado chart)."
)
STABILITY_HELP = (
    "Exact stability intervals: one weight moves, the others share the rest in their "
    "present proportions."
)
PRICE_HELP = (
    "What the seller would have to quote for the score to draw level with the best "
    "rival's, everything else as it is; found by bracketing (Brent's method). A quote "
    "itself is reckoned a little higher, as it may rise until it is paid."
)
REGRET_HELP = (
    "Net benefit: present value as a level sum a year. Regret: how much less it leaves "
    "than the best choice of each draw, on average. Result of a year: P10, P50, P90 of "
    "the draws, before tax, after your own pay."
)
CONFIDENCE_HELP = (
    "Confidence factor (SMAA-2): the share of first places with its central weights, "
    "the mean of those that put it first."
)
MORE_QUESTIONS = 12
KEPT = 4  # answers remembered, so that going back to a setting shows it at once


@dataclass(frozen=True)
class Answer:
    """Everything that the screen shows of one question to the engine."""

    firm: Firmness
    questions: tuple
    swings: tuple
    levels: dict  # (owner, path) → value at which a rival draws level
    record: dict | None  # of the command line; None where no machine is left
    prices: dict  # name → highest price of a best buy, or None
    bad_ranks: list
    best_map: BestMap
    own_range: object


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "How firm")
    if brief is None:
        echo()
        return
    try:
        model = work.asked(files, brief)
    except ScoringError as error:
        text.faults("These machines cannot be ranked for this work.", error)
        echo()
        return
    people, jobs = work_chosen(brief)
    weights = points(model)
    n_draws, seed, known = controls()
    try:
        results(answer(model, weights, n_draws, seed, known), is_us)
    except ScoringError as error:
        text.faults("How firm the answer is cannot be told for this work.", error)
    echo(
        **sliders(model),
        **{f"jobs_{n}": per_month for n, per_month in enumerate(jobs)},
        crew=people,
        draws=n_draws,
        seed=seed,
        known=known,
    )


def controls():
    """Draw what is asked of chance; return (number of draws, seed, known)."""
    keep("draws", DRAWS, DEFAULT_DRAWS)
    keep("known", list(KNOWN), "stated")
    st.session_state.setdefault("seed", 1)
    left, middle, right = st.columns([4, 4, 2], vertical_alignment="bottom")
    left.radio(
        "What is known of your weights",
        list(KNOWN),
        format_func=KNOWN.get,
        key="known",
        horizontal=True,
        help=KNOWN_HELP,
        persist_state="session",
    )
    middle.radio(
        "Draws of all that is uncertain",
        DRAWS,
        format_func=number,
        key="draws",
        horizontal=True,
        help=DRAWS_HELP,
        persist_state="session",
    )
    right.number_input(
        "Seed",
        0,
        MOST_SEED,
        step=1,
        key="seed",
        help=SEED_HELP,
        persist_state="session",
    )
    st.caption("Weights, crew and jobs a month are those set on the screen “Ranking”.")
    asked = (st.session_state[key] for key in ("draws", "seed", "known"))
    return tuple(asked)


def answer(model, weights, n_draws, seed, known):
    """Return the Answer, remembered or new; one that is broken off leaves nothing."""
    place = st.empty()
    values = (tuple(weights.items()), n_draws, seed, known)
    remembered = st.session_state.setdefault("firm_answers", [])
    for its_model, its_values, found in remembered:
        if its_model is model and its_values == values:
            return found
    bar = place.progress(0.0, f"0 of {number(n_draws)} draws")

    def on_progress(share):
        bar.progress(share, f"{number(share * n_draws)} of {number(n_draws)} draws")

    evaluation = reweigh(model, weights)
    found = _answered(
        how_firm(evaluation, n_draws, seed, known, on_progress=on_progress)
    )
    st.session_state["firm_answers"] = [(model, values, found), *remembered][:KEPT]
    place.empty()
    return found


def _answered(firm):
    """Return the Answer around a Firmness."""
    evaluation = firm.evaluation
    swings = all_swings(evaluation)
    questions = find_out.questions(firm)
    names = [evaluation.names[k] for k in evaluation.order]
    is_any = bool(evaluation.is_ranked.any())
    record = firm_record(firm, questions) if is_any else None
    return Answer(
        firm=firm,
        questions=questions,
        swings=swings,
        levels={
            (swing.owner, swing.path): level_value(evaluation, swing.owner, swing.path)
            for swing in swings[:TOP_SWINGS]
            if swing.turns
        },
        record=record,
        prices=record["break_even_price"]
        if record
        else {name: best_buy_price(evaluation, name) for name in names},
        bad_ranks=ranks_if_unknowns_turn_out_bad(evaluation),
        best_map=best_map(evaluation),
        own_range=own_range(evaluation, seed=firm.seed),
    )


def results(found, is_us):
    """Draw the answer from top to bottom."""
    verdict(found)
    left, right = st.columns([11, 9], gap="large")
    with left:
        places(found)
    with right:
        first_questions(found)
    every_place(found.firm)
    more_questions(found)
    left, right = st.columns(2, gap="large")
    with left:
        swings(found, is_us)
    with right:
        weight_ranges(found)
    left, right = st.columns(2, gap="large")
    with left:
        prices(found)
    with right:
        bad_news(found)
    maps(found, is_us)
    in_money(found)
    text.heading("How much of this rests on what")
    text.say(mix_rests_on(found.firm.evaluation))
    download(found)


def verdict(found):
    """Say who leads, how surely, and whether money says otherwise."""
    with st.container(key="verdict"):
        text.say(who_leads(found.firm.evaluation), how_surely(found.firm))
    text.say(money_differs(found.firm))
    text.caution("money")


def places(found):
    """Draw how often each machine has each place."""
    firm = found.firm
    text.heading("How often each place")
    with st.container(key="places_chart"):
        st.vega_lite_chart(place_rows(firm), places_spec(), key="places")
    st.caption(
        "Of all draws, the share in which a machine comes first, second and so on, or "
        "breaks one of your limits.",
        help=PLACES_HELP,
    )
    kept_out = kept_out_by(firm)
    if kept_out:
        with st.expander("Which limit rules out, and how often"):
            text.say(*kept_out)


def every_place(firm):
    """Draw the chart of places in words, and the tables behind it."""
    with st.expander("The chart in words, and every place"):
        text.say(*places_in_words(firm).split("\n"))
        _place_tables(firm)


def _place_tables(firm):
    names, order = firm.evaluation.names, by_first_place(firm)
    head = ["machine", *map(ordinal, range(1, len(order) + 1))]
    head += [OUT, "first with its own weights"]
    rows = [
        [
            names[k],
            *(figure(x, "share") for x in firm.acceptability[k, : len(order)]),
            figure(firm.ruled_out[k], "share"),
            figure(firm.confidence[k], "share"),
        ]
        for k in order
    ]
    text.table(head, rows, range(1, len(head)), "how often each place")
    st.caption("First with its own weights: its best case.", help=CONFIDENCE_HELP)
    rows = [
        [
            names[k],
            *("" if k == n else figure(firm.before[k, n], "share") for n in order),
        ]
        for k in order
    ]
    text.say("How often the machine of the row is ahead of that of the column:")
    head = ["machine", *(names[k] for k in order)]
    text.table(head, rows, range(1, len(head)), "who is ahead of whom, how often")


def first_questions(found):
    """Say what to find out first, what it is worth, and when to stop."""
    text.heading("What to find out first")
    with st.container(key="find_out"):
        asked = firmness.first_questions(found.firm, found.questions)
        text.say(*(f"{n}. {sentence}" for n, sentence in enumerate(asked, 1)))
        text.say(when_to_stop(found.firm))
    st.caption("Worth: of knowing this alone, in money a year.", help=WORTH_HELP)


def more_questions(found):
    """Draw the questions that come next."""
    asked = found.questions[FIRST:][:MORE_QUESTIONS]
    if not asked:
        return
    currency = f"{found.firm.evaluation.brief.currency}/year"
    text.say(f"The next {len(asked)}:")
    rows = [
        [
            what_asked(question),
            question.how,
            _worth(question, currency),
            joined(question.turns_to) or "–",
        ]
        for question in asked
    ]
    with st.container(key="more_questions"):
        head = ["what", "how to settle it", "worth", "who may lead"]
        text.table(head, rows, (2,), "what to find out next")
    st.caption(
        "A worth below twice its error is as good as nothing; such questions stand in "
        "the order in which they move the lead. Who may lead: those between whom it "
        "changes hands within the figure's range."
    )


def _worth(question, currency):
    error = figure(question.error, currency)
    if error == figure(0, currency):
        return figure(question.value, currency)
    return f"{number(question.value)} ± {error}"


def swings(found, is_us):
    """Draw what moves the lead how far, and where a rival draws level."""
    evaluation = found.firm.evaluation
    text.heading("What would turn it")
    if not found.swings:
        text.say("No single figure moves the lead within its range.")
        return
    lead = present_lead(evaluation)
    with st.container(key="swings_chart"):
        st.vega_lite_chart(
            swing_rows(evaluation, found.swings, lead, is_us),
            swings_spec(),
            key="swings",
        )
    st.caption(
        "How many points today's leader is ahead at either end of a figure's range; "
        "the grey line is its lead now.",
        help=SWING_HELP,
    )
    text.say(*_levels(found, is_us))
    with st.expander("The chart in words"):
        words = swings_in_words(evaluation, found.swings, is_us)
        text.say(*words.split("\n"))


def _levels(found, is_us):
    """Yield a sentence for each figure at which another comes level."""
    if not found.levels:
        yield "None of these figures alone gives the lead to another machine."
    for swing in found.swings:
        key = (swing.owner, swing.path)
        if key in found.levels:
            yield level_in_words(found.firm.evaluation, swing, found.levels[key], is_us)


def weight_ranges(found):
    """Draw between which values each weight may move."""
    text.heading("How far a weight may move")
    if found.record is None:
        text.say("No machine leads, so no weight can change that.")
        return
    evaluation, stability = found.firm.evaluation, found.record["stability"]
    with st.container(key="weights_chart"):
        st.vega_lite_chart(
            weight_rows(evaluation, stability),
            weights_spec(),
            key="weight_ranges",
        )
    st.caption(
        "Today's leader stays first while one weight moves within its bar.",
        help=STABILITY_HELP,
    )
    with st.expander("The chart in words"):
        words = weights_in_words(evaluation, stability)
        text.say(*words.split("\n"))


def prices(found):
    """Draw up to which price each machine is the best buy."""
    evaluation = found.firm.evaluation
    text.heading("Prices for talks")
    rows = [
        [
            evaluation.names[k],
            figure(
                present_price(evaluation, evaluation.names[k]),
                evaluation.brief.currency,
            ),
            price_in_words(
                evaluation, evaluation.names[k], found.prices[evaluation.names[k]]
            ),
        ]
        for k in evaluation.order
    ]
    with st.container(key="prices"):
        head = ["machine", "quoted now", "the best buy at a quote up to"]
        text.table(head, rows, (1, 2), "prices for talks")
    st.caption(
        "No such price: it breaks another limit, or is not first even for nothing.",
        help=PRICE_HELP,
    )


def bad_news(found):
    """Draw each machine's place if all that it leaves unknown turns out bad."""
    evaluation = found.firm.evaluation
    text.heading("If what is not told turns out bad")
    silent = [k for k in evaluation.order if unknowns(evaluation, k)]
    if not silent:
        text.say("No seller leaves anything untold that matters here.")
        return
    rows = [
        [
            evaluation.names[k],
            _place(evaluation.rank_weighted_sum[k]),
            _place(found.bad_ranks[k]),
        ]
        for k in silent
    ]
    with st.container(key="bad_news"):
        head = ["machine", "place now", "place then"]
        text.table(head, rows, (1, 2), "places if unknowns turn out bad")
    st.caption(
        "One at a time takes the worse end of all that its seller has not told. "
        "Machines that are not named leave nothing untold."
    )
    with st.expander("What is not told"):
        text.listed((evaluation.names[k], f"{untold(evaluation, k)}.") for k in silent)


def _place(rank):
    return ordinal(rank) if rank else OUT


def maps(found, is_us):
    """Draw who is best as the work grows or shrinks, by score and in money."""
    best = found.best_map
    text.heading("If your work were more, or larger")
    if not best.own_jobs > 0:
        text.say("Without any jobs there is nothing to draw.")
        return
    columns = st.columns(2, gap="large")
    grids = (
        ("By score", "score", best.by_score, NOBODY),
        ("In money (net present value)", "money", best.by_money, NOTHING),
    )
    names = on_map(best)
    for column, (said, key, grid, nobody) in zip(columns, grids, strict=True):
        with column:
            text.say(said)
            words = map_in_words(best, grid, found.own_range, nobody, is_us)
            with st.container(key=f"map_{key}_chart"):
                st.vega_lite_chart(
                    map_rows(best, grid, found.own_range, nobody, is_us),
                    map_spec(names, nobody, is_us),
                    key=f"map_{key}",
                )
            with st.expander("The map in words"):
                text.say(*words.split("\n"))
    st.caption(
        "The best machine when all your work grows or shrinks, in number and in size. "
        "The circle is your work now; the cross spans 8 in 10 draws of your ranges "
        "(P10 to P90)."
    )


def in_money(found):
    """Draw benefit, regret and results, and how often a job takes another day."""
    firm = found.firm
    names, brief = firm.evaluation.names, firm.evaluation.brief
    text.heading("In money, over all draws")
    currency = f"{brief.currency}/year"
    order = sorted(firm.alternatives, key=lambda k: -firm.benefit[k])
    rows = [
        [
            names[k],
            *(figure(x, currency) for x in (firm.benefit[k], firm.regret[k])),
            *(figure(x, currency) for x in firm.results[k]),
        ]
        for k in order
    ]
    nothing = [NOTHING, *(figure(x, currency) for x in (0, firm.regret_of_nothing))]
    head = ["machine", "net benefit", "what choosing it wrongly costs"]
    head += [
        "if figures turn out badly (P10)",
        "in the middle (P50)",
        "if they turn out well (P90)",
    ]
    with st.container(key="in_money"):
        rows.append([*nothing, "–", "–", "–"])
        text.table(head, rows, range(1, len(head)), "money over all draws")
    st.caption(
        "Costs: what you would leave on the table on average by choosing this one.",
        help=REGRET_HELP,
    )
    if not order:
        return
    text.say("How often a job takes more days than planned:")
    rows = [[names[k], *_spills(firm, k)] for k in order]
    head = ["machine", *(job.name for job in brief.work)]
    text.table(head, rows, range(1, len(head)), "how often a job spills over")


def _spills(firm, k):
    """Yield how often each kind of job spills over, "–" where it is not served."""
    served = firm.evaluation.outcome.can_do[0, k]
    for share, can_do in zip(firm.spills[k], served, strict=True):
        yield figure(share, "share") if can_do else "–"


def download(found):
    """Offer the places, prices and regrets as a file."""
    if found.record is None:
        return
    st.download_button(
        "How firm (CSV)",
        lambda: text.csv_bytes(firm_rows(found.record)),
        "how-firm.csv",
        "text/csv",
        key="download_firm",
        on_click="ignore",
    )


main()
