"""Invented decision matrices for hypothesis: whole numbers, so that ties are exact."""

import numpy as np
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

few = settings(deadline=None, max_examples=60)


@st.composite
def scored(draw):
    """Return scores 0–1 in hundredths and weights that sum to 1."""
    n, m = draw(st.integers(2, 6)), draw(st.integers(1, 5))
    scores = draw(arrays(float, (n, m), elements=st.integers(0, 100))) / 100
    return scores, draw(weightings(m))


@st.composite
def matrices(draw):
    """Return figures (alternative, criterion), weights and directions."""
    n, m = draw(st.integers(2, 6)), draw(st.integers(1, 5))
    matrix = draw(arrays(float, (n, m), elements=st.integers(-50, 50)))
    is_benefit = draw(arrays(bool, m))
    return matrix, draw(weightings(m)), is_benefit


@st.composite
def weightings(draw, n_criteria):
    """Return weights that sum to 1; some may be 0."""
    parts = arrays(float, n_criteria, elements=st.integers(0, 10))
    weights = draw(parts.filter(np.any))
    return weights / weights.sum()
