"""Keys of the files as people say them."""

from scoring.inputs.quantity import parts_of

WORDS = {
    "access_hours": "hours that the client allows",
    "aids": "aid",
    "alike_rigs_save": "share of upkeep and kit that a second alike rig saves",
    "artwork_fee": "fee for the artwork",
    "blank_share": "share left empty",
    "bookable_share": "share of days that can be booked",
    "builds_before": "builds before the one that was timed",
    "buy": "a larger one, to buy",
    "carry": "carrying in, each way",
    "closing_time": "closing a day",
    "criteria": "what matters",
    "day_margin": "kept free of each day",
    "days_to_pay": "days until clients pay the rest",
    "delivery_months": "months until delivery",
    "deposit_share": "share that clients pay with the job",
    "discount_rate": "interest asked (discount rate)",
    "first_discount": "taken off the first jobs",
    "first_jobs": "first jobs at a lower price",
    "first_month": "month of signing (1 is January)",
    "flat_above": "clients notice nothing finer than",
    "head_gap": "widest gap from head to wall",
    "head_lead_time": "days until a new head arrives",
    "highest_upfront": "most to pay to your door",
    "hire": "a larger one, hired for a day",
    "horizon": "years looked ahead",
    "idle_every": "idle care every",
    "ink_cover": "share covered with ink",
    "jobs_per_day_max": "most jobs in one day",
    "landed_cost": "to your door",
    "learning_halving": "builds that halve what is too much",
    "learning_start": "times as long to build at first",
    "lift_limit": "most that one person lifts",
    "loan_months": "months to pay back",
    "lowest_print_height": "lowest it prints",
    "max_print_height": "highest it prints",
    "measure_mask_time": "measuring and masking",
    "months_to_full": "months until there is full work",
    "living": "what you live on, a month",
    "odour": "smell",
    "on_costs": "on top of the wage of those paid by the month",
    "odour_limit": "smell that is allowed (0 to 6)",
    "overnight": "may stay built overnight",
    "own_hour": "your own hour",
    "parts_lead_time": "days until parts arrive",
    "patience": "days that clients wait",
    "per_m2": "for each m²",
    "per_month": "jobs a month",
    "prime_time": "purge and nozzle check",
    "ratings": "rating",
    "relief": "wall stands out by",
    "response": "days until the seller answers",
    "seasonality": "work by month, January first",
    "shelf_life": "months that it keeps",
    "side_clearance": "room needed at the side",
    "side_gap": "gap at the side",
    "spoilt_share": "share of prints spoilt",
    "spoilt_start": "times as many prints spoilt at first",
    "subscription_fees": "plan",
    "tax_back_months": "months until import tax comes back",
    "training_days": "working days of training, unpaid",
    "underbase": "white underneath",
    "unpaid_share": "share of the rest never paid",
    "up_to": "up to",
}


def in_words(record, path):
    """Return a dotted key of a record in words; what has a name is called by it."""
    said, part = [], record
    for key in path.split("."):
        part, parent = parts_of(part).get(key), part
        if isinstance(parent, tuple):
            said.append(getattr(part, "name", None) or f"no. {int(key) + 1}")
        elif key.isdigit():
            said.append(f"in {key}-pass")
        else:
            said.append(WORDS.get(key, key.replace("_", " ")))
    return ": ".join(said)


def what_of(record, owner, path):
    """Return a figure in words, with whose it is.

    `record` is the Machine or the Brief that the figure stands in.
    """
    if owner == "brief":
        return in_words(record, path).removeprefix("work: ")
    if path.startswith("speed."):
        return f"{owner}: printing speed"
    return f"{owner}: {in_words(record, path)}"


def what_asked(question):
    """Return what a Question asks, in words."""
    return what_of(question.record, question.owner, question.path)


def what_swings(evaluation, swing):
    """Return the figure of a Swing in words."""
    return what_of(evaluation.record_of(swing.owner), swing.owner, swing.path)
