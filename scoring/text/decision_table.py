"""A ranked decision matrix as text."""

from scoring.text.layout import columns


def table_text(record):
    """Return the ranking of a decision matrix as text."""
    head = [
        "place",
        "alternative",
        "score",
        "nearness to best",
        "place by nearness",
        "",
    ]
    rows = [
        [
            machine.rank_weighted_sum,
            machine.name,
            f"{machine.weighted_sum:.3f}",
            f"{machine.topsis:.3f}",
            machine.rank_topsis,
            "" if machine.name in record.pareto_front else "outdone",
        ]
        for machine in record.machines
    ]
    return columns([head, *rows], "><>>><")
