"""The screen "Second rig": keep, add or replace, and which rig does which work."""

import streamlit as st

from scoring.charts.cash import change_curve_rows, curve_spec
from scoring.charts.change import change_rows, change_spec
from scoring.charts.choices import choice_rows, choices_spec
from scoring.charts.shared_work import shared_work_rows, shared_work_spec
from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.answer.bar import draw_bar, title_and_bar
from scoring.page.money.what_if import work_slider
from scoring.page.state.files import header, loaded
from scoring.page.state.folds import fold
from scoring.page.state.memory import echo, keep, within
from scoring.page.state.moved import put_away
from scoring.page.state.shared import shared
from scoring.page.state.work import WHOLE, asked, baseline, weighed
from scoring.questions.changed import Change, supposed
from scoring.questions.fleet.break_even import break_even
from scoring.questions.fleet.change_money import brings, sale_worth
from scoring.questions.fleet.choices import KEEP, choices
from scoring.questions.fleet.less_work import less_work
from scoring.questions.fleet.ranges import ranges
from scoring.questions.from_jobs import jobs_today
from scoring.records.fleet import fleet_record
from scoring.text.fleet import fleet_rows
from scoring.words.figures import about, figure, number
from scoring.words.fleet import (
    break_evens_in_words,
    how_sure,
    not_chosen,
    payback_in_words,
    unlike_ranking,
    which_choice,
)

CREWS_HELP = (
    "A linear programme shares the work: each rig in its own diary, all of them out of "
    "the crews' days. A rig goes out with as few people as it needs; crews beyond the "
    "owner's are paid their wage."
)
MEANINGS = {
    "earned back": "months from signing until the cash of the change stays above zero",
    "present value": "NPV: later years counted back to today at your rate",
    "score": "weighted sum of what matters to you, 0 to 1",
    "nearness": "TOPSIS: nearness to the best of all choices, 0 to 1",
}
WORKS_ALONE = (
    "This plan sends people out alone. Whether one person may work alone beside a tall "
    "column, UV lamps and mains is not checked here: local rules and your insurer "
    "decide."
)
FOLDED = ("years", "sale")  # of when a change pays: the verdict says how soon
STAND_IN_HELP = (
    "What it saves in a year that one rig can stand in for the other while it is down; "
    "not part of the year's money."
)


def main():
    """Draw the screen."""
    files = loaded()
    brief, _ = header(files, "Second rig")
    if brief is None:
        echo()
        return
    try:
        model, base = asked(files, brief), baseline(files, brief)
        place = title_and_bar(base, model)
        draw(choices(weighed(what_if(model))))
        draw_bar(place, base, model)
    except ScoringError as error:
        text.faults("Choices of rigs cannot be told for this work.", error)
    keys = ("choice", "work_share", "rigs_price", "rigs_brings_0")
    echo(**{key: st.session_state.get(key) for key in keys})


def what_if(model):
    """Draw the sliders; return the Evaluation with prices and sales changed."""
    put_away("rigs", _keys, model.brief, lambda: reset(model))
    within("rigs_price", 50, 150)
    columns = st.columns(3, gap="medium")
    with columns[0]:
        work_slider(jobs_today(model))
    columns[1].slider(
        "Prices of new rigs, % of asked",
        *(50, 150),
        key="rigs_price",
        persist_state="session",
    )
    sales = []
    for n, rig in enumerate(model.brief.owned):
        with columns[2 - n % 3]:
            sales += sale(model, n, rig)
    st.button("Back to the brief", key="rigs_reset", on_click=_reset, args=(model,))
    factor = st.session_state["rigs_price"] / 100
    prices = [
        Change((machine.name, "price"), times=factor)
        for machine in model.machines
        if factor != 1 and not machine.price.is_unknown
    ]
    changes = [*prices, *sales]
    return supposed(model, changes) if changes else model


def _keys():
    return [key for key in st.session_state if str(key).startswith("rigs_")]


def _reset(model):
    """Set all sliders of the screen back to the brief."""
    st.session_state["work_share"] = WHOLE
    reset(model)


def reset(model):
    """Set prices of new rigs, and what old ones bring, back to what is told."""
    st.session_state["rigs_price"] = 100
    for n, _ in enumerate(model.brief.owned):
        st.session_state[f"rigs_brings_{n}"] = round(sale_worth(model, n))


def sale(model, n, rig):
    """Draw the slider of what an owned rig brings; return [Change], none if unmoved."""
    usual = round(sale_worth(model, n))
    most = max(2 * usual, 1000)
    st.session_state.setdefault(f"rigs_brings_{n}", usual)  # a rig more than before
    within(f"rigs_brings_{n}", 0, most)
    st.slider(
        f"{text.escaped(rig.machine)}, {figure(rig.age.likely)} years old, brings when "
        f"sold, {model.brief.currency}",
        *(0, most),
        step=100 if usual % 100 == 0 else 1,
        key=f"rigs_brings_{n}",
        persist_state="session",
    )
    asked = st.session_state[f"rigs_brings_{n}"]
    return [] if asked == usual else [brings(model, n, asked)]


def draw(found):
    """Draw which choice comes first, from when it pays, and what else there is."""
    if not found.evaluation.brief.owned:
        text.say("You told of no rig that you own: the choices are what to buy first.")
    with st.container(key="verdict"):
        text.say(which_choice(found))
    text.caution("money")
    names = [found.choices[c].name for c in found.order]
    keep("choice", names, names[0])
    st.selectbox("Choice", names, key="choice", persist_state="session")
    choice = found.choices[found.order[names.index(st.session_state["choice"])]]
    if choice.name != KEEP:
        what_breaks_even(found, choice)
    in_full(found, choice)
    spread = shared("ranges", (found,), "", lambda: ranges(found))
    text.heading("How sure it is")
    text.say(how_sure(found, spread))
    spread_picture(found, spread)
    if choice.name != KEEP and found.evaluation.brief.owned:
        fold(
            "Cash of the change, month by month",
            "change",
            lambda: by_month(found, choice),
        )
    fold("If less of the work comes", "less_work", lambda: if_less(found))
    with st.expander("All choices in figures"):
        text.table(*short_table(found), range(1, 4), "choices side by side")
        text.say(*not_chosen(found))
        side_by_side(found)
    st.download_button(
        "Choices (CSV)",
        lambda: text.csv_bytes(fleet_rows(fleet_record(found, spread))),
        "choices.csv",
        "text/csv",
        key="download_choices",
        on_click="ignore",
    )


def spread_picture(found, spread):
    """Draw what each choice leaves a year, with its range."""
    with st.container(key="choices_chart"):
        st.vega_lite_chart(
            choice_rows(found, spread),
            choices_spec(found.evaluation.brief.currency),
            key="choices_by_money",
        )
    st.caption(
        "Bar: 8 of 10 draws; dot: to expect.", help="What a choice costs is in it."
    )


def short_table(found):
    """Return (head, rows) of what each choice adds, costs and when it is back."""
    currency, rows = found.evaluation.brief.currency, []
    for c in found.order:
        choice = found.choices[c]
        figures = ["–", "–", "–"]
        if choice.name != KEEP:
            figures = [
                about(choice.added_result, f"{currency}/year"),
                about(choice.added_upfront, currency),
                payback_in_words(choice, found),
            ]
        rows.append([choice.name, *figures])
    now = "more than now" if found.evaluation.brief.owned else "more than nothing"
    return ["choice", now, "to pay", "earned back"], rows


def if_less(found):
    """Draw what comes first with less work than is told."""
    evaluation = found.evaluation
    every = shared("less_work", (evaluation,), "", lambda: less_work(evaluation))
    text.listed(
        (f"{share:.0%} of the work", which_choice(then)) for share, then in every
    )


def side_by_side(found):
    """Draw all choices with their money and their places."""
    currency = found.evaluation.brief.currency
    has_two = any(len(choice.rigs) > 1 for choice in found.choices)
    rows = []
    for c in found.order:
        choice = found.choices[c]
        rows.append(
            [
                choice.name,
                str(found.rank_weighted_sum[c]),
                about(choice.year_result, currency),
                about(choice.npv, currency) if choice.name != KEEP else "–",
                *([about(choice.stand_in_value, currency)] if has_two else []),
                f"{found.weighted_sum[c]:.3f}",
                f"{found.topsis[c]:.3f}",
            ]
        )
    head = ["choice", "place", "left in a year", "present value"]
    head += ["one rig covering for another"] if has_two else []
    head += ["score", "nearness"]
    columns = range(1, len(head))
    text.table(head, rows, columns, "all figures of the choices", MEANINGS)
    st.caption(
        "Money before tax, after your own pay.", help=STAND_IN_HELP if has_two else None
    )
    text.say(" ".join(unlike_ranking(found)))


def by_month(found, choice):
    """Draw the cash of a change, month by month."""
    with st.container(key="change_curve_chart"):
        st.vega_lite_chart(
            change_curve_rows(found, choice),
            curve_spec(found.evaluation.brief.currency, is_single=True),
            key="change_curve",
        )
    st.caption(
        "Against keeping things as they are: paid for as your brief says, a replaced "
        "rig sold and its loan settled at delivery, what is added rising with demand. "
        "Slow first builds and clients who pay late are not in it. Diamond: earned "
        "back."
    )


def what_breaks_even(found, choice):
    """Draw from how much work, and up to which price, a change pays."""
    even = break_even(found, choice)
    told = list(break_evens_in_words(found, choice, even))
    text.listed([each for each in told if each[0] not in FOLDED])
    with st.container(key="change_chart"):
        st.vega_lite_chart(
            change_rows(found, even),
            change_spec(found.evaluation.brief.currency),
            key="change_by_work",
        )
    st.caption(
        "Dashed: neither wins nor loses. Dotted: your work now.",
        help="The work is shared anew at each point; the rest stays as it is.",
    )
    with st.expander("When it is earned back"):
        text.listed([each for each in told if each[0] in FOLDED])


def in_full(found, choice):
    """Draw which rig does how many of which jobs in an average month."""
    text.heading("Who does what")
    with st.container(key="work_chart"):
        st.vega_lite_chart(
            shared_work_rows(found, choice),
            shared_work_spec(found, choice),
            key="who_does_what",
        )
    plan = choice.plan
    crews = "One crew" if plan.n_crews == 1 else f"{plan.n_crews} crews"
    st.caption(
        f"{crews}, {number(plan.crew_days, 1)} days booked a month.", help=CREWS_HELP
    )
    with st.expander("The picture in figures"):
        work_table(found, choice)
    people = found.evaluation.brief.crew.people
    if people > 1 and any(rig.people == 1 for rig in choice.rigs):
        text.say(WORKS_ALONE)
    text.caution("lifting", "assembled", "van")


def work_table(found, choice):
    """Draw the jobs a month of each kind by rig, and how many people go with it."""
    work = found.evaluation.brief.work
    wanted = found.evaluation.figures.jobs.per_month[0, 0]
    rigs = [rig.name for rig in choice.rigs]
    rows = [
        [
            job.name,
            *(number(choice.assignment[job.name].get(rig, 0.0), 1) for rig in rigs),
            number(wanted[j], 1),
        ]
        for j, job in enumerate(work)
    ]
    rows.append(["people on this rig", *(str(rig.people) for rig in choice.rigs), ""])
    head = ["jobs a month", *rigs, "wanted"]
    text.table(head, rows, range(1, len(head)), "which rig does which work")


main()
