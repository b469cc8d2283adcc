"""Machines under their plans → the model's arrays."""

import numpy as np

from scoring.evidence.buyer_arrays import aid_names
from scoring.evidence.sheet_figures import FIELDS
from scoring.model.figures import MachineFigures
from scoring.model.months.learning import learning_factor

UNTOLD_PIECES = 6  # of a sheet that lists none; own estimate, no source
SAME_MASS = 0.01  # by so much a list and the heaviest lift may differ
# What a sheet that lists no surfaces has to reach; own estimates, no source: it
# prints on paint and plaster in 19 of 20 draws, on others in 3 of 10.
BARS, BAR = {"painted": 0.2, "plaster": 0.2}, 0.6
LEARNED = ("assembly_min", "prime_min")
LEARNING = ("learning_start", "learning_halving")


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
    for name in ("odour_preparing", "odour_printing"):
        columns[name] = np.floor(columns[name] + 0.5)  # intensities are categories
    columns["resale"] = columns["resale"] * flag(_may_be_sold)
    is_listed = flag(_lifts_as_listed)
    heaviest = np.nanmax(piece_kg, axis=-1, keepdims=True)
    columns["heaviest_lift_kg"] = np.where(
        is_listed, heaviest, columns["heaviest_lift_kg"]
    )
    fees = [drawn[v.machine.name, f"subscription_fees.{v.plan}.fee"] for v in variants]
    return MachineFigures(
        plan_fee=_stacked(fees),
        terms=np.array([[[v.machine.landed_cost.terms or "EXW"] for v in variants]]),
        pass_modes=pass_modes,
        speed_m2_per_h=speed,
        piece_kg=piece_kg,
        piece_rolls=piece_rolls,
        aid_bought=_aids(brief, variants),
        crew_level=flag(lambda v: v.way.level),
        crew_stairs=flag(lambda v: v.way.stairs),
        hires_first=flag(lambda v: v.way.hires_first),
        may_hire=flag(lambda v: v.way.may_hire),
        skips_blank=flag(lambda v: "skip_blank" in v.features),
        prints_white=flag(lambda v: v.machine.white.mode != "none"),
        prints_curved=flag(lambda v: "curved_walls" in v.features),
        prints_surface=_surfaces(brief, variants, drawn),
        **_surface_needs(brief, variants, drawn),
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
    """Return (machine) rows of (draw,) as (draw, machine, 1), row after row.

    In this order, which results keep, loops go through many draws instead of through a
    few machines or jobs.
    """
    return np.stack(rows).T[..., None]


def _of_variant(variant, field, drawn, n_draws):
    """Return one variant's figure, (draw,): its own, its stand-in's, or the absent."""
    for path in (variant.path(field.path), field.instead):
        if path and (variant.machine.name, path) in drawn:
            return drawn[variant.machine.name, path] * field.factor
    return np.full(n_draws, field.absent)


def _speeds(variants, drawn, n_draws):
    """Return the pass modes of all machines, and each one's speeds in them."""
    of = {v.machine.name: v.machine.speeds() for v in variants}
    pass_modes = sorted({passes for offered in of.values() for passes in offered})
    shape = (n_draws, len(variants), 1, len(pass_modes))
    speed = np.full(shape, np.nan, order="F")
    for row, variant in enumerate(variants):
        for passes in of[variant.machine.name]:
            mode = pass_modes.index(passes)
            speed[:, row, 0, mode] = drawn[variant.machine.name, f"speed.{passes}"]
    return np.array(pass_modes), speed


def _aids(brief, variants):
    """Return which aids of the brief are bought: bool (1, machine, aid)."""
    names = aid_names(brief)
    bought = [[name in v.way.aids for name in names] for v in variants]
    return np.array([bought], bool).reshape(1, len(variants), len(names))


def _pieces(variants, drawn, n_draws):
    """Return masses (draw, machine, piece), NaN where there is none, and wheels.

    The heaviest piece weighs what is told as the heaviest lift. A sheet without a list
    is taken to come in some pieces, each as heavy as the heaviest and without wheels:
    silence is no good news.
    """
    n_pieces = max(UNTOLD_PIECES, *(len(v.machine.pieces) for v in variants), 1)
    mass = np.full((n_draws, len(variants), n_pieces), np.nan, order="F")
    rolls = np.zeros((1, len(variants), n_pieces), bool)
    for row, variant in enumerate(variants):
        heaviest = drawn[variant.machine.name, "heaviest_lift"]
        if not variant.machine.pieces:
            mass[:, row, :UNTOLD_PIECES] = heaviest[:, None]
        for k, piece in enumerate(variant.machine.pieces):
            mass[:, row, k] = drawn[variant.machine.name, f"pieces.{k}.mass"]
            rolls[0, row, k] = piece.wheels
        if variant.machine.pieces and not _lifts_as_listed(variant):
            mass[:, row, _heaviest(variant.machine)] = heaviest
    return mass, rolls


def _lifts_as_listed(variant):
    """Return whether the pieces alone tell what the heaviest lift is."""
    machine = variant.machine
    return machine.heaviest_lift.is_unknown and bool(machine.pieces)


def _heaviest(machine):
    """Return the place of the piece that the sheet's heaviest lift speaks of.

    One whose mass is not told, where all others are lighter than that.
    """
    masses = [piece.mass for piece in machine.pieces]
    untold = [k for k, mass in enumerate(masses) if mass.is_unknown]
    known = [-np.inf if mass.is_unknown else mass.likely for mass in masses]
    is_other = max(known) < (1 - SAME_MASS) * machine.heaviest_lift.likely
    return untold[0] if untold and is_other else int(np.argmax(known))


def _surfaces(brief, variants, drawn):
    """Return bool (1 or draw, machine, job): which surfaces a machine prints on.

    A sheet that lists none leaves a doubt: a figure between 0 and 1 that has to reach
    the surface's own bar.
    """
    n_draws = len(next(iter(drawn.values())))
    found = np.ones((n_draws, len(variants), len(brief.work)), bool)
    for row, variant in enumerate(variants):
        for j, job in enumerate(brief.work):
            listed = variant.machine.surfaces
            if job.surface is None:
                continue
            if listed is None:
                doubt = drawn[variant.machine.name, "surfaces"]
                found[:, row, j] = doubt >= BARS.get(job.surface, BAR)
            else:
                found[:, row, j] = job.surface in listed
    return found


def _surface_needs(brief, variants, drawn):
    """Return what each machine asks of each job's surface, {} where none asks any."""
    fields = {"primer": 0, "varnish": 0, "drying": 1, "cost": 2}
    needs = np.zeros(
        (3, len(next(iter(drawn.values()))), len(variants), len(brief.work))
    )
    for row, variant in enumerate(variants):
        for j, job in enumerate(brief.work):
            of_surface = (variant.machine.surfaces or {}).get(job.surface, {})
            for field in of_surface:
                key = variant.machine.name, f"surfaces.{job.surface}.{field}"
                needs[fields[field], :, row, j] += drawn[key]
    names = ("surface_min_per_m2", "drying_min", "surface_cost_per_m2")
    return dict(zip(names, needs, strict=True)) if needs.any() else {}
