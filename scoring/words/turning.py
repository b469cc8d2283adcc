"""What would turn the answer → words: figures, levels, prices."""

from scoring.questions.best_price import is_beyond_talk
from scoring.words.figures import about, figure
from scoring.words.keys import what_swings

NO_PRICE = "no such price"
UNITLESS = {"ratings": "1–5", "odour": "0–6", "odour_limit": "0–6"}
UNITLESS["per_month"] = "a month"


def price_in_words(evaluation, name, price):
    """Return up to which price a machine is the best buy, as people say it.

    `price` is what `best_buy_price` returns.
    """
    if price is None:
        return NO_PRICE
    said = about(price, evaluation.brief.currency)
    return f"{said} and more" if is_beyond_talk(evaluation, name, price) else said


def value_of(swing, value, is_us=False):
    """Return a value of a swing's figure in its unit, ratings out of their scale."""
    parts = swing.path.split(".")
    unit = swing.unit or UNITLESS.get(parts[0]) or UNITLESS.get(parts[-1], "")
    return figure(value, unit, is_us)


def level_in_words(evaluation, swing, value, is_us=False):
    """Return at which value of a figure today's leader loses its lead, and to whom.

    `value` is what `whatif.level_value` returns for a swing that turns.
    """
    what = what_swings(evaluation, swing)
    is_below = swing.lead_low < 0
    winner = swing.leader_low if is_below else swing.leader_high
    side = "below" if is_below else "above"
    said = f"{what}: {side} {value_of(swing, value, is_us)}"
    return f"{said} {f'{winner} leads' if winner else 'none is within your limits'}."
