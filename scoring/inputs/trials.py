"""Timed print tests → printing speeds."""

from scoring.inputs.quantities import AREA_SPEED, Quantity

PRINT_TEST = "print test"


def tested_speeds(tests):
    """Return {pass mode: Quantity in m²/h} of timed prints, an area rate each.

    All tests of a mode count by their area; the slowest and the fastest are the ends of
    the range. Nothing is said about sampling error here.

    Examples
    --------
    >>> from scoring.inputs.machine import PrintTest
    >>> test = PrintTest(passes=4, width="3 ft", height="3 ft", time="33 min")
    >>> round(tested_speeds([test])[4].likely, 2)
    1.52
    """
    speeds = {}
    for passes in sorted({test.passes for test in tests}):
        runs = [
            (test.width.likely * test.height.likely, test.time.likely / 60)
            for test in tests
            if test.passes == passes
        ]
        area, hours = map(sum, zip(*runs, strict=True))
        rates = [run_area / run_hours for run_area, run_hours in runs]
        n = "one timed print" if len(runs) == 1 else f"{len(runs)} timed prints"
        speeds[passes] = Quantity(
            min(rates),
            area / hours,
            max(rates),
            AREA_SPEED.unit,
            AREA_SPEED.kind,
            "measured",
            AREA_SPEED.bounds,
            f"{area / hours:.2f} m²/h from {n}",
        )
    return speeds
