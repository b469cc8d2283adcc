"""The screen "Money": what it costs to your door, month by month, and in a bad year."""

import streamlit as st

from scoring.charts.build_up import build_up_rows, build_up_spec
from scoring.charts.cash import curve_rows, curve_spec, curves_in_words
from scoring.charts.years import year_rows, years_spec
from scoring.errors import ScoringError
from scoring.page import text
from scoring.page.state import work as work_state
from scoring.page.state.files import header, loaded
from scoring.page.state.memory import echo, keep
from scoring.questions.changed import Change, supposed, times_work
from scoring.questions.from_jobs import jobs_needed, jobs_today, plan_break_evens
from scoring.questions.years import chances, if_wrong, years
from scoring.words.evidence import to_ask
from scoring.words.figures import figure, number
from scoring.words.money import (
    IF_WRONG,
    back_in_words,
    cost_of_use,
    does_it_pay,
    how_paid,
    low_point,
    returns,
)

MEANINGS = {
    "earned back": "payback: the month from which the cash so far stays above zero",
    "with interest": "discounted payback: the same, later money counting for less",
    "deepest in the red": "the lowest point of cash so far",
    "present value": "NPV: all later money counted back to today at your interest",
    "all costs spread over a year": "equivalent annual cost (EAC), less resale",
}
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
    "later or not at all, the loan. Before tax, after your own pay."
)
RATE_HELP = (
    "What the same money would bring elsewhere; all later money is counted back to "
    "today at this rate. The interest of a loan stays as in the brief."
)
YEARS_HELP = (
    "Simulated years: jobs come at random (Poisson), wait their turn, clients "
    "leave when it takes too long, breakdowns stop the machine. First come, first "
    "served: where days run short, neither must-serve work nor the best goes first."
)
AS_THE_ONLY_ONE = (
    "Each machine as if it were your only one; for keeping, adding or replacing a rig "
    "see the screen Second rig."
)
SHOWN_AT_FIRST = 3
N_YEARS = (2_000, 10_000, 50_000)
LOCK_IN = (
    ("support.prints_if_fee_lapses", "prints on if the fee is not paid"),
    ("support.licence_transfers", "the licence goes with the machine when you sell it"),
    ("ink.sold_by_others", "ink is to be had from others too"),
    ("support.owner_may_swap_heads", "you may change heads yourself"),
    ("wear.head_price", "a new head costs"),
    ("support.head_lead_time", "a new head takes"),
    ("support.in_your_hours", "answers in your working hours"),
    ("support.in_your_language", "answers in your language"),
)


def main():
    """Draw the screen."""
    files = loaded()
    brief, is_us = header(files, "Money")
    if brief is None:
        echo()
        return
    try:
        draw(what_if(work_state.asked(files, brief)), is_us)
    except ScoringError as error:
        text.faults("Money cannot be told for this work.", error)
    keys = ("money_machine", "price_asked", "work_asked", "rate")
    echo(**{key: st.session_state.get(key) for key in keys})


def what_if(model):
    """Draw the sliders; return the Evaluation with price, work and interest changed."""
    names = [model.names[k] for k in model.order]
    keep("money_machine", names, names[0])
    if st.session_state.get("money_of") is not model.brief:
        st.session_state["money_of"] = model.brief
        st.session_state["money_machine"] = names[0]
        st.session_state.pop("curves", None)
        reset(model)
    st.selectbox("Machine", names, key="money_machine", persist_state="session")
    columns = st.columns(3, gap="medium")
    with columns[0]:
        prices = price_asked(model, st.session_state["money_machine"])
    usual, rate = jobs_today(model), interest(model)
    columns[1].slider(
        "Jobs a month, all kinds",
        *(0.0, max(round(2 * usual, 1), usual + 1)),
        step=0.1,
        format="%.1f",
        key="work_asked",
        persist_state="session",
    )
    columns[2].slider(
        "What your money should earn a year, %",
        *(min(0.0, rate), max(30.0, rate)),
        step=0.5,
        format="%.1f",
        key="rate",
        help=RATE_HELP,
        persist_state="session",
    )
    st.button("Back to the brief", key="money_reset", on_click=reset, args=(model,))
    asked, asked_rate = st.session_state["work_asked"], st.session_state["rate"]
    work = 1.0 if asked == round(usual, 1) or not usual else asked / usual
    changes = [*prices, *(times_work(model, work) if work != 1 else ())]
    if asked_rate != rate:
        key = ("brief", "money.discount_rate")
        changes.append(Change(key, known=asked_rate / 100))
    return supposed(model, changes)


def reset(model):
    """Set the sliders back to the brief and the price that is asked."""
    st.session_state["price_of"] = None
    st.session_state["rate"] = interest(model)
    st.session_state["work_asked"] = round(jobs_today(model), 1)


def interest(model):
    """Return the discount rate in per cent, as the slider shows it."""
    return round(100 * float(model.figures.buyer.discount_rate[0, 0, 0]), 1)


def price_asked(model, name):
    """Draw the slider of a machine's price; return [Change], none if unmoved."""
    price = model.machines[model.index(name)].price
    if price.is_unknown or price.likely < 1:
        text.say("Nobody tells a price of this machine.")
        return []
    usual = round(price.likely)
    if st.session_state.get("price_of") != name:
        st.session_state["price_of"] = name
        st.session_state["price_asked"] = usual
    step = max(1, int(round(usual / 200, 1 - len(str(usual // 200)))))
    st.slider(
        f"Price asked, {price.currency}",
        *(
            usual - step * (usual // 2 // step),
            usual + step * (3 * usual // 10 // step),
        ),
        step=step,
        key="price_asked",
        persist_state="session",
    )
    asked = st.session_state["price_asked"]
    return [] if asked == usual else [Change((name, "price"), likely=asked)]


def draw(evaluation, is_us):
    """Draw months, build-ups, years and plans."""
    found = years(evaluation)
    names = [evaluation.names[k] for k in evaluation.order]
    chosen = st.session_state["money_machine"]
    k = evaluation.index(chosen)
    with st.container(key="verdict"):
        text.say(does_it_pay(found, k))
    text.say(*how_paid(found, k), low_point(found, k))
    text.caution("money")
    goes_wrong(found, k)
    months(found, names, chosen)
    months_table(found, names)
    text.say(returns(found, k), cost_of_use(found, k, is_us))
    left, right = st.columns(2, gap="large")
    with left:
        to_the_door(evaluation, chosen)
    with right:
        a_job(evaluation, chosen)
    spread(evaluation, names)
    plans(evaluation, chosen)
    lock_in(evaluation, chosen)
    with st.expander("What these words mean"):
        text.listed(TERMS)


def goes_wrong(found, k):
    """Draw what becomes of a machine when work, delivery or payment disappoint."""
    text.heading("If things go wrong")
    evaluation = found.evaluation
    currency, rows = evaluation.brief.currency, []
    for case, months_then in if_wrong(found).items():
        words = IF_WRONG[case]
        if months_then is None:
            rows.append([words, "beyond the years looked at", "–", "–"])
            continue
        worth = months_then.worth
        back = back_in_words(worth.payback_month[0, k])
        amounts = (-worth.low_point[0, k], worth.npv[0, k])
        rows.append([words, back, *(figure(x, currency) for x in amounts)])
    head = [evaluation.names[k], "earned back", "deepest in the red", "present value"]
    text.table(head, rows, range(1, 4), "if things go wrong")
    if found.instalments_a_year[k] > 0:
        text.say("The instalments are owed even if the work does not come.")


def months(found, names, chosen):
    """Draw the cash curves."""
    text.heading("Cash, month by month")
    first = [name for name in names if name != chosen][: SHOWN_AT_FIRST - 1]
    with_it = st.session_state.get("curves", first)
    st.session_state["curves"] = [n for n in with_it if n in names and n != chosen]
    others = [name for name in names if name != chosen]
    st.multiselect("Compared with", others, key="curves", persist_state="session")
    shown = [chosen, *st.session_state["curves"]]
    with st.container(key="cash_chart"):
        st.vega_lite_chart(
            curve_rows(found, shown),
            curve_spec(found.evaluation.brief.currency),
            key="cash_curves",
        )
    st.caption(
        "Diamond: earned back. Dashed: nothing lost, nothing won.", help=MONTHS_HELP
    )
    with st.expander("The chart in words"):
        text.say(*curves_in_words(found, shown))


def months_table(found, names):
    """Draw what the months of every machine come to."""
    evaluation = found.evaluation
    currency, jobs = evaluation.brief.currency, jobs_needed(evaluation)
    has_hour = evaluation.brief.money.own_hour is not None
    rows = []
    for name in names:
        k = evaluation.index(name)
        worth, gap = found.worth, found.funds_gap[k]
        own = evaluation.outcome.year.before_pay[0, k, 0]
        rows.append(
            [
                named(evaluation, k),
                back_in_words(worth.payback_month[0, k]),
                back_in_words(worth.discounted_payback_month[0, k]),
                figure(-worth.low_point[0, k], currency),
                figure(gap, currency) if gap > 0 else "–",
                figure(worth.npv[0, k], currency),
                *([figure(own, currency)] if has_hour else []),
                carried(jobs.to_cover[k]),
                carried(jobs.to_earn_back[k]),
                figure(worth.equivalent_annual_cost[0, k], f"{currency}/year"),
                figure(worth.cost_per_job[0, k], currency),
            ]
        )
    head = ["machine", "earned back", "with interest", "deepest in the red"]
    head += ["short of cash by"]
    head += ["present value"]
    head += ["full year after your own hours"] if has_hour else []
    head += ["jobs a month that cover a year's costs"]
    head += ["jobs a month that earn the machine back too"]
    head += ["all costs spread over a year", "cost of an average job"]
    columns = range(1, len(head))
    text.table(head, rows, columns, "what the months come to", MEANINGS)
    if evaluation.brief.owned:
        text.say(AS_THE_ONLY_ONE)


def named(evaluation, k):
    """Return a machine's name, with what keeps it from the ranking."""
    return evaluation.names[k] + ("" if evaluation.is_ranked[k] else " (ruled out)")


def carried(n_jobs):
    """Return the jobs a month from which something pays in words."""
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
    text.say(grown(evaluation, k))
    text.say(to_ask(evaluation.machines[k]))


def grown(evaluation, k):
    """Return how a price that is only quoted counts, "" where it counts as it is."""
    price = evaluation.evidence[evaluation.names[k], "price"]
    counted = float(evaluation.drawn[evaluation.names[k], "price"][0])
    home = evaluation.brief.currency
    told = evaluation.machines[k].price.likely
    if price.is_unknown or price.currency != home or abs(counted - told) < 1:
        return ""
    asked = figure(told, home)
    return (
        f"The price told is {asked} ({price.basis}); what is only {price.basis} may "
        f"turn out otherwise, so it counts as {figure(counted, home)} on average."
    )


def a_job(evaluation, name):
    """Draw what is left of one job of each kind."""
    text.heading("What a job leaves")
    k = evaluation.index(name)
    jobs = [job.name for job in evaluation.brief.work]
    keep("money_job", jobs, jobs[0])
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
        build_up_rows(lines, total, currency),
        build_up_spec(),
        key=f"build_up_{key}",
    )
    rows = [[name, figure(amount, currency)] for name, amount in lines]
    rows.append([total, figure(sum(amount for _, amount in lines), currency)])
    text.table(["line", "amount"], rows, [1], total)


def simulated(evaluation):
    """Draw how many years to simulate, and how far it is; return the Chances."""
    keep("n_years", N_YEARS, N_YEARS[0])
    st.radio(
        "Years to simulate",
        N_YEARS,
        format_func=number,
        horizontal=True,
        key="n_years",
        persist_state="session",
    )
    n_years = st.session_state["n_years"]
    if n_years == N_YEARS[0]:  # done before a bar is read
        return chances(evaluation, n_years)
    bar = st.progress(0.0, "Simulating")
    found = chances(evaluation, n_years, on_progress=bar.progress)
    bar.empty()
    return found


def spread(evaluation, names):
    """Draw good and bad years."""
    text.heading("A good year, a bad year")
    chance = simulated(evaluation)
    st.vega_lite_chart(
        year_rows(evaluation, chance, names),
        years_spec(evaluation.brief.currency),
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
    is_lent = evaluation.brief.payment.way in ("loan", "lease")
    head += ["years that lose money" + (", loan or lease paid" if is_lent else "")]
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
        if n_jobs == float("inf"):
            text.say(f"{dear} never pays against {cheap} with this mix of work.")
        else:
            text.say(
                f"{dear} pays against {cheap} from {number(n_jobs, 1)} jobs a month."
            )


def lock_in(evaluation, name):
    """Draw what ties the buyer to the seller."""
    text.heading("What ties you to the seller")
    machine = evaluation.machines[evaluation.index(name)]
    rows = [[words, tie(machine, key)] for key, words in LOCK_IN]
    text.table(["tie", "as told"], rows, label="ties to the seller")
    if machine.support.licence_transfers is False:
        text.say(
            "Without the licence a used machine is worth nothing: resale counts 0."
        )


def tie(machine, key):
    """Return what a sheet tells of one tie to the seller."""
    told = machine
    for part in key.split("."):
        told = getattr(told, part)
    if told is None or getattr(told, "is_unknown", False):
        return "not told: ask in writing"
    if isinstance(told, bool):
        return "yes" if told else "no"
    return figure(told.likely, told.unit)


main()
