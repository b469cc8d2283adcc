"""The money of one job, line by line: what the client pays, what it costs."""

from scoring.answer.one_machine import at, told_at
from scoring.words.workings.steps import (
    Step,
    expected_step,
    sheet_step,
    surface_paths,
    worded,
)

WEAR = ("head_price", "head_life", "lamp_price", "lamp_life")
PATHS = {
    "ink": ["ink.colour", "ink.white", "ink.price", "ink.white_price"],
    "purge": ["ink.purge", "ink.price"],
    "wear": [f"wear.{name}" for name in WEAR],
    "travel": ["travel.cost_per_km"],
    "vehicle_hire": ["vehicle.hire"],
    "lodging": ["travel.lodging"],
    "hired_help": ["crew.hired_help.rate"],
    "wages": ["crew.wage"],
    "spoilt": ["spoilt_share"],
    "own_pay": ["money.own_hour"],
}
WORDS = {"revenue": "the client pays", "wear": "heads and lamps"}
WORDS |= {
    "surface": "primer and varnish",
    "spoilt": "spoilt work",
    "own_pay": "your own pay",
}


def job_money_steps(evaluation, k, j):
    """Return the lines of one job's money and what they leave; [] if it is not done.

    Costs are below 0; a line of 0 is left out. The lines sum to what is left; what is
    left in the mean of the draws follows where that is another sum.
    """
    lived, currency = told_at(evaluation, k, j), evaluation.brief.currency
    if not lived.can_do:
        return []
    of_job = [f"work.{j}.price.{key}" for key in ("per_m2", "minimum", "per_job")]
    paths = PATHS | {"revenue": [*of_job, f"work.{j}.artwork_fee"]}
    paths["surface"] = surface_paths(evaluation, k, j, ("cost",))
    paths["travel"] = [*PATHS["travel"], f"work.{j}.distance"]
    steps = [
        sheet_step(
            *(evaluation, k, WORDS.get(name, worded(name))),
            *(line, currency, paths[name]),
        )
        for name, line in lived.contribution_lines._asdict().items()
        if line
    ]
    left = lived.contribution
    steps.append(Step("left after job costs", left, currency, "the sum"))
    mean = at(evaluation, k, j).contribution
    return [*steps, *expected_step("left", mean, left, currency)]
