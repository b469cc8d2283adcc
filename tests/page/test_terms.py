"""Terms are told where they stand: the glossary's own words, once a piece of text."""

import re

from scoring.page.text import said
from scoring.page.text.terms import TOLD, with_terms
from scoring.words.glossary import GROUPS
from tests.page.pages import opened


def test_every_term_of_the_glossary_can_be_told():
    """Both of its names lead to the term's sentence and its example."""
    for _, terms in GROUPS:
        for term in terms:
            first = term.word.partition("(")[0].strip()
            told = re.findall('data-told="([^"]*)"', with_terms(first))
            assert len(told) == 1, term.word
            assert TOLD[first.lower()].endswith(term.example)
    assert TOLD["landed cost"] == TOLD["to your door"]
    assert TOLD["pareto front"] == TOLD["outdone"]


def test_a_term_can_be_reached_by_key_and_by_touch():
    """It takes the focus, as nothing on a telephone is hovered over."""
    assert 'tabindex="0"' in with_terms("the resale")


def test_parts_of_words_and_markup_are_no_terms():
    """A term is a word of its own; what a file holds stays text."""
    assert with_terms("compass, priming_x, ownpay") == "compass, priming_x, ownpay"
    name = '<b title="resale">'
    assert "<b" not in said(name)
    assert said(name).count("<abbr") == 1


def test_the_first_screen_tells_its_terms():
    """What the verdict names is told there: the cost to the door, the heaviest lift."""
    page = opened("answer")
    bodies = "\n".join(part.proto.body for part in page.get("html"))
    told = " ".join(re.findall('data-told="([^"]*)"', bodies))
    assert TOLD["heaviest lift"] in told and TOLD["to your door"] in told
