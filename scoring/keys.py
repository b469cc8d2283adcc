"""Keys of the files as people say them."""

from scoring.inputs.quantities import parts_of

WORDS = {
    "access_hours": "hours that the client allows",
    "aids": "aid",
    "alike_rigs_save": "share of upkeep and kit that a second alike rig saves",
    "artwork_fee": "fee for the artwork",
    "buy": "a larger one, to buy",
    "max_print_height": "highest it prints",
    "lowest_print_height": "lowest it prints",
    "response": "days until the seller answers",
    "parts_lead_time": "days until parts arrive",
    "prime_time": "purge and nozzle check",
    "ratings": "rating",
    "blank_share": "share left empty",
    "bookable_share": "share of days that can be booked",
    "carry": "carrying in, each way",
    "closing_time": "closing a day",
    "day_margin": "kept free of each day",
    "discount_rate": "interest asked (discount rate)",
    "head_gap": "widest gap from head to wall",
    "hire": "a larger one, hired for a day",
    "highest_upfront": "most to pay to your door",
    "head_lead_time": "days until a new head arrives",
    "horizon": "years looked ahead",
    "idle_every": "idle care every",
    "ink_cover": "share covered with ink",
    "jobs_per_day_max": "most jobs in one day",
    "landed_cost": "to your door",
    "lift_limit": "most that one person lifts",
    "measure_mask_time": "measuring and masking",
    "odour": "smell",
    "odour_limit": "smell that is allowed (0 to 6)",
    "overnight": "may stay built overnight",
    "own_hour": "your own hour",
    "per_m2": "for each m²",
    "per_month": "jobs a month",
    "relief": "wall stands out by",
    "side_clearance": "room needed at the side",
    "shelf_life": "months that it keeps",
    "side_gap": "gap at the side",
    "spoilt_share": "share of prints spoilt",
    "spoilt_start": "times as many prints spoilt at first",
    "learning_start": "times as long to build at first",
    "learning_halving": "builds that halve what is too much",
    "first_jobs": "first jobs at a lower price",
    "first_discount": "taken off the first jobs",
    "training_days": "working days of training, unpaid",
    "subscription_fees": "plan",
    "underbase": "white underneath",
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
