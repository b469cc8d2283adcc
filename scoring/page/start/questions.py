"""The seven questions of the screen Start, and what is assumed beside them."""

import streamlit as st

from scoring.inputs.case.starter import (
    SECOND,
    UNITS,
    Answers,
    KindOfJob,
    is_alike,
    starter,
    typical,
)
from scoring.page import text
from scoring.words.keys import WORDS

CURRENCIES = ("EUR", "USD", "GBP", "CHF", "CAD", "AUD", "NZD", "SEK", "NOK", "DKK")
CURRENCIES += ("PLN", "CZK", "HUF", "RON", "INR", "ZAR", "BRL", "MXN", "JPY")
MOST_PEOPLE = 4
COUNTS = {"sold": "sold", "asked": "asked for", "hoped": "hoped for"}
OF_MONTHS = "in three months"
STAYS = {"persist_state": "session"}


def ask(door):
    """Draw the questions; each keeps what was answered under a key of its own."""
    text.heading("1. Which money do you count in?")
    _default("start_currency", "EUR")
    st.selectbox(
        "Currency", CURRENCIES, key="start_currency", accept_new_options=True, **STAYS
    )
    currency = _currency()
    if not is_alike(currency):
        _text("start_per_euro", f"One euro is about so many {currency}", "25")
    jobs(currency)
    text.heading("3. Who goes to the wall?")
    left, right = st.columns(2)
    with left:
        _default("start_people", "1")
        people = [str(n) for n in range(1, MOST_PEOPLE + 1)]
        st.segmented_control(
            "People, you among them", people, key="start_people", required=True, **STAYS
        )
    with right:
        _text("start_lift", "What one of you lifts, kg", "25 unless told")
    text.caution("lifting")
    text.heading("4. How many days a week?")
    _default("start_days", "5")
    _text("start_days", "Days a week for walls")
    text.heading("5. What can you spend?")
    left, right = st.columns(2)
    with left:
        _text("start_cash", f"Cash, {currency}", "20 000")
    with right:
        _text("start_credit", f"Credit you could get, {currency}", "none unless told")
    text.heading("6. What is an hour of yours worth?")
    hour = starter()["brief"]["money.own_hour"]
    hint = f"{hour} unless told" if is_alike(currency) else "such as 18 euro"
    _text("start_own_hour", f"Your own hour, {currency}/h", hint)
    text.note("What you would earn elsewhere. Hours that cost nothing flatter.")
    if door == SECOND:
        text.heading("7. Which machine do you run?")
        text.say("Type its sheet on the screen Machines, then add it under Work.")


def jobs(currency):
    """Draw the choice of kinds of job, and size, price and counts of each."""
    text.heading("2. Which walls do people ask you for?")
    kinds = list(starter()["kinds"])
    _default("start_kinds", [])
    st.pills(
        "Common kinds of job",
        kinds,
        key="start_kinds",
        selection_mode="multi",
        label_visibility="collapsed",
        **STAYS,
    )
    _text("start_other", "Another kind, by your own name", "none")
    for n, name in enumerate(_names()):
        of_job(n, name, currency)
    if _names():
        text.note(
            "Sizes and prices are typical ones [e: our own estimate]; type yours over "
            f"them. How many {OF_MONTHS}: sold, asked for, or only hoped for."
        )


def of_job(n, name, currency):
    """Draw one kind of job in a row."""
    usual = _usual(name)
    with st.container(key=f"job_row_{n}"):
        st.markdown(f"**{text.escaped(name)}**")
        columns = st.columns(6)
        for column, key, label, held in (
            (columns[0], "width", "Width, m", usual.width),
            (columns[1], "height", "Height, m", usual.height),
            (columns[2], "price", f"{currency}/m²", usual.price),
        ):
            with column:
                _default(f"start_{key}_{name}", held)
                _text(f"start_{key}_{name}", label)
        for column, (key, label) in zip(columns[3:], COUNTS.items(), strict=True):
            with column:
                _text(f"start_{key}_{name}", label.capitalize(), "0")


def answers(door):
    """Return the Answers as they stand."""
    return Answers(
        jobs=tuple(_job(name) for name in _names()),
        currency=_currency(),
        people=int(_said("start_people") or 1),
        lift=_said("start_lift"),
        days=_said("start_days"),
        cash=_said("start_cash"),
        credit=_said("start_credit"),
        own_hour=_said("start_own_hour"),
        door=door,
        per_euro=_said("start_per_euro"),
    )


def assumed(currency):
    """Draw what the case will hold that nobody said."""
    rows = []
    for path, value in starter()["brief"].items():
        key = path.rpartition(".")[2]
        unit = f" {currency}{UNITS[key]}" if key in UNITS else ""
        if not unit or is_alike(currency):
            rows.append([WORDS.get(key, key.replace("_", " ")), f"{value}{unit}"])
    for key, value in starter()["job"].items():
        is_sum = key == "artwork_fee"
        if not is_sum or is_alike(currency):
            unit = f" {currency}" if is_sum else ""
            said = WORDS.get(key, key.replace("_", " "))
            rows.append([f"each job: {said}", f"{value}{unit}"])
    text.table(["", "assumed [e]"], rows, label="what is assumed")
    comes = starter()["comes"]
    shares = [f"{round(100 * comes[key][1])} % of those {COUNTS[key]}" for key in comes]
    text.note(
        f"Jobs that come: {', '.join(shares)}. All of it can be changed under Work."
    )


def _job(name):
    counts = {key: _count(f"start_{key}_{name}") for key in COUNTS}
    usual = _usual(name)
    sides = [
        _said(f"start_{key}_{name}", held)
        for key, held in (
            ("width", usual.width),
            ("height", usual.height),
            ("price", usual.price),
        )
    ]
    return KindOfJob(name, *sides, **counts)


def _count(key):
    """Return a count as typed; what is none counts as 0, and the field says so."""
    said = _said(key)
    return int(said) if said.isdecimal() and len(said) < 4 else 0


def _usual(name):
    if name in starter()["kinds"] and is_alike(_currency()):
        return typical(name)
    of = typical(name) if name in starter()["kinds"] else KindOfJob(name, "", "", "")
    return of._replace(price="")


def _names():
    """Return the kinds of job chosen, the own one last."""
    chosen = [name for name in starter()["kinds"] if name in _said("start_kinds", [])]
    other = _said("start_other").strip()
    return chosen + ([other] if other and other not in chosen else [])


def _currency():
    return (_said("start_currency") or "EUR").strip().upper()


def _said(key, usual=""):
    found = st.session_state.get(key)
    return usual if found is None else found


def _default(key, value):
    if key not in st.session_state:
        st.session_state[key] = value


def _text(key, label, hint=""):
    st.text_input(label, key=key, placeholder=hint, **STAYS)
