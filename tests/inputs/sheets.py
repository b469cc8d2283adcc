"""A small machine sheet and brief, invented, for tests to change one line of."""

SHEET = """\
name: Alder
price: 10000 EUR
speed:
  4: 3 m²/h
assembly_time: 20 min
pack_down_time: 15 min
prime_time: 10 min
move_time: 12 min
heaviest_lift: 20 kg
odour: {preparing: 1, printing: 2}
subscription_fees:
  - {name: No plan, fee: 0 EUR/year}
"""
BRIEF = """\
title: An invented studio
currency: EUR
working_time: {hours_per_day: 8 h, days_per_week: 5, weeks_per_year: 44}
travel: {cost_per_km: 0.5 EUR/km}
money: {cash: 20000 EUR, discount_rate: 8 %, fixed_costs: 0 EUR/year}
work:
  - name: wall
    per_month: 4
    width: 3 m
    height: 2 m
    passes: 4
    price: {per_job: 500 EUR}
"""


def changed(text, old, new):
    """Return the text with one place changed; the place must be there."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
    return text.replace(old, new)


def source(text, name="a.yaml"):
    """Return a text as (name, bytes), as an upload comes in."""
    return name, text if isinstance(text, bytes) else text.encode()
