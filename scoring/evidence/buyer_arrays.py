"""The buyer: crew, hours, money, terms → the model's arrays."""

import numpy as np

from scoring.model.figures import BusinessFigures, PaymentTerms, Trade

AIDS_ON_WHEELS = ("ramp",)
AIDS_ON_STAIRS = ("stair_climber",)
# An hour of a second person costs what the first of these says that the brief states.
WAGE_PATHS = ("crew.wage", "crew.hired_help.rate", "money.own_hour")
HELP_RATE_PATHS = ("crew.hired_help.rate", "crew.wage", "money.own_hour")


def business_figures(brief, drawn):
    """Return the BusinessFigures of the brief."""
    time, money, crew = "working_time", "money", "crew"

    def one(path, absent=np.nan):
        figure = drawn.get(("brief", path))
        return np.array([[[absent]]]) if figure is None else figure[:, None, None]

    return BusinessFigures(
        people=brief.crew.people,
        lift_limit_kg=one(f"{crew}.lift_limit"),
        wage_per_h=_first_stated(drawn, WAGE_PATHS, one),
        **_aids(brief, drawn),
        help_rate_per_h=_first_stated(drawn, HELP_RATE_PATHS, one),
        help_minimum_min=one(f"{crew}.hired_help.minimum", 0.0),
        day_min=one(f"{time}.hours_per_day"),
        days_per_week=one(f"{time}.days_per_week"),
        weeks_per_year=one(f"{time}.weeks_per_year"),
        bookable_share=one(f"{time}.bookable_share"),
        jobs_per_day_max=brief.working_time.jobs_per_day_max,
        day_margin=one(f"{time}.day_margin"),
        travel_km_per_h=one("travel.speed"),
        cost_per_km=one("travel.cost_per_km"),
        lodging_per_night=one("travel.lodging"),
        vehicle_length_m=one("vehicle.length", np.inf),
        vehicle_m3=one("vehicle.volume", np.inf),
        payload_kg=one("vehicle.payload", np.inf),
        hire_per_day=one("vehicle.hire"),
        vehicle_price=one("vehicle.buy"),
        cash=one(f"{money}.cash"),
        credit=_credit(brief, one),
        highest_upfront=one("limits.highest_upfront"),
        fixed_costs=one(f"{money}.fixed_costs"),
        insurance_share=one(f"{money}.insurance", 0.0),
        own_hour=one(f"{money}.own_hour"),
        discount_rate=one(f"{money}.discount_rate"),
        horizon_years=brief.money.horizon,
        is_import_tax_recovered=brief.money.import_tax_recovered,
        is_best_first=brief.work_order == "best_first",
        payment=_payment(brief, one),
        trade=_trade(brief, one),
        is_paid_by_month=brief.crew.paid == "by_month",
        on_costs=one("crew.on_costs", 0.0),
        living=one("money.living", 0.0),
        loading_min=one("travel.loading"),
        loading_min_per_kg=one("travel.loading_per_100kg") / 100,
    )


def _credit(brief, one):
    """Return what the buyer may borrow: the loan at hand, or the sum to be borrowed."""
    credit = one("money.loan", 0.0)
    if brief.payment.way == "loan":
        credit = np.maximum(credit, one("payment.borrowed", 0.0))
    return credit


def _payment(brief, one):
    plan, here = brief.payment, "payment"
    return PaymentTerms(
        way=plan.way,
        deposit_share=one(f"{here}.deposit"),
        delivery_months=one(f"{here}.delivery_months"),
        borrowed=one(f"{here}.borrowed"),
        loan_rate=one(f"{here}.loan_rate"),
        n_instalments=plan.loan_months,
        lease_per_month=one(f"{here}.lease_per_month", 0.0),
        residual=one(f"{here}.residual", 0.0),
        tax_back_months=one(f"{here}.tax_back_months"),
    )


def _trade(brief, one):
    """Return the Trade of the brief; its seasons are brought to a mean of 1."""
    seasons = np.array(brief.trade.seasonality)
    figures = set(Trade._fields) - {"seasonality", "first_month"}
    return Trade(
        seasonality=seasons / seasons.mean(),
        first_month=brief.trade.first_month - 1,
        **{name: one(f"trade.{name}") for name in sorted(figures)},
    )


def _first_stated(drawn, paths, one):
    """Return the first figure that the brief states, 0 where it states none."""
    stated = [path for path in paths if ("brief", path) in drawn]
    return one(stated[0]) if stated else np.zeros((1, 1, 1))


def _aids(brief, drawn):
    """Return the aids' figures, cheapest first: each (draw, 1, aid)."""
    n_draws = len(next(iter(drawn.values())))
    names = aid_names(brief)

    def row(key):
        figures = [drawn["brief", f"crew.aids.{name}.{key}"] for name in names]
        return np.stack(figures, axis=1)[:, None, :] if names else none

    none = np.zeros((n_draws, 1, 0))
    return {
        "aid_capacity_kg": row("capacity"),
        "aid_price": row("price"),
        "aid_min_per_job": row("minutes_per_job"),
        "aid_needs_wheels": np.array([[[n in AIDS_ON_WHEELS for n in names]]], bool),
        "aid_climbs": np.array([[[n in AIDS_ON_STAIRS for n in names]]], bool),
    }


def aid_names(brief):
    """Return the names of the brief's aids, cheapest first."""
    return sorted(brief.crew.aids, key=lambda name: brief.crew.aids[name].price.likely)
