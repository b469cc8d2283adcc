"""The screen "Words": what the terms mean, with an example each."""

import streamlit as st

from scoring.page import text
from scoring.page.state.memory import echo
from scoring.words.glossary import GROUPS


def main():
    """Draw the screen."""
    text.title("Words")
    for heading, terms in GROUPS:
        with st.expander(heading):
            text.listed((each.word, f"{each.meaning} {each.example}") for each in terms)
    echo()


main()
