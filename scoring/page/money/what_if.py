"""What may be supposed on the screen "Money": another price, more work, interest."""

import streamlit as st

from scoring.page import text
from scoring.page.state.memory import keep, within
from scoring.page.state.moved import put_away
from scoring.page.state.work import MOST_WORK, rates, reset_money, reset_work
from scoring.words.figures import number

RATE_HELP = (
    "What the same money would bring elsewhere; all later money is counted back to "
    "today at this rate. The interest of a loan stays as in the brief."
)
KEYS = ("money_machine", "curves")


def machine_asked(model):
    """Draw the choice of the machine; return its name."""
    names = [model.names[k] for k in model.order]
    put_away("money", lambda: KEYS, model.brief, lambda: _fresh(names))
    keep("money_machine", names, names[0])
    st.selectbox("Machine", names, key="money_machine", persist_state="session")
    return st.session_state["money_machine"]


def _fresh(names):
    """Set the screen as a brief finds it that was not seen yet."""
    st.session_state.pop("curves", None)
    st.session_state["money_machine"] = names[0]


def money_controls(base, name, jobs):
    """Draw the sliders of a machine's price, of all work and of interest.

    `jobs` are those a month of all kinds as things stand.
    """
    price_slider(base, name)
    work_slider(jobs)
    st.slider(
        "What your money should earn a year, %",
        *rates(base),
        step=0.5,
        format="%.1f",
        key="rate",
        help=RATE_HELP,
        persist_state="session",
    )
    st.button("Back to the brief", key="money_reset", on_click=reset, args=(base,))


def reset(base):
    """Set price, work and interest back to the sheets' and the brief's."""
    reset_work(base.brief)
    reset_money(base)


def work_slider(jobs):
    """Draw the slider of all work, in per cent of the brief's."""
    st.slider(
        "Work there is, % of your brief",
        0,
        MOST_WORK,
        key="work_share",
        help=f"Now {number(jobs, 1)} jobs a month of all kinds.",
        persist_state="session",
    )


def price_slider(base, name):
    """Draw the slider of a machine's price, which all screens share."""
    price = base.machines[base.index(name)].price
    if price.is_unknown or price.likely < 1:
        text.say("Nobody tells a price of this machine.")
        return
    usual = round(price.likely)
    step = max(1, int(round(usual / 200, 1 - len(str(usual // 200)))))
    low = usual - step * (usual // 2 // step)
    high = usual + step * max(1, 3 * usual // 10 // step)  # a slider goes somewhere
    if st.session_state.get("price_of") != name:  # each machine has its own
        st.session_state["price_of"] = name
        prices = st.session_state["prices_asked"]
        st.session_state["price_asked"] = round(prices.get(name, usual))
    within("price_asked", low, high)
    st.slider(
        f"Price asked, {price.currency}",
        *(low, high),
        step=step,
        key="price_asked",
        on_change=_note_price,
        args=(name, usual),
        persist_state="session",
    )


def _note_price(name, usual):
    """Note a price that was moved, before anything is drawn with it."""
    asked = st.session_state["price_asked"]
    st.session_state["prices_asked"].pop(name, None)
    if asked != usual:
        st.session_state["prices_asked"][name] = float(asked)
