"""What the owner's people are paid: by the hour of a job, or by the month."""

import numpy as np


def wage_by_hour(business):
    """Return what an hour of a job costs for each other than the owner; (draw, 1, 1).

    0 where they are paid by the month: the hour then costs nothing more.
    """
    return np.where(business.is_paid_by_month, 0.0, business.wage_per_h)


def crew_pay(business):
    """Return what a year of those paid by the month costs; (draw, 1, 1), currency.

    All hours of the working time, whether there is work or not, and the on-costs.

    Examples
    --------
    One beside the owner at 20 an hour, 40 hours in 45 weeks, a quarter on top:

    >>> from types import SimpleNamespace as Record
    >>> time = dict(day_min=480, days_per_week=5, weeks_per_year=45)
    >>> paid = dict(wage_per_h=20, on_costs=0.25, is_paid_by_month=True)
    >>> float(crew_pay(Record(people=2, **time, **paid)))
    45000.0
    """
    days = business.days_per_week * business.weeks_per_year
    hours = days * business.day_min / 60
    a_head = business.wage_per_h * hours * (1 + business.on_costs)
    return np.where(business.is_paid_by_month, (business.people - 1) * a_head, 0.0)
