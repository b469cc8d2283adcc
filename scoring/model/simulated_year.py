"""Simulated years, under the name that is known outside."""

from scoring.model.queue.simulated_year import (
    SimulatedYear,
    Turns,
    chance_below,
    percentiles,
    serve_in_turn,
    simulate,
)

__all__ = [
    "SimulatedYear",
    "Turns",
    "chance_below",
    "percentiles",
    "serve_in_turn",
    "simulate",
]
