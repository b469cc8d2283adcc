"""The page run without a browser, on the demo or on profiles of a test's own."""

import html
import json
import re
from functools import cache
from pathlib import Path

from streamlit.testing.v1 import AppTest
from streamlit.util import calc_hash

from scoring import evaluate
from tests.cases import PROFILES, demo_machines, load_brief

ROOT = Path(__file__).parents[2]
SCREENS = {
    "start": "scoring/page/start/screen.py",
    "answer": "scoring/page/answer/screen.py",
    "why": "scoring/page/why/screen.py",
    "words": "scoring/page/glossary.py",
    "firm": "scoring/page/firm/screen.py",
    "money": "scoring/page/money/screen.py",
    "second": "scoring/page/second.py",
    "visit": "scoring/page/visit/screen.py",
    "bank": "scoring/page/bank.py",
    "work": "scoring/page/work.py",
    "machines": "scoring/page/machines.py",
    "crowd": "scoring/page/crowd/screen.py",
    "log": "scoring/page/log/screen.py",
}
ADDRESSES = {
    "answer": "",
    "firm": "how-sure",
    "second": "second-rig",
    "log": "jobs-done",
}

# One that an owner of the second rig has, one that leads, one ruled out, one in doubt.
HALF = ("Lindqvar Plain", "Ossery Twin", "Quillow Sprint", "Thrumble Lite")
# Enough for the way that a change is told on fewer draws than the answer.
HALF_DRAWS = 100


@cache
def half_of(name="new-entrant"):
    """Return the engine's Evaluation of a brief of the demo, as `half` shows it."""
    machines = [machine for machine in demo_machines() if machine.name in HALF]
    brief = load_brief(PROFILES / "briefs" / f"{name}.yaml")
    return evaluate(brief, machines, n_draws=HALF_DRAWS)


def opened(screen="why", folds=(), **held):
    """Return the page on one of its screens, some folds open, run once.

    `held` are values of widgets by their keys, as if they had been set before.
    """
    page = at_screen(
        AppTest.from_file(str(ROOT / "app.py"), default_timeout=60), screen
    )
    for key in folds:
        page.session_state[f"fold_{key}"] = True
    for key, value in held.items():
        page.session_state[key] = value
    page.run()
    assert not page.exception, page.exception[0].stack_trace
    return page


def at_screen(page, screen):
    """Let a page that has not run yet begin with a screen, as its address would.

    Until it has run, AppTest looks for a screen by its file, not by its address.
    """
    page._page_hash = calc_hash(ADDRESSES.get(screen, screen))
    return page


def markup(page):
    """Return all HTML that a page writes itself, but for what tells its terms.

    No-break spaces are spaces.
    """
    bodies = "\n".join(part.proto.body for part in page.get("html"))
    return re.sub(r"</?abbr[^>]*>", "", bodies).replace("&nbsp;", " ")


def shown(page):
    """Return the text on a page: what it writes, and what its widgets say."""
    told = [re.sub(r"<[^>]*>", " ", markup(page))]
    for kind in (
        "markdown",
        "caption",
        "code",
        "error",
        "warning",
        "subheader",
        "title",
    ):
        told += [str(part.value) for part in page.get(kind)]
    for kind in ("slider", "selectbox", "radio", "checkbox", "expander"):
        told += [str(part.label) for part in page.get(kind)]
    return html.unescape("\n".join(told))


def echo(page):
    """Return the inputs that the last run rendered."""
    found = re.findall(r'data-echo="([^"]*)"', markup(page))
    return json.loads(html.unescape(found[-1]))


def weights(page):
    """Return the weights rendered, in per cent, by criterion."""
    return {
        key.removeprefix("weight_"): value
        for key, value in echo(page).items()
        if key.startswith("weight_")
    }


def verdict(page):
    """Return the verdict's sentence."""
    first = re.search(r"<p>(.*?)</p>", markup(page), re.DOTALL)
    return html.unescape(first[1])
