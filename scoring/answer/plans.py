"""The plan of each machine: the one that is expected to leave most."""

from dataclasses import dataclass

import numpy as np

from scoring.answer.expected import HALF
from scoring.answer.limits import MUSTS


@dataclass(frozen=True)
class PlanResult:
    """What one plan of a machine would earn at this work."""

    name: str
    fee: float
    year_result: float  # expected
    meets_must_haves: bool
    is_chosen: bool


def choose_plans(machines, variants, found):
    """Return (the places of each machine's best plan, what every plan would earn).

    The best expected year among the plans that meet the must-haves in most draws; ties
    go to the cheaper.

    Parameters
    ----------
    variants : sequence of Variant, all plans of all machines
    found : Expected of these variants, of one alternative
    """
    chances = [limit.chance[0] for limit in found.limits if limit.kind in MUSTS]
    chances.append(np.zeros(len(variants)))
    meets = np.max(chances, axis=0) <= HALF
    result = found.outcome.year.result[0, :, 0]
    fee = found.figures.machines.plan_fee[0, :, 0]
    chosen, plans = [], []
    for machine in machines:
        own = [k for k, v in enumerate(variants) if v.machine is machine]
        best = max(own, key=lambda k: (meets[k], round(result[k], 6), -fee[k]))
        chosen.append(best)
        plans.append(
            tuple(
                PlanResult(
                    machine.subscription_fees[variants[k].plan].name,
                    float(fee[k]),
                    float(result[k]),
                    bool(meets[k]),
                    k == best,
                )
                for k in own
            )
        )
    return chosen, tuple(plans)
