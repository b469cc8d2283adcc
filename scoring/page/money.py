"""The screen "Money": what it costs to your door, month by month, and in a bad year."""

from dataclasses import replace

import streamlit as st

from scoring import charts_money
from scoring.errors import ScoringError
from scoring.evaluation import evaluate
from scoring.explain import to_ask
from scoring.page import state, text
from scoring.wording import figure, number
from scoring.years import chances, low_points, plan_break_evens, years

TERMS = (
    ("present value (NPV)", "all later money counted back to today at your interest"),
    ("earned back (payback)", "the month from which the cash so far stays above zero"),
    (
        "all costs spread over a year",
        "all that is paid, less resale, as one sum each year (EAC)",
    ),
    ("P10, P50, P90", "one year in ten is below P10, half are below P50"),
    ("to your door", "price with freight, duty, tax, training, kit (landed cost)"),
)
MONTHS_HELP = (
    "By the month: delivery, the rise of demand, slow first builds, clients who pay "
    "later or not at all, the loan. Before tax and your own pay."
)
YEARS_HELP = (
    "2,000 simulated years: jobs come at random (Poisson), wait their turn, clients "
    "leave when it takes too long, breakdowns stop the machine."
)
AS_THE_ONLY_ONE = (
    "Each machine as if it were your only one; for keeping, adding or replacing a rig "
    "see the screen Second rig."
)
SHOWN_AT_FIRST = 3
LOCK_IN = (
    ("prints_if_fee_lapses", "prints on if the fee is not paid"),
    ("licence_transfers", "the licence goes with the machine when you sell it"),
    ("owner_may_swap_heads", "you may change heads yourself"),
)


def main():
    """Draw the screen."""
    files = state.loaded()
    brief, is_us = state.header(files, "Money")
    if brief is None:
        state.echo()
        return
    try:
        draw(what_if(state.asked(files, brief)), is_us)
    except ScoringError as error:
        text.faults("Money cannot be told for this work.", error)
    keys = ("money_machine", "price_factor", "work_factor", "rate")
    state.echo(**{key: st.session_state.get(key) for key in keys})


def what_if(model):
    """Draw the sliders; return the Evaluation with price, work and interest changed."""
    names = [model.names[k] for k in model.order]
    state.keep("money_machine", names, names[0])
    rate = round(100 * float(model.figures[2].discount_rate[0, 0, 0]))
    if st.session_state.get("rate_of") != model.brief.source:
        st.session_state["rate_of"] = model.brief.source
        st.session_state["money_machine"] = names[0]
        st.session_state.pop("curves", None)
        st.session_state.update(rate=rate, price_factor=100, work_factor=100)
    st.selectbox("Machine", names, key="money_machine", persist_state="session")
    columns = st.columns(3, gap="large")
    columns[0].slider(
        "Its price, % of the price asked",
        *(50, 130),
        key="price_factor",
        persist_state="session",
    )
    columns[1].slider(
        "Jobs a month, % of your work",
        *(20, 200),
        key="work_factor",
        persist_state="session",
    )
    columns[2].slider(
        "Interest a year, %", *(0, 30), key="rate", persist_state="session"
    )
    return changed(model, st.session_state["money_machine"])


def changed(model, name):
    """Return the Evaluation with price, work and interest as the sliders ask."""
    price = st.session_state["price_factor"] / 100
    work = st.session_state["work_factor"] / 100
    rate = st.session_state["rate"] / 100
    brief = model.brief
    jobs = tuple(
        job.model_copy(update={"per_month": scaled(job.per_month, work)})
        for job in brief.work
    )
    money = brief.money.model_copy(
        update={"discount_rate": fixed(brief.money.discount_rate, rate)}
    )
    machines = [
        machine.model_copy(update={"price": scaled(machine.price, price)})
        if machine.name == name and not machine.price.is_unknown
        else machine
        for machine in model.machines
    ]
    return evaluate(
        brief.model_copy(update={"work": jobs, "money": money}),
        machines,
        scale=model.scale,
        left_out=model.left_out,
    )


def scaled(quantity, factor):
    """Return a figure with its whole range scaled."""
    ends = ("low", "likely", "high")
    return replace(quantity, **{end: factor * getattr(quantity, end) for end in ends})


def fixed(quantity, value):
    """Return a figure that is this value, without a range."""
    return replace(quantity, low=value, likely=value, high=value)


def draw(evaluation, is_us):
    """Draw months, build-ups, years and plans."""
    found, chance = years(evaluation), chances(evaluation)
    names = [evaluation.names[k] for k in evaluation.order]
    chosen = st.session_state["money_machine"]
    months(found, names, chosen)
    left, right = st.columns(2, gap="large")
    with left:
        to_the_door(evaluation, chosen)
    with right:
        a_job(evaluation, chosen)
    spread(evaluation, chance, names)
    plans(evaluation, chosen)
    lock_in(evaluation, chosen)
    with st.expander("What these words mean"):
        text.listed(TERMS)


def months(found, names, chosen):
    """Draw the cash curves and what they come to."""
    text.heading("Cash, month by month")
    first = [chosen, *(n for n in names if n != chosen)][:SHOWN_AT_FIRST]
    shown = [n for n in st.session_state.get("curves", first) if n in names] or first
    st.session_state["curves"] = shown
    st.multiselect("Machines shown", names, key="curves", persist_state="session")
    shown = st.session_state["curves"] or [chosen]
    with st.container(key="cash_chart"):
        st.vega_lite_chart(
            charts_money.curve_rows(found, shown),
            charts_money.curve_spec(),
            key="cash_curves",
        )
    st.caption(
        "Diamond: earned back. Dashed: nothing lost, nothing won.", help=MONTHS_HELP
    )
    with st.expander("The chart in words"):
        text.say(*charts_money.curves_in_words(found, shown))
    text.say(low_points(found)[chosen])
    months_table(found, names)
    text.caution("money")
    text.say("A loan is owed even if the work does not come.")


def months_table(found, names):
    """Draw what the months of every machine come to."""
    currency = found.evaluation.brief.currency
    rows = []
    for name in names:
        k = found.evaluation.index(name)
        worth, back = found.worth, found.worth.payback_month[0, k]
        gap = found.funds_gap[k]
        rows.append(
            [
                named(found.evaluation, k),
                figure(-worth.low_point[0, k], currency),
                figure(gap, currency) if gap > 0 else "–",
                "never" if back == float("inf") else f"month {int(back)}",
                figure(worth.npv[0, k], currency),
                figure(worth.equivalent_annual_cost[0, k], f"{currency}/year"),
                figure(worth.cost_per_job[0, k], currency),
                carried(found.break_even_jobs[k]),
            ]
        )
    head = ["machine", "deepest in the red", "short of cash by", "earned back"]
    head += ["present value", "all costs spread over a year"]
    head += ["cost of an average job", "jobs a month to break even"]
    text.table(head, rows, range(1, 8), "what the months come to")
    if found.evaluation.brief.owned:
        text.say(AS_THE_ONLY_ONE)


def named(evaluation, k):
    """Return a machine's name, with what keeps it from the ranking."""
    return evaluation.names[k] + ("" if evaluation.is_ranked[k] else " (ruled out)")


def carried(n_jobs):
    """Return the jobs a month that carry a machine's year in words."""
    return "none do" if n_jobs == float("inf") else number(n_jobs, 1)


def to_the_door(evaluation, name):
    """Draw how the cost to the door builds up."""
    text.heading("To your door, line by line")
    k = evaluation.index(name)
    lines = [
        (key.replace("_", " "), float(line[0, k, 0]))
        for key, line in evaluation.outcome.upfront_lines._asdict().items()
        if line[0, k, 0]
    ]
    build_up(lines, "to your door", evaluation, "door")
    text.say(to_ask(evaluation.machines[k]))


def a_job(evaluation, name):
    """Draw what is left of one job of each kind."""
    text.heading("What a job leaves")
    k = evaluation.index(name)
    jobs = [job.name for job in evaluation.brief.work]
    state.keep("money_job", jobs, jobs[0])
    st.selectbox("Kind of job", jobs, key="money_job", persist_state="session")
    j = jobs.index(st.session_state["money_job"])
    if not evaluation.outcome.can_do[0, k, j]:
        text.say(f"{name} does not do this work.")
        return
    lines = [
        (key.replace("_", " "), float(line[0, k, j]))
        for key, line in evaluation.outcome.contribution_lines._asdict().items()
        if line[0, k, j]
    ]
    build_up(lines, "left after job costs", evaluation, "job")


def build_up(lines, total, evaluation, key):
    """Draw a build-up as bars and as a table."""
    currency = evaluation.brief.currency
    st.vega_lite_chart(
        charts_money.build_up_rows(lines, total, currency),
        charts_money.build_up_spec(),
        key=f"build_up_{key}",
    )
    rows = [[name, figure(amount, currency)] for name, amount in lines]
    rows.append([total, figure(sum(amount for _, amount in lines), currency)])
    text.table(["line", "amount"], rows, [1], total)


def spread(evaluation, chance, names):
    """Draw good and bad years."""
    text.heading("A good year, a bad year")
    st.vega_lite_chart(
        charts_money.year_rows(evaluation, chance, names),
        charts_money.years_spec(),
        key="years_chart",
    )
    currency = evaluation.brief.currency
    rows = []
    for name in names:
        k = evaluation.index(name)
        rows.append(
            [
                named(evaluation, k),
                *(figure(float(x), currency) for x in chance.results[:, k]),
                number(chance.turned_away[k], 1),
                number(chance.days_idle[k], 0),
                number(chance.backlog_weeks[1, k], 1),
                figure(chance.shortfall[k], "share"),
            ]
        )
    head = ["machine", "unlucky year (P10)", "middling (P50)", "lucky (P90)"]
    head += ["jobs turned away a year", "idle days a year", "weeks a client waits"]
    head += ["years that do not cover the loan"]
    text.table(head, rows, range(1, 8), "simulated years")
    st.caption(
        "Years after the first, with luck and breakdowns, the figures as stated. What "
        "is uncertain about the figures themselves is on the screen How firm; the two "
        "add up.",
        help=YEARS_HELP,
    )


def plans(evaluation, name):
    """Draw what each fee plan would leave, and from when the dearer one pays."""
    k = evaluation.index(name)
    text.heading("Fee plans")
    currency = f"{evaluation.brief.currency}/year"
    rows = [
        [
            plan.name + (" (chosen)" if plan.is_chosen else ""),
            figure(plan.fee, currency),
            figure(plan.year_result, currency),
        ]
        for plan in evaluation.plans[k]
    ]
    text.table(["plan", "fee", "would leave in a year"], rows, [1, 2], "fee plans")
    for cheap, dear, n_jobs in plan_break_evens(evaluation, k):
        if n_jobs is None:
            text.say(f"{dear} never pays against {cheap} with this mix of work.")
        else:
            text.say(
                f"{dear} pays against {cheap} from {number(n_jobs, 1)} jobs a month."
            )


def lock_in(evaluation, name):
    """Draw what ties the buyer to the seller."""
    text.heading("What ties you to the seller")
    support = evaluation.machines[evaluation.index(name)].support
    said = {True: "yes", False: "no", None: "not told: ask in writing"}
    rows = [[words, said[getattr(support, key)]] for key, words in LOCK_IN]
    text.table(["", ""], rows, label="ties to the seller")


main()
