"""Evidence → the arrays that the model takes; names meet arrays here and nowhere else.

`drawn` maps (owner, path) to an array of shape (draw,), in internal units and in the
brief's currency.
"""

from dataclasses import dataclass

import numpy as np

from scoring.evidence import FIELDS
from scoring.inputs.silhouette import blank_share
from scoring.model.figures import (
    BusinessFigures,
    JobFigures,
    MachineFigures,
    PaymentTerms,
    Trade,
)
from scoring.model.money.job_money import band_price
from scoring.model.months.learning import learning_factor

STRIP_M = 0.05  # where the sheet tells no strip width; own estimate
LEARNED = ("assembly_min", "prime_min")
LEARNING = ("learning_start", "learning_halving")
AIDS_ON_WHEELS = ("ramp",)
# An hour of a second person costs what the first of these says that the brief states.
WAGE_PATHS = ("crew.wage", "crew.hired_help.rate", "money.own_hour")
HELP_RATE_PATHS = ("crew.hired_help.rate", "crew.wage", "money.own_hour")


@dataclass(frozen=True)
class Variant:
    """A machine under one of its plans, with the features that it then has in use."""

    machine: object
    plan: int

    @property
    def features(self):
        unlocked = self.machine.subscription_fees[self.plan].unlocks
        return frozenset(self.machine.features) | frozenset(unlocked)

    def path(self, path):
        """Return the path in force: a feature's effect replaces the field."""
        for feature in sorted(self.features):
            if path in self.machine.effects.get(feature, {}):
                return f"effects.{feature}.{path}"
        return path


def variants_of(machine):
    """Return the machine under each of its plans."""
    return [Variant(machine, k) for k in range(len(machine.subscription_fees))]


def machine_figures(brief, variants, drawn):
    """Return the MachineFigures of these variants."""
    n_draws = len(next(iter(drawn.values())))

    def column(field):
        return _stacked([_of_variant(v, field, drawn, n_draws) for v in variants])

    def flag(holds):
        return np.array([[[holds(v)] for v in variants]])

    pass_modes, speed = _speeds(variants, drawn, n_draws)
    piece_kg, piece_rolls = _pieces(variants, drawn, n_draws)
    columns = {field.name: column(field) for field in FIELDS}
    for name in LEARNED:
        columns[name] = columns[name] / practice(variants, drawn)
    columns["resale"] = columns["resale"] * flag(_may_be_sold)
    fees = [drawn[v.machine.name, f"subscription_fees.{v.plan}.fee"] for v in variants]
    return MachineFigures(
        plan_fee=_stacked(fees),
        terms=np.array([[[v.machine.landed_cost.terms or "EXW"] for v in variants]]),
        pass_modes=pass_modes,
        speed_m2_per_h=speed,
        piece_kg=piece_kg,
        piece_rolls=piece_rolls,
        heaviest_rolls=flag(_heaviest_rolls),
        skips_blank=flag(lambda v: "skip_blank" in v.features),
        prints_white=flag(lambda v: v.machine.white.mode != "none"),
        prints_curved=flag(lambda v: "curved_walls" in v.features),
        prints_surface=_surfaces(brief, variants),
        **columns,
    )


def practice(variants, drawn):
    """Return how many times its learned time a build took whoever was timed.

    A sheet that does not say how many builds came before tells a practised one's time.
    """
    start, halving = (drawn["brief", f"trade.{name}"] for name in LEARNING)
    done = [v.machine.builds_before for v in variants]
    done = [np.inf if n_builds is None else n_builds for n_builds in done]
    return _stacked([learning_factor(n_builds, start, halving) for n_builds in done])


def _may_be_sold(variant):
    """Return False where the licence ends with the first owner: resale is then 0."""
    return variant.machine.support.licence_transfers is not False


def _stacked(rows):
    """Return (machine) rows of (draw,) as (draw, machine, 1)."""
    return np.stack(rows, axis=1)[..., None]


def _of_variant(variant, field, drawn, n_draws):
    """Return one variant's figure, (draw,): its own, its stand-in's, or the absent."""
    for path in (variant.path(field.path), field.instead):
        if path and (variant.machine.name, path) in drawn:
            return drawn[variant.machine.name, path] * field.factor
    return np.full(n_draws, field.absent)


def _speeds(variants, drawn, n_draws):
    """Return the pass modes of all machines, and each one's speeds in them."""
    pass_modes = sorted({passes for v in variants for passes in v.machine.speeds()})
    speed = np.full((n_draws, len(variants), 1, len(pass_modes)), np.nan)
    for row, variant in enumerate(variants):
        for passes in variant.machine.speeds():
            mode = pass_modes.index(passes)
            speed[:, row, 0, mode] = drawn[variant.machine.name, f"speed.{passes}"]
    return np.array(pass_modes), speed


def _pieces(variants, drawn, n_draws):
    """Return masses (draw, machine, piece), NaN where there is none, and wheels."""
    n_pieces = max(1, *(len(v.machine.pieces) for v in variants), 1)
    mass = np.full((n_draws, len(variants), n_pieces), np.nan)
    rolls = np.zeros((1, len(variants), n_pieces), bool)
    for row, variant in enumerate(variants):
        for k, piece in enumerate(variant.machine.pieces):
            mass[:, row, k] = drawn[variant.machine.name, f"pieces.{k}.mass"]
            rolls[0, row, k] = piece.wheels
    return mass, rolls


def _heaviest_rolls(variant):
    """Return whether the heaviest piece has wheels; without a list it is not known."""
    pieces = [piece for piece in variant.machine.pieces if not piece.mass.is_unknown]
    if not pieces:
        return True
    return max(pieces, key=lambda piece: piece.mass.likely).wheels


def _surfaces(brief, variants):
    """Return bool (1, machine, job); a machine without a list takes any surface."""
    return np.array(
        [
            [
                [
                    job.surface is None
                    or v.machine.surfaces is None
                    or job.surface in v.machine.surfaces
                    for job in brief.work
                ]
                for v in variants
            ]
        ]
    )


def job_figures(brief, variants, drawn):
    """Return the JobFigures of the brief's work.

    A kind of job with artwork has a blank share for each machine, by its strip width.
    """
    n_draws = len(next(iter(drawn.values())))

    def row(path, absent=0.0):
        keys = [("brief", f"work.{k}.{path}") for k in range(len(brief.work))]
        figures = [drawn.get(key, np.full(n_draws, absent)) for key in keys]
        return np.stack(figures, axis=1)[:, None, :]

    def fixed(read):
        return np.array([[[read(job) for job in brief.work]]])

    walls = fixed(lambda job: float(job.walls))
    area_m2 = walls * row("width") * row("height")
    return JobFigures(
        per_month=row("per_month"),
        walls=walls,
        width_m=row("width"),
        height_m=row("height"),
        passes=np.array([job.passes for job in brief.work]),
        blank_share=_blank_share(brief, variants, row("blank_share"), row("width")),
        has_underbase=fixed(lambda job: job.underbase),
        is_curved=fixed(lambda job: job.curved),
        relief_m=row("relief"),
        ink_cover=row("ink_cover", 1.0),
        odour_limit=row("odour_limit", 6.0),
        price_per_m2=_price_per_m2(brief, drawn, area_m2),
        minimum=row("price.minimum"),
        price_per_job=row("price.per_job"),
        artwork_fee=row("artwork_fee"),
        carry_min=row("carry"),
        stairs=fixed(lambda job: float(job.stairs)),
        measure_mask_min=row("measure_mask_time"),
        closing_min=row("closing_time"),
        distance_km=row("distance"),
        stays_built=fixed(lambda job: job.overnight),
        access_min=row("access_hours", np.inf),
        lowest_edge_m=row("lowest_edge", np.nan),
        side_gap_m=row("side_gap", np.nan),
        survey_visits=fixed(lambda job: float(job.survey_visit)),
        is_must=fixed(lambda job: job.name in brief.limits.must_serve),
    )


def _blank_share(brief, variants, written, width_m):
    """Return blank shares, (draw, 1 or machine, job): of the artwork where there is."""
    if not brief.pictures:
        return written
    share = np.repeat(written, len(variants), axis=1)
    for j, inked in brief.pictures.items():
        for row, variant in enumerate(variants):
            strip_m = strip_width_m(variant.machine)
            swath = inked.shape[1] * strip_m / width_m[:, 0, j].mean()
            share[:, row, j] = blank_share(inked, swath)
    return share


def strip_width_m(machine):
    """Return the width of the strip that a machine's head prints, metres."""
    carriage = machine.carriage
    if carriage is None or carriage.strip_width.is_unknown:
        return STRIP_M
    return carriage.strip_width.likely


def _price_per_m2(brief, drawn, area_m2):
    """Return each job's price per m², that of its size band where it has bands."""
    price = np.zeros(area_m2.shape)
    for k, job in enumerate(brief.work):
        path = f"work.{k}.price"
        if job.price.bands:
            n_bands = range(len(job.price.bands))
            up_to = [drawn.get(("brief", f"{path}.bands.{b}.up_to")) for b in n_bands]
            limits = [np.inf if limit is None else limit.mean() for limit in up_to]
            prices = np.stack(
                [drawn["brief", f"{path}.bands.{b}.per_m2"] for b in n_bands], axis=-1
            )
            price[:, 0, k] = band_price(area_m2[:, 0, k], limits, prices)
        elif ("brief", f"{path}.per_m2") in drawn:
            price[:, 0, k] = drawn["brief", f"{path}.per_m2"]
    return price


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
    }


def aid_names(brief):
    """Return the names of the brief's aids, cheapest first."""
    return sorted(brief.crew.aids, key=lambda name: brief.crew.aids[name].price.likely)
