"""The names that are known outside the project lead to where the code lives."""

from importlib import import_module

import pytest

NAMES = {
    "scoring": "evaluate load_brief load_machines",
    "scoring.decision.criteria": "STANDARD default_scale scores",
    "scoring.decision.group": "borda kendall_w",
    "scoring.decision.ranking": "pareto_front ranks topsis topsis_fixed weighted_sum",
    "scoring.decision.robustness": "evppi rank_acceptability sample_weights",
    "scoring.decision.sensitivity": "stability",
    "scoring.decision.weights": "normalise pairwise rank_order_centroid swing",
    "scoring.inputs.artwork": "blank_share",
    "scoring.model.cash": "low_point monthly_cash worth",
    "scoring.model.finance": "internal_rate_of_return net_present_value",
    "scoring.model.lifting": "lifting_index people_needed recommended_weight_limit",
    "scoring.model.simulated_year": "simulate",
}


@pytest.mark.parametrize("module", NAMES)
def test_a_known_name_is_there(module):
    """Each name can be imported from the module under which it is known."""
    for name in NAMES[module].split():
        assert getattr(import_module(module), name) is not None
