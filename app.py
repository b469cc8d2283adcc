"""The page: set-up and navigation; `streamlit run app.py`."""

import streamlit as st

from scoring.page import text
from scoring.page.state.kept import bring_back, keep_case

st.set_page_config(page_title="Mural machine scoring", layout="wide")
text.style()
SCREENS = (
    st.Page("scoring/page/ranking/screen.py", title="Ranking", default=True),
    st.Page("scoring/page/firm/screen.py", url_path="firm", title="How firm"),
    st.Page("scoring/page/work.py", title="Your work and limits"),
    st.Page("scoring/page/machines.py", title="Machines"),
    st.Page("scoring/page/money/screen.py", url_path="money", title="Money"),
    st.Page("scoring/page/second.py", title="Second rig"),
    st.Page("scoring/page/visit/screen.py", url_path="visit", title="Visit"),
    st.Page("scoring/page/bank.py", title="Case for the bank"),
    st.Page("scoring/page/workshop/screen.py", url_path="workshop", title="Workshop"),
)
bring_back()
st.navigation(SCREENS, position="top").run()
keep_case()
