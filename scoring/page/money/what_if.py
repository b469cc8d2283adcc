"""What may be supposed on the screen "Money": another price, more work, interest."""

import streamlit as st

from scoring.page import text
from scoring.page.state.memory import keep, within
from scoring.page.state.moved import follow, put_away
from scoring.questions.changed import Change, supposed, times_work
from scoring.questions.from_jobs import jobs_today

RATE_HELP = (
    "What the same money would bring elsewhere; all later money is counted back to "
    "today at this rate. The interest of a loan stays as in the brief."
)
KEYS = ("money_machine", "curves", "work_asked", "rate", "prices_asked")


def what_if(model):
    """Draw the sliders; return the Evaluation with price, work and interest changed."""
    names = [model.names[k] for k in model.order]
    put_away("money", lambda: KEYS, model.brief, lambda: _fresh(model))
    keep("money_machine", names, names[0])
    st.selectbox("Machine", names, key="money_machine", persist_state="session")
    columns = st.columns(3, gap="medium")
    with columns[0]:
        prices = price_asked(model, st.session_state["money_machine"])
    usual, rate = jobs_today(model), interest(model)
    most_work = max(round(2 * usual, 1), usual + 1)
    follow("work_asked", round(usual, 1))
    follow("rate", rate)
    within("work_asked", 0.0, most_work)
    within("rate", min(0.0, rate), max(30.0, rate))
    columns[1].slider(
        "Jobs a month, all kinds",
        *(0.0, most_work),
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


def _fresh(model):
    """Set the screen as a brief finds it that was not seen yet."""
    st.session_state.pop("curves", None)
    st.session_state["money_machine"] = model.names[model.order[0]]
    reset(model)


def reset(model):
    """Set the sliders back to the brief and the price that is asked."""
    st.session_state["prices_asked"], st.session_state["price_of"] = {}, None
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
    step = max(1, int(round(usual / 200, 1 - len(str(usual // 200)))))
    low = usual - step * (usual // 2 // step)
    high = usual + step * max(1, 3 * usual // 10 // step)  # a slider goes somewhere
    prices = st.session_state.setdefault("prices_asked", {})
    if st.session_state.get("price_of") != name:  # each machine has its own
        st.session_state["price_of"] = name
        st.session_state["price_asked"] = prices.get(name, usual)
    within("price_asked", low, high)
    st.slider(
        f"Price asked, {price.currency}",
        *(low, high),
        step=step,
        key="price_asked",
        persist_state="session",
    )
    asked = st.session_state["price_asked"]
    prices[name] = asked
    return [] if asked == usual else [Change((name, "price"), likely=asked)]
