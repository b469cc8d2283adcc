"""How far weights may move, under the name that is known outside."""

from scoring.decision.stability import draws_level, stability

__all__ = ["draws_level", "stability"]
