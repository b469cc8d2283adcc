"""The page: set-up and navigation; `streamlit run app.py`."""

import streamlit as st

from scoring.page import text
from scoring.page.state.files import owns_rig
from scoring.page.state.kept import bring_back, keep_case

st.set_page_config(page_title="Mural machine scoring", layout="wide")
text.style()
bring_back()
SCREENS = {
    "Your case": (
        st.Page("scoring/page/start/screen.py", url_path="start", title="Start"),
        st.Page("scoring/page/work.py", title="Work"),
        st.Page("scoring/page/machines.py", title="Machines"),
        st.Page("scoring/page/keep.py", title="Save and compare"),
    ),
    "Answer": (
        st.Page("scoring/page/answer/screen.py", title="Answer", default=True),
        st.Page("scoring/page/why/screen.py", url_path="why", title="Why"),
        st.Page("scoring/page/firm/screen.py", url_path="how-sure", title="How sure"),
        st.Page("scoring/page/money/screen.py", url_path="money", title="Money"),
        st.Page(
            "scoring/page/second.py",
            url_path="second-rig",
            title="Second rig",
            visibility="visible" if owns_rig() else "hidden",
        ),
    ),
    "Next": (
        st.Page("scoring/page/visit/screen.py", url_path="visit", title="Visit"),
        st.Page("scoring/page/bank.py", url_path="bank", title="Case for the bank"),
        st.Page("scoring/page/log/screen.py", url_path="jobs-done", title="Jobs done"),
    ),
    "Teach": (
        st.Page(
            "scoring/page/workshop/screen.py", url_path="workshop", title="Workshop"
        ),
        st.Page("scoring/page/crowd/screen.py", url_path="crowd", title="Many buyers"),
    ),
}
st.navigation(SCREENS, position="top").run()
keep_case()
