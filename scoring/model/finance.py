"""Formulas of finance, under the name that is known outside."""

from scoring.model.money.finance import (
    annuity_payment,
    cash_flows,
    discounted_payback,
    equivalent_annual,
    internal_rate_of_return,
    net_present_value,
    payback_months,
    sign_changes,
    straight_line_worth,
)

__all__ = [
    "annuity_payment",
    "cash_flows",
    "discounted_payback",
    "equivalent_annual",
    "internal_rate_of_return",
    "net_present_value",
    "payback_months",
    "sign_changes",
    "straight_line_worth",
]
