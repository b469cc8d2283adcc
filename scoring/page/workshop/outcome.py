"""The toolkit beside what was said: for one person, for the teams, at the end."""

import streamlit as st

from scoring.page import text
from scoring.page.workshop import seat
from scoring.page.workshop.bars import bars_html
from scoring.words.figures import figure
from scoring.workshop.answers import own_answers
from scoring.workshop.notice import hit_rows, result_sentences, shares
from scoring.workshop.pack import LETTERS
from scoring.workshop.papers import SWAP_WORDS
from scoring.workshop.results import leader_of, said_in
from scoring.workshop.session import predicted, three_points


def own_beside(view, pack, worked):
    """Draw a person's order and days beside the toolkit's for the own buyer."""
    if "toolkit" not in view.may_see or view.buyer is None:
        return
    found = worked.found[view.buyer]
    own = own_answers(seat.store(), seat.token())
    order = next(iter(said_in(own, "buyer", "ranks").values()), ())
    with st.container(key="beside"):
        text.heading(f"{leader_of(found) or 'Nobody'} leads for {found.title}")
        text.table(
            ("", "order, the best first"),
            [("you", " ".join(order) or "–"), ("toolkit", toolkit_order(found))],
            label="orders",
        )
        for n, job in enumerate(pack.plan.buyers[view.buyer].predict):
            said = next(iter(said_in(own, "buyer", f"days.{n}").values()), {})
            days = found.days(job)
            rows = [
                (letter, _days(said.get(letter)), figure(float(days[k]), "day"))
                for k, letter in enumerate(LETTERS)
            ]
            text.table((job, "you, days", "toolkit"), rows, numbers={1, 2}, label=job)


def toolkit_order(found):
    """Return the letters as the toolkit ranks them, those ruled out behind a stroke."""
    placed = sorted(range(len(LETTERS)), key=lambda k: (found.ranks[k], k))
    n = int(found.evaluation.is_ranked.sum())
    ranked = " ".join(LETTERS[k] for k in placed[:n])
    out = " ".join(LETTERS[k] for k in placed[n:])
    return f"{ranked} | out: {out}" if out else ranked


def _days(said):
    if said is None:
        return "–"
    low, likely, high = three_points(said)
    return f"{likely:g}" if low == high else f"{likely:g} ({low:g} to {high:g})"


def leaders_seen(view, pack):
    """Draw who leads after each swap that the person has predicted."""
    if view.room.stage != "swap" or view.buyer is None:
        return
    worked = seat.worked(pack)
    mine = {
        swap: leader for (k, swap), leader in worked.leaders.items() if k == view.buyer
    }
    own = own_answers(seat.store(), seat.token())
    told = predicted(own, mine)
    if not told:
        return
    said = {
        a.question.removeprefix("leads."): a.value for a in own if a.stage == "swap"
    }
    with st.container(key="swaps"):
        rows = [
            (SWAP_WORDS[swap], said[swap]["letter"], letter)
            for swap, letter in told.items()
        ]
        text.table(("the buyer changes", "you said", "leads"), rows, label="swaps")


def teams_html(teams, worked):
    """Return the teams beside the toolkit as a table."""
    rows = []
    for team in teams:
        found = next(each for each in worked.found if each.title == team.buyer)
        tau = "–" if team.tau is None else figure(team.tau)
        order = " ".join(team.order) or "–"
        rows.append((str(team.team), team.buyer, order, toolkit_order(found), tau))
    head = ("team", "buyer", "their order", "toolkit", "alike (τ)")
    meanings = {"alike (τ)": "Kendall's τ-b: 1 the same order, −1 the reverse"}
    return text.table_html(head, rows, label="teams", meanings=meanings)


def results(found):
    """Draw what the exercise showed."""
    with st.container(key="results"):
        st.html(results_html(found))


def results_html(found):
    """Return what the exercise showed as HTML."""
    parts = [text.heading_html("What decides who leads")]
    rows = [(cause, max(0.0, s), figure(s, "share")) for cause, s in shares(found)]
    parts.append(bars_html(rows, "what decides", most=1))
    hits = [(what, share, chance) for what, share, chance, *_ in hit_rows(found)]
    if hits:
        parts.append(text.heading_html("What came true"))
        parts.append(
            text.table_html(("", "came true", "by chance"), hits, label="hits")
        )
    parts.append(text.heading_html("What was learnt"))
    sentences = result_sentences(found) or ["Nobody has answered both times yet."]
    parts.append(text.said(*sentences))
    return "".join(parts)
