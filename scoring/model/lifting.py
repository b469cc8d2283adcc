"""Lifting figures, under the name that is known outside."""

from scoring.model.job.lifting import (
    lifting_index,
    people_needed,
    recommended_weight_limit,
)

__all__ = ["lifting_index", "people_needed", "recommended_weight_limit"]
