"""One question, asked so that a thumb can answer it."""

from typing import NamedTuple

import streamlit as st

from scoring.page import text
from scoring.page.workshop import drafts, seat
from scoring.page.workshop.words import LABELS
from scoring.workshop.asked import CRITERIA, MOST_DAYS, MOST_MONEY
from scoring.workshop.pack import LETTERS
from scoring.workshop.pack_files import Pack
from scoring.workshop.visit import opened

SURE = 50  # where the slider stands before it is moved


def ask(asking, key, save, about):
    """Draw a question's widgets.

    Parameters
    ----------
    asking : Asking
    key : what the widgets' keys begin with; another for each question
    save : function (value, is_done), called once something was answered; `is_done` lets
        the next question come
    about : About
    """
    name = asking.kind.partition(" ")[0]
    DRAWN[name](asking, key, save, about)


class About(NamedTuple):
    """What a question is about."""

    pack: Pack
    swings: tuple = ()  # (criterion id, worst, best) of the buyer
    currency: str = ""


def about_of(stage, buyer, pack):
    """Return the About of a stage's questions for a buyer, by place."""
    if buyer is None or stage != "prices":
        return About(pack)
    worked = seat.worked(pack)
    evaluation = worked.found[buyer].evaluation
    ids = [criterion.id for criterion in evaluation.criteria if criterion.in_use]
    swings = worked.papers[buyer].swings
    rows = [
        (name, worst, best)
        for name, (_, worst, best) in zip(ids, swings, strict=True)
        if name in CRITERIA
    ]
    return About(pack, tuple(rows), evaluation.brief.currency)


def _ranks(asking, key, save, about):
    state, draft = st.session_state, f"{key}_draft"
    state.setdefault(draft, drafts.letters(key) or list(asking.said or ()))
    order = state[draft]

    def put(letters):
        state[draft] = letters
        drafts.keep(key, "".join(letters))

    def tap(letter):
        if letter not in state[draft]:  # tapped twice while the network was slow
            put([*state[draft], letter])

    def undo():
        put(state[draft][:-1])

    def send():
        save(list(state[draft]), True)
        drafts.drop()

    said = " ".join(order) if order else "tap the best one first"
    st.html(f'<p class="order" aria-live="polite">{said}</p>')
    with st.container(key=f"letters_{key}", horizontal=True):
        for letter in LETTERS:
            st.button(
                letter,
                key=f"{key}_{letter}",
                disabled=letter in order,
                on_click=tap,
                args=(letter,),
            )
    with st.container(key=f"foot_{key}", horizontal=True):
        st.button("Undo", key=f"{key}_undo", disabled=not order, on_click=undo)
        st.button(
            "Send this order",
            key=f"{key}_send",
            type="primary",
            width="stretch",
            disabled=len(order) < len(LETTERS),
            on_click=send,
        )


def _percent(asking, key, save, about):
    def moved(is_done):
        save(int(st.session_state[f"{key}_sure"]), is_done)

    _sure(asking.said, key, lambda: moved(False))
    st.button(
        "Send",
        key=f"{key}_send",
        type="primary",
        width="stretch",
        on_click=moved,
        args=(True,),
    )


def _sure(said, key, on_change=None):
    st.slider(
        "How sure, in per cent; 12 is a guess among eight",
        0,
        100,
        int(SURE if said is None else said),
        1,
        key=f"{key}_sure",
        on_change=on_change,
    )


def _leader(asking, key, save, about):
    if asking.said:
        text.say(f"You said {asking.said['letter']}, {asking.said['sure']:g} % sure.")
        st.button(
            "On",
            key=f"{key}_next",
            type="primary",
            width="stretch",
            on_click=save,
            args=(None, True),
        )
        return

    def chosen():
        letter = st.session_state[f"{key}_letter"] or ""
        return letter, int(st.session_state[f"{key}_sure"])

    def moved():
        drafts.keep(key, "{}{}".format(*chosen()))

    def send():
        letter, sure = chosen()
        save({"letter": letter, "sure": sure}, True)
        drafts.drop()

    letter, sure = drafts.at_first(key, drafts.letter_and_percent)
    st.segmented_control(
        "Letter",
        list(LETTERS),
        default=letter,
        key=f"{key}_letter",
        label_visibility="collapsed",
        width="stretch",
        on_change=moved,
    )
    _sure(sure, key, moved)
    text.note("Once sent, it stands.")
    st.button(
        "Send",
        key=f"{key}_send",
        type="primary",
        width="stretch",
        disabled=not st.session_state.get(f"{key}_letter"),
        on_click=send,
    )


def _days(asking, key, save, about):
    begun = drafts.at_first(key, drafts.ends)
    said = (asking.said or {}) | begun
    is_range = st.toggle(
        "With a range: lowest, likely, highest",
        bool(begun) or any(isinstance(v, list) for v in said.values()),
        key=f"{key}_is_range",
    )
    ends = ("lowest", "likely", "highest") if is_range else ("likely",)

    def typed(letter):
        return [st.session_state.get(f"{key}_{letter}_{end}") for end in ends]

    def read():
        whole = {k: typed(k) for k in LETTERS if None not in typed(k)}
        return {k: sorted(each) if is_range else each[0] for k, each in whole.items()}

    def changed(is_done):
        drafts.keep_ends(key, {} if is_done else {k: typed(k) for k in LETTERS})
        if is_done or read():
            save(read() or None, is_done)

    with st.container(key=f"days_{key}_{'range' if is_range else 'one'}"):
        for letter in LETTERS:
            with st.container(horizontal=True, key=f"row_{key}_{letter}"):
                for end in ends:
                    st.number_input(
                        f"{letter}: {end} days" if is_range else f"{letter}: days",
                        0.0,
                        float(MOST_DAYS),
                        _end_of(said.get(letter), end),
                        0.5,
                        format="%g",
                        key=f"{key}_{letter}_{end}",
                        on_change=changed,
                        args=(False,),
                    )
    text.note("As many letters as you have time for; each is kept as you type it.")
    st.button(
        "Done with this job",
        key=f"{key}_send",
        type="primary",
        width="stretch",
        on_click=changed,
        args=(True,),
    )


def _end_of(said, end):
    if said is None or not isinstance(said, list):
        return None if said is None else float(said)
    found = said[("lowest", "likely", "highest").index(end)]
    return None if found is None else float(found)


def _prices(asking, key, save, about):
    said = asking.said or {}

    def changed(is_done):
        typed = {n: st.session_state.get(f"{key}_{n}") for n, *_ in about.swings}
        value = {name: float(v) for name, v in typed.items() if v is not None}
        if is_done or sum(value.values()) > 0:
            save(value or None, is_done)

    for name, worst, best in about.swings:
        st.number_input(
            text.escaped(
                f"{LABELS[name]}: from {worst} to {best}, {about.currency} a year"
            ),
            0.0,
            float(MOST_MONEY),
            float(said[name]) if name in said else None,
            100.0,
            format="%g",
            key=f"{key}_{name}",
            on_change=changed,
            args=(False,),
        )
    text.note("Nothing typed counts as nothing; each is kept as you type it.")
    st.button(
        "Done",
        key=f"{key}_send",
        type="primary",
        width="stretch",
        on_click=changed,
        args=(True,),
    )


def _choice(asking, key, save, about):
    with st.container(key=f"choices_{key}"):
        for n, choice in enumerate(asking.choices, start=1):
            st.button(
                text.escaped(choice),
                key=f"{key}_{n}",
                type="primary" if asking.said == n else "secondary",
                width="stretch",
                on_click=save,
                args=(n, True),
            )


def _order(asking, key, save, about):
    visit, order = about.pack.plan.visit, list(asking.said or ())
    seen = opened(visit, order)
    left = visit.minutes - sum(envelope.minutes for envelope in seen)
    text.say(f"{left} of {visit.minutes} minutes left at the seller's.")
    for place in order[: len(seen)]:
        envelope = visit.envelopes[place - 1]
        text.listed([(f"{envelope.letter}: {envelope.test}", envelope.says)])
    with st.container(key=f"choices_{key}"):
        for n, envelope in enumerate(visit.envelopes, start=1):
            if n in order:
                continue
            words = f"{envelope.letter}: {envelope.test} ({envelope.minutes} min)"
            st.button(
                text.escaped(words),
                key=f"{key}_{n}",
                width="stretch",
                disabled=envelope.minutes > left,
                on_click=save,
                args=([*order, n], False),
            )


DRAWN = {
    "ranks": _ranks,
    "percent": _percent,
    "days": _days,
    "prices": _prices,
    "leader": _leader,
    "choice": _choice,
    "order": _order,
}
