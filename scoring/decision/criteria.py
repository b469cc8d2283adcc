"""What is compared, and the scale that turns a figure in its unit into a 0–1 score.

A scale holds [worst, best] anchors, shape (n_criteria, 2). It is set once for a loaded
brief and then kept, so that a weight keeps meaning the same swing.
"""

from dataclasses import dataclass

from scoring.decision.scale import default_scale, scores, separates

__all__ = ["OPTIONAL", "STANDARD", "Criterion", "default_scale", "scores", "separates"]


@dataclass(frozen=True)
class Criterion:
    """One thing that matters to the buyer.

    `unit` says "currency" where the brief's own stands. `derived_from` names the keys
    of the machine sheet or the brief that the figure rests on; `double_counts` the
    criteria through which the same facts already act. Figures above `flat_above` count
    as it.
    """

    id: str
    label: str
    term: str
    unit: str
    is_benefit: bool
    derived_from: tuple[str, ...]
    in_use: bool = True
    flat_above: float | None = None
    double_counts: tuple[str, ...] = ()


STANDARD = (
    Criterion(
        id="upfront",
        label="cost to your door",
        term="landed cost: price, freight, insurance, duty, tax, training, accessories",
        unit="currency",
        is_benefit=False,
        derived_from=(
            "price",
            "landed_cost",
            "crew.aids",
            "money.import_tax_recovered",
        ),
    ),
    Criterion(
        id="year_result",
        label="money left over in a year",
        term="yearly contribution less fixed costs and your own pay, before tax",
        unit="currency/year",
        is_benefit=True,
        derived_from=(
            *(
                "work",
                "working_time",
                "travel",
                "crew",
                "money.fixed_costs",
                "money.own_hour",
            ),
            *("speed", "print_tests", "carriage", "rail_length", "assembly_time"),
            *("pack_down_time", "prime_time", "move_time", "shift_time", "ink"),
            *("white", "wear", "upkeep", "spoilt_share", "reliability"),
            *("subscription_fees", "max_print_height", "lowest_print_height"),
            *("side_clearance", "head_gap", "surfaces", "features", "odour"),
        ),
    ),
    Criterion(
        id="ready_time",
        label="arrival to first print",
        term="carrying in, building, priming and checking nozzles, mean over your work",
        unit="min",
        is_benefit=False,
        derived_from=("assembly_time", "prime_time", "pieces", "work.carry"),
    ),
    Criterion(
        id="heaviest_lift",
        label="heaviest lift",
        term="mass of the heaviest piece that is carried",
        unit="kg",
        is_benefit=False,
        derived_from=("heaviest_lift",),
    ),
    Criterion(
        id="odour",
        label="smell of the ink",
        term="odour intensity after VDI 3882-1, the stronger of preparing and printing",
        unit="0–6",
        is_benefit=False,
        derived_from=("odour.preparing", "odour.printing"),
    ),
    Criterion(
        id="support",
        label="days until running again",
        term="the maker's response and the parts' lead time after a breakdown",
        unit="day",
        is_benefit=False,
        derived_from=("support.response", "support.parts_lead_time"),
    ),
    Criterion(
        id="print_quality",
        label="print quality",
        term="rating of the print as clients see it, 1–5",
        unit="1–5",
        is_benefit=True,
        derived_from=("ratings.print_quality",),
    ),
    Criterion(
        id="software_ease",
        label="ease of the software",
        term="rating of the software in daily use, 1–5",
        unit="1–5",
        is_benefit=True,
        derived_from=("ratings.software_ease",),
    ),
    Criterion(
        id="work_served",
        label="share of the work served",
        term="revenue served as a share of the revenue of the whole mix",
        unit="share",
        is_benefit=True,
        derived_from=("work", "working_time", "speed", "max_print_height", "odour"),
        in_use=False,
        double_counts=("year_result",),
    ),
    Criterion(
        id="site_hours",
        label="hours on site per 1000 earned",
        term="crew hours on site for each 1000 of revenue",
        unit="h per 1000 currency",
        is_benefit=False,
        derived_from=("work", "crew", "speed", "assembly_time", "pack_down_time"),
        in_use=False,
        double_counts=("year_result",),
    ),
    Criterion(
        id="days_lost",
        label="days lost to breakdowns a year",
        term="expected stoppages a year times the days that each takes",
        unit="day/year",
        is_benefit=False,
        derived_from=("reliability.jobs_between_stoppages", "reliability.days_down"),
        in_use=False,
        double_counts=("year_result",),
    ),
)

# Only where a brief asks for them; then they count like any other.
OPTIONAL = (
    Criterion(
        id="cash_out",
        label="chance that cash runs out",
        term="share of draws in which some month needs more than cash and credit",
        unit="share",
        is_benefit=False,
        derived_from=("money.cash", "money.loan", "payment", "trade"),
        double_counts=("year_result",),
    ),
    Criterion(
        id="resale",
        label="resale after the years looked at",
        term="what the machine brings then; the score of money a year leaves it out",
        unit="currency",
        is_benefit=True,
        derived_from=("resale", "support.licence_transfers"),
    ),
    Criterion(
        id="room_to_grow",
        label="room to grow",
        term="revenue served at 160 % of the work, as a share of all of that",
        unit="share",
        is_benefit=True,
        derived_from=("work", "working_time", "speed", "assembly_time"),
        double_counts=("work_served",),
    ),
)
GROWN = 1.6  # times the work in “room to grow”; own estimate, no source


def known_ids():
    """Return the ids of the criteria that need no rating of the sheets."""
    return [criterion.id for criterion in (*STANDARD, *OPTIONAL)]
