"""The plan of each machine: the one that leaves most among those that do."""

from dataclasses import dataclass

import numpy as np

from scoring.answer.limits import must_limits
from scoring.answer.run import figures_of
from scoring.evidence.variants import variants_of
from scoring.model.outcome import outcome


@dataclass(frozen=True)
class PlanResult:
    """What one plan of a machine would earn at this work."""

    name: str
    fee: float
    year_result: float
    meets_must_haves: bool
    is_chosen: bool


def choose_plans(brief, machines, drawn):
    """Return each machine under its best plan, and what every plan would earn.

    The best central year result among the plans that meet the must-haves; ties go to
    the cheaper.
    """
    variants = [variant for machine in machines for variant in variants_of(machine)]
    figures = figures_of(brief, variants, drawn)
    lived = outcome(*figures)
    features = [v.features for v in variants]
    broken = must_limits(brief, features, figures.jobs, lived)
    musts = [limit.is_broken[0] for limit in broken]
    meets = ~np.any(musts or [np.zeros(len(variants), bool)], axis=0)
    result = lived.year.result[0, :, 0]
    fee = figures.machines.plan_fee[0, :, 0]
    chosen, plans = [], []
    for machine in machines:
        own = [k for k, v in enumerate(variants) if v.machine is machine]
        best = max(own, key=lambda k: (meets[k], round(result[k], 6), -fee[k]))
        chosen.append(variants[best])
        plans.append(
            tuple(
                PlanResult(
                    machine.subscription_fees[variants[k].plan].name,
                    fee[k],
                    result[k],
                    bool(meets[k]),
                    k == best,
                )
                for k in own
            )
        )
    return tuple(chosen), tuple(plans)
