"""The questions of the screen "Start"; what is not answered is assumed, and listed."""

import streamlit as st

from scoring.inputs.own_case import ASSUMED, common_jobs
from scoring.page import text
from scoring.page.state.memory import keep

CURRENCIES = ("EUR", "USD", "GBP", "CHF", "AUD", "CAD", "SEK", "NOK", "DKK", "PLN")
ALONE, TWO, MORE = "alone", "with a second person", "with two others"
CREWS = {ALONE: 1, TWO: 2, MORE: 3}
MOST_JOBS = 1_000  # of a kind in a year
SIZES = (
    "Size and price are typical ones, our own estimate without a source: put yours in "
    "their place. Of jobs asked for, half count as likely; of those hoped for, a fifth."
)
WORDS = {
    "hours_per_day": "hours in a working day",
    "weeks_per_year": "weeks you work in a year",
    "bookable_share": "share of your days that can be booked (the rest is selling)",
    "cost_per_km": "a kilometre of driving costs",
    "fixed_costs": "rent, insurance, telephone and the like in a year",
    "discount_rate": "what your money would earn elsewhere in a year",
}
ELSE = (
    "Each job 15 km away or so, measuring and masking 30 to 90 min, 2 to 8 h of work "
    "off site; a painted wall; 4 passes. The machine is delivered in 1 to 4 months; "
    "work takes 3 to 12 months to come in full, and 60 to 115 % of it comes. All of it "
    "can be changed on the screen Work."
)


def questions(owns):
    """Draw the seven questions; an owner's rig is the eighth."""
    kinds = work()
    for n, kind in enumerate(kinds):
        job(n, kind)
    left, right = st.columns(2, gap="large")
    with left:
        crew()
        typed_in("days_per_week", "4. Days a week that you work", "5")
    with right:
        money()
    if owns:
        rig()


def work():
    """Draw the first question; return the kinds of job that are chosen."""
    common = list(common_jobs())
    text.heading("1. What would you print?")
    known = [k for k in st.session_state.get("start_kinds", []) if k in common]
    st.session_state["start_kinds"] = known
    st.pills(
        "Kinds of job",
        common,
        selection_mode="multi",
        key="start_kinds",
        label_visibility="collapsed",
        persist_state="session",
    )
    typed_in("other_kinds", "Other kinds, with commas between", "a gym, a stairwell")
    return chosen_kinds()


def chosen_kinds():
    """Return the kinds of job that are chosen or typed, each once."""
    others = st.session_state.get("start_other_kinds", "").split(",")
    named = [" ".join(each.split()) for each in others]
    return list(
        dict.fromkeys([*st.session_state.get("start_kinds", []), *filter(None, named)])
    )


def job(n, kind):
    """Draw how many jobs of a kind there are in a year, their size and price."""
    usual = common_jobs().get(kind, {})
    if n == 0:
        text.heading("2. How many in a year, how large, for how much?", SIZES)
    text.say(kind)
    columns = st.columns(6, gap="small")
    for column, key in zip(columns, ("sold", "asked", "hoped"), strict=False):
        st.session_state.setdefault(_key(kind, key), 0)
        column.number_input(
            {"sold": "sold", "asked": "asked for", "hoped": "hoped for"}[key],
            0,
            MOST_JOBS,
            key=_key(kind, key),
            persist_state="session",
        )
    labels = (("width", "width, m"), ("height", "height, m"), ("price", "price a job"))
    for column, (key, label) in zip(columns[3:], labels, strict=True):
        with column:
            typed_in(f"{kind}_{key}", label, usual.get(key, "not told"))


def _key(kind, what):
    return f"start_{kind}_{what}"


def crew():
    """Draw who goes along, and what can be lifted."""
    text.heading("3. Who goes to the site?")
    keep("start_crew", CREWS, ALONE)
    st.radio("Who goes", list(CREWS), key="start_crew", persist_state="session")
    typed_in("lift", "What one of you may lift by hand, kg", "25")
    text.caution("lifting")


def money():
    """Draw cash, credit, an hour's worth and the currency."""
    text.heading("5. What can you spend?")
    typed_in("cash", "Cash of your own", "0")
    typed_in("credit", "Credit that you could have", "0")
    usual = ASSUMED["own_hour"]
    typed_in("assumed_own_hour", "6. What an hour of yours is worth", usual)
    keep("start_currency", CURRENCIES, CURRENCIES[0])
    st.selectbox(
        "7. Currency", CURRENCIES, key="start_currency", persist_state="session"
    )
    text.caution("money")


def rig():
    """Draw the rig that an owner has."""
    text.heading("8. Which machine do you have?")
    fields = (
        ("rig", "Its name", "as on its leaflet below"),
        ("rig_age", "Years old", "0"),
        ("rig_resale", "What it would bring if sold", "0"),
    )
    for column, field in zip(st.columns(3), fields, strict=True):
        with column:
            typed_in(*field)
    text.note("Tell what you know of it below, like any other machine.")


def typed_in(key, label, placeholder=""):
    """Draw a field for a text; what stands in it pale is only an example."""
    st.text_input(
        label,
        key=f"start_{key}",
        placeholder=str(placeholder),
        max_chars=200,
        persist_state="session",
    )


def assumptions():
    """List what is assumed, each to be changed."""
    with st.expander("What is assumed until you say otherwise"):
        text.note("Own estimates from common practice, no source.")
        for key, words in WORDS.items():
            typed_in(f"assumed_{key}", words, ASSUMED[key])
        text.say(ELSE)
