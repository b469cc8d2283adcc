"""What several fields of a machine sheet say together."""

from scoring.errors import shown
from scoring.inputs.machine import motion_told
from scoring.inputs.quantity import Wrong, nearest

# What figures, draws and choices are told by besides the machines' names.
TAKEN = ("brief", "weights", "buy nothing")


def check_sheet(machine):
    """Return [(path, Wrong)] of what several fields say together."""
    return [
        *_name_check(machine),
        *_speed_check(machine),
        *_carriage_check(machine),
        *_pieces_check(machine),
        *_effects_check(machine),
        *_surfaces_check(machine),
        *_plans_check(machine),
    ]


def _name_check(machine):
    if machine.name in TAKEN:
        what = f"{shown(machine.name)} names something else here"
        return [(("name",), Wrong(what, "another name for the machine"))]
    return []


def _speed_check(machine):
    if not machine.speed and not machine.print_tests:
        allowed = "at least one pass mode with its speed, such as 4: 1.7 m²/h"
        key, what = ("speed",), "is missing"
        if "speed" in machine.model_fields_set:
            what = "is an empty table"
        elif "print_tests" in machine.model_fields_set:
            key, what, allowed = ("print_tests",), "is empty", "a timed print or speed"
        return [(key, Wrong(what, allowed))]
    return [
        (("print_tests", k, key), Wrong("is 0 or unknown", "a figure above 0"))
        for k, test in enumerate(machine.print_tests)
        for key in ("width", "height", "time")
        if not (getattr(test, key).low or 0) > 0
    ]


def _carriage_check(machine):
    if machine.carriage is None or len(motion_told(machine.carriage)) != 1:
        return []
    allowed = "both of head_speed and turnaround, or neither"
    (other,) = {"head_speed", "turnaround"} - set(motion_told(machine.carriage))
    return [(("carriage", other), Wrong("is missing", allowed))]


def _pieces_check(machine):
    masses = [piece.mass for piece in machine.pieces]
    known = [mass.likely for mass in masses if not mass.is_unknown]
    lift = machine.heaviest_lift
    if lift.is_unknown or not known or len(known) < len(masses):
        return []
    if abs(lift.likely - max(known)) <= 0.01 * max(known):
        return []
    what = f"{shown(lift.text)}, but the heaviest of pieces weighs {max(known):g} kg"
    return [(("heaviest_lift",), Wrong(what, "the same in both"))]


def _surfaces_check(machine):
    """Return a fault for each name that no dotted key can hold."""
    return [
        (("surfaces", name), Wrong("holds a dot", "a name without one"))
        for name, needs in (machine.surfaces or {}).items()
        if needs and "." in name
    ]


def _effects_check(machine):
    had = set(machine.features).union(*(p.unlocks for p in machine.subscription_fees))
    return [
        (
            ("effects", feature),
            Wrong(
                f"no plan unlocks {shown(feature)} and it is not built in"
                + nearest(feature, had),
                "a feature of features or of a plan's unlocks",
            ),
        )
        for feature in machine.effects
        if feature not in had
    ]


def _plans_check(machine):
    names = [plan.name for plan in machine.subscription_fees]
    return [
        (
            ("subscription_fees", k, "name"),
            Wrong(f"{shown(name)} twice", "each plan once"),
        )
        for k, name in enumerate(names)
        if name in names[:k]
    ]
