"""The harness itself: it sees what it is there to see, on a small page of its own."""

import socket
from urllib.parse import urlsplit

import pytest

from tests.browser import driving

pytestmark = pytest.mark.browser

PAGE = """
import html, json, time
import pandas as pd
import streamlit as st

def echo(**inputs):
    with st.container(key="echo"):
        text = html.escape(json.dumps(inputs))
        st.html(f'<div class="echo" data-echo="{text}" hidden></div>')

def ranking():
    weight = st.slider("Weight", 0, 100, 20, key="weight_price")
    time.sleep(0.3)
    with st.container(key="verdict"):
        st.text(f"leads with {weight}")
    with st.container(key="ranking_chart"):
        st.bar_chart(pd.DataFrame({"name": ["a", "b"], "v": [weight, 50]}), x="name")
    echo(weight_price=weight)

def broken():
    st.html("<div style='width: 900px'>wide</div>")
    for name in NAMES:
        st.markdown(name)
    st.markdown("[x](http://192.0.2.1/)")
    echo()
    raise RuntimeError("on purpose")

pages = [st.Page(ranking, title="Ranking"), st.Page(broken, title="Broken")]
st.navigation(pages).run()
"""


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    """Where the small page is served."""
    script = tmp_path_factory.mktemp("small") / "small.py"
    script.write_text(PAGE.replace("NAMES", repr(driving.HOSTILE)), "utf-8")
    with driving.served(script) as address:
        yield address


def test_a_move_waits_for_what_it_changes(small, opened):
    """After a move, echo, text and chart all belong to the slider's last value."""
    page = opened()
    assert driving.visit(page, small)["echo"] == {"weight_price": 20}
    drawn = driving.drawing(page, "ranking_chart")
    assert driving.move(page, "weight_price", "ArrowRight", 7) == {"weight_price": 27}
    assert page.locator(".st-key-verdict").inner_text() == "leads with 27"
    assert driving.drawing(page, "ranking_chart") != drawn
    assert (driving.exceptions(page), driving.overflow(page)) == ([], 0)
    assert (driving.interpreted(page), page.outside) == ([], [])


def test_an_echo_that_never_comes_is_told(small, opened):
    """Waiting for inputs that are not rendered ends in a sentence that names them."""
    page = opened()
    driving.visit(page, small)
    with pytest.raises(Exception, match="the echo of weight_price is 20, not 99"):
        driving.settled(page, limit_s=0.5, weight_price=99)


def test_faults_on_screen_are_seen(small, opened):
    """A crash, a wide element, markup from names, a foreign request: all tell.

    What a crash says of itself stays in the log: no path and no line on screen.
    """
    page = opened(390)
    driving.visit(page, small)
    broken = f"{small}/broken"
    driving.visit(page, broken)
    (crash,) = driving.exceptions(page)
    assert "error" in crash
    assert "on purpose" not in crash and "Traceback" not in crash
    assert driving.overflow(page) > 400
    assert len(driving.interpreted(page)) == 5
    assert "http://192.0.2.1/a.png" in page.outside


def test_the_server_is_gone_afterwards(tmp_path):
    """Leaving `served` ends the server; its port refuses."""
    script = tmp_path / "empty.py"
    script.write_text("import streamlit as st\nst.text('hello')", "utf-8")
    with driving.served(script) as address:
        port = urlsplit(address).port
    with socket.socket() as probe:
        assert probe.connect_ex((driving.HERE, port)) != 0
