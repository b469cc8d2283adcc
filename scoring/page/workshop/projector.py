"""The wall: the room and its teams in large type, anew every second."""

import html
from urllib.parse import urlsplit

import streamlit as st

from scoring.errors import ScoringError
from scoring.page.workshop import seat
from scoring.page.workshop.bars import bars_html, rows_of
from scoring.page.workshop.others import names_html
from scoring.page.workshop.outcome import results_html, teams_html
from scoring.page.workshop.words import TO_DO, clock, is_test, short_title
from scoring.workshop.address import base_address, join_link, qr_image
from scoring.workshop.papers import STAGE_WORDS
from scoring.workshop.session import FEWEST
from scoring.workshop.shared_results import teams_seen
from scoring.workshop.views import what_is_seen

EVERY_S = 1  # a second at most until what is committed is asked for


def projector(view):
    """Draw the wall."""
    with st.container(key="projector"):
        _wall(_base(), view.room.stage)


def _base():
    """Return the address that phones should open, as this browser's is known."""
    return base_of(st.context.url)


def base_of(url):
    """Return the base address behind a page's URL."""
    parts = urlsplit(url or "http://localhost:8501")
    return base_address((parts.scheme, parts.hostname or "localhost", parts.port))


@st.fragment(run_every=EVERY_S)
def _wall(base, stage):
    pack = seat.pack()
    try:
        view = what_is_seen(seat.store(), seat.token(), pack.plan)
    except ScoringError as error:
        if "did not answer" not in str(error):
            st.rerun()
        return  # what stands there stays
    if view.room.stage != stage:
        st.rerun()
    st.html("".join(_parts(view, pack, base)))


def _parts(view, pack, base):
    room = view.room
    yield _head(view)
    if room.stage == "join":
        yield _invitation(room, base, view)
        return
    teams = teams_seen(seat.store(), seat.token(), pack, seat.worked(pack).found)
    if room.stage == "reveal":
        yield f'<div class="teams">{teams_html(teams, seat.worked(pack))}</div>'
        if any(not team.order for team in teams):
            yield f"<p>An order stands here from {FEWEST} answers of a team on.</p>"
        return
    found = seat.result(view, pack)
    if found is not None and room.stage == "debrief":
        yield f'<div class="results">{results_html(found)}</div>'
        return
    yield f'<div class="panels">{"".join(_panels(view, pack.plan))}</div>'
    if view.named:
        yield f'<div class="teams">{names_html(view.named, pack.plan)}</div>'


def _head(view):
    room = view.room
    state = clock(view.seconds_left)
    if room.is_paused:
        state = "paused"
    if room.closed is not None:
        state = "closed"
    return (
        f'<div class="head"><div><p class="stage">{STAGE_WORDS[room.stage]}</p>'
        f"<p>{html.escape(TO_DO[room.stage])}</p></div>"
        f'<div class="side"><p class="code">{room.code}</p>'
        f"<p>{_people(view.n_people)} · {state}</p></div></div>"
    )


def _people(n):
    return "1 person" if n == 1 else f"{n} people"


def _invitation(room, base, view):
    link = join_link(base, room.code)
    teams = " · ".join(f"team {team}: {n}" for team, n in view.teams.items())
    image = f'<img alt="QR code" src="{qr_image(link)}">'
    return (
        f'<div class="invite"><div class="qr">{image}</div><div>'
        f'<p class="big">{html.escape(room.code)}</p>'
        f'<p class="link">{html.escape(link)}</p>'
        f"<p>Take a nickname and a team.</p><p>{teams}</p></div></div>"
    )


def _panels(view, plan):
    asked = view.room.asked[view.room.stage]
    tests = [tally for tally in view.tallies if is_test(tally.question)]
    plain = [tally for tally in view.tallies if not is_test(tally.question)]
    if view.tallies:
        yield _panel("Answers so far", _progress(view.tallies))
    for tally in plain:
        rows = rows_of(tally, asked[tally.question], plan)
        body = bars_html(rows, tally.question) if rows else _hidden(tally)
        title = f"{short_title(plan, tally.question)} · {tally.n} of {tally.of}"
        yield _panel(title, body)
    if tests:
        rows = [(f"{k}", t.n, f"{t.n} of {t.of}") for k, t in enumerate(tests, 1)]
        bars = bars_html(rows, "questions", most=tests[0].of)
        yield _panel("Questions, how many answered", bars)


def _progress(tallies):
    """Return how many answers have come, by team."""
    teams = {}
    for tally in tallies:
        for team, (n, of) in tally.by_team.items():
            had, most = teams.get(team, (0, 0))
            teams[team] = had + n, most + of
    rows = [
        (f"team {team}", n / of if of else 0, f"{n} of {of}")
        for team, (n, of) in sorted(teams.items())
    ]
    return bars_html([*rows], "teams", most=1)


def _hidden(tally):
    return "<p>nothing yet</p>" if tally.n == 0 else "<p>from three answers on</p>"


def _panel(title, body):
    return f'<section class="panel"><h3>{html.escape(title)}</h3>{body}</section>'
