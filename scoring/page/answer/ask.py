"""The three questions that could change the answer, before money is paid."""

import streamlit as st

from scoring.page import text
from scoring.page.state.firm import firmness, questions_of
from scoring.words import firmness as words


def ask_first(model):
    """Draw what to ask before paying, and where that leads."""
    text.heading("Ask before you pay")
    firm = firmness(model)
    asked = words.first_questions_shortly(firm, questions_of(firm))
    with st.container(key="find_out"):
        if asked:
            st.html(text.numbered_html(asked))
        else:
            text.say("Nothing is open that could change the answer.")
        text.say(words.most_to_learn(firm))
    with st.container(horizontal=True):
        st.page_link("scoring/page/visit/screen.py", label="Visit sheet ▸")
        st.page_link("scoring/page/bank.py", label="Case for the bank ▸")
