"""How firm an order is, under the name that is known outside."""

from scoring.decision.acceptability import (
    acceptability_of,
    check_draws,
    checked_scores,
    order_counts,
    order_of,
    pairwise_order,
    rank_acceptability,
    rank_counts,
)
from scoring.decision.central_weights import (
    CentralSums,
    central_of,
    central_sums,
    central_weights,
    confidence,
    confidence_of,
    first_counts,
)
from scoring.decision.drawn_weights import sample_weights, weights_from_uniform
from scoring.decision.information import (
    BinSums,
    added,
    batches_of,
    bin_sums,
    bins_for,
    equal_count_bins,
    evpi,
    evppi,
    evppi_of,
    expected_regret,
)
from scoring.decision.sample_information import evsi

__all__ = [
    "BinSums",
    "CentralSums",
    "acceptability_of",
    "added",
    "batches_of",
    "bin_sums",
    "bins_for",
    "central_of",
    "central_sums",
    "central_weights",
    "check_draws",
    "checked_scores",
    "confidence",
    "confidence_of",
    "equal_count_bins",
    "evpi",
    "evppi",
    "evppi_of",
    "evsi",
    "expected_regret",
    "first_counts",
    "order_counts",
    "order_of",
    "pairwise_order",
    "rank_acceptability",
    "rank_counts",
    "sample_weights",
    "weights_from_uniform",
]
