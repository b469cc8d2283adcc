"""The least a page can do: one slider and one bar chart, as fast as can be."""

import html
import json

import pandas as pd
import streamlit as st

CHART = {
    "mark": "bar",
    "encoding": {
        "x": {"field": "value", "type": "quantitative"},
        "y": {"field": "name", "type": "nominal"},
    },
}

weight = st.slider("Weight", 0, 100, 20, key="weight_floor")
with st.container(key="ranking_chart"):
    rows = pd.DataFrame({"name": ["a", "b"], "value": [weight, 50]})
    st.vega_lite_chart(rows, CHART, key="bars")
with st.container(key="echo"):
    echo = html.escape(json.dumps({"weight_floor": weight}))
    st.html(f'<div class="echo" data-echo="{echo}" hidden></div>')
