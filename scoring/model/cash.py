"""Cash by the month, under the name that is known outside."""

from scoring.model.months.cash import (
    Cash,
    Running,
    Work,
    change_flows,
    monthly_cash,
)
from scoring.model.months.learning import (
    demand_share,
    learning_excess,
    learning_factor,
    per,
    season,
)
from scoring.model.months.payment import (
    Payment,
    deposit_and_balance,
    lease,
    loan,
    own_cash,
    still_owed,
)
from scoring.model.months.steps import Lines
from scoring.model.months.worth import (
    Returns,
    Worth,
    equivalent_annual_cost,
    funds_gap,
    low_point,
    monthly_rate,
    payback_month,
    rates_of_return,
    worth,
)

__all__ = [
    "Cash",
    "Lines",
    "Payment",
    "Returns",
    "Running",
    "Work",
    "Worth",
    "change_flows",
    "demand_share",
    "deposit_and_balance",
    "equivalent_annual_cost",
    "funds_gap",
    "learning_excess",
    "learning_factor",
    "lease",
    "loan",
    "low_point",
    "monthly_cash",
    "monthly_rate",
    "own_cash",
    "payback_month",
    "per",
    "rates_of_return",
    "season",
    "still_owed",
    "worth",
]
