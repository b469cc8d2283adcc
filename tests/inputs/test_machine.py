"""What a machine sheet says beyond its single figures."""

import pytest

from scoring.inputs.machine_folder import load_machines, read_machine
from scoring.inputs.quantity import quantities_of, quantity_at
from tests.inputs.sheets import SHEET, changed, source

SPEED = "speed:\n  4: 3 m²/h"


def sheet(old, new):
    """Return the Machine of the small sheet with one place changed."""
    return read_machine(source(changed(SHEET, old, new)))


# Common practice, no source: 3 ft × 3 ft in 33 min is 1.52 m²/h, in 75 min 0.67 m²/h,
# a ratio of 2.27. By hand: (3 · 0.3048)² = 0.83612736 m²; · 60/33 = 1.5202,
# · 60/75 = 0.6689; 75/33 = 2.2727.
def test_timed_prints_become_speeds():
    """A timed square of three feet gives the area an hour that the trade quotes."""
    fast, slow = (
        sheet(
            SPEED,
            f"print_tests: [{{passes: 4, width: 3 ft, height: 3 ft, time: {t} min}}]",
        )
        .speeds()[4][0]
        .likely
        for t in (33, 75)
    )
    assert fast == pytest.approx(1.52, abs=0.005)
    assert slow == pytest.approx(0.67, abs=0.005)
    assert fast / slow == pytest.approx(2.27, abs=0.005)


# Common practice, no source: the same area at 8 passes takes twice the time of 4.
def test_a_mode_without_a_speed_is_inferred_and_flagged():
    """Speed goes by 1/passes from the nearest mode that has one, and says so."""
    machine = sheet(SPEED, "pass_modes: [4, 8, 12]\nspeed:\n  4: 3 m²/h\n  8: 1.4 m²/h")
    speeds = machine.speeds()
    assert speeds[8][0].likely == 1.4 and speeds[8][1] == "stated"
    # 12 passes from 8: 1.4 · 8/12 = 0.9333
    assert speeds[12][0].likely == pytest.approx(1.4 * 8 / 12)
    assert speeds[12][1] == "inferred from 8-pass"
    only = sheet(SPEED, f"pass_modes: [4, 8]\n{SPEED}").speeds()
    assert only[4][0].likely / only[8][0].likely == pytest.approx(2)


def test_timed_prints_win_over_what_is_stated():
    """Where both are there, the model takes the timed print; the sheet keeps both."""
    test = "{passes: 4, width: 1 m, height: 1 m, time: 30 min}"
    machine = sheet(SPEED, f"print_tests: [{test}]\n{SPEED}")
    assert machine.speeds()[4][0].likely == pytest.approx(2)
    assert machine.speed[4].likely == 3


def test_two_prints_of_a_mode_count_by_area_and_span_a_range():
    """1 m² in 30 min and 3 m² in 60 min: 4 m² in 1.5 h, between 2 and 3 m²/h."""
    tests = [
        "{passes: 4, width: 1 m, height: 1 m, time: 30 min}",
        "{passes: 4, width: 3 m, height: 1 m, time: 60 min}",
    ]
    speed, origin = sheet(SPEED, f"print_tests: [{', '.join(tests)}]").speeds()[4]
    assert (speed.low, speed.high) == pytest.approx((2, 3))
    assert speed.likely == pytest.approx(4 / 1.5)
    assert (origin, speed.basis) == ("print test", "measured")


def test_silence_is_unknown_never_zero():
    """Costs, reliability and support that the sheet leaves out are unknown."""
    machine = read_machine(source(SHEET))
    for path in (
        "landed_cost.freight",
        "upkeep",
        "resale",
        "ink.price",
        "wear.head_life",
        "reliability.days_down",
        "support.response",
        "spoilt_share",
    ):
        assert quantity_at(machine, path).is_unknown, path
    for path in ("rail_length", "ink.white", "wear.head_months", "max_print_height"):
        assert quantity_at(machine, path) is None, path


def test_white_ink_is_asked_of_machines_that_print_white():
    """White in one sweep takes no longer, in a run of its own twice as long [own]."""
    for mode, factor in (("same_sweep", 1), ("separate_run", 2)):
        machine = sheet("name: Alder", f"name: Alder\nwhite: {{mode: {mode}}}")
        assert machine.white.time_factor.likely == factor
        assert machine.ink.white.is_unknown


def test_unknown_may_stand_for_a_whole_part():
    """`support: unknown` and `odour: unknown` make each of their figures unknown."""
    machine = sheet(
        "odour: {preparing: 1, printing: 2}", "odour: unknown\nsupport: unknown"
    )
    assert machine.odour.preparing.is_unknown and machine.odour.printing.is_unknown
    assert machine.support.response.is_unknown


def test_every_figure_of_the_demo_knows_its_line():
    """Each figure that a sheet states is found on the line where it stands."""
    for machine in load_machines("profiles/machines"):
        lines = machine.text.splitlines()
        for path, figure in quantities_of(machine):
            line = lines[machine.line_of(path) - 1]
            last = path.split(".")[-1]
            if figure.is_unknown and last not in line:
                continue  # not stated: it has its parent's line
            if not last.isdigit() and path in machine.model_fields_set:
                assert last in line, (machine.source, path, line)
                assert figure.text in line, (machine.source, path, line)


def test_two_heights_tell_head_speed_and_turnaround():
    """Prints of 1 m and 2 m height give the carriage's two figures back."""
    # 1 m at 4 passes of a 0.05 m strip: 1 · 4/0.05 + 3 = 83 strokes. At 30 m/min and
    # 0.025 min a turn: 83 · (1/30 + 0.025) = 4.8417 min, 83 · (2/30 + 0.025) = 7.6083.
    tests = ", ".join(
        f"{{passes: 4, width: 1 m, height: {height} m, time: {time} min}}"
        for height, time in ((1, 4.8417), (2, 7.6083))
    )
    new = f"print_tests: [{tests}]\ncarriage: {{strip_width: 5 cm}}"
    carriage = sheet(SPEED, new).carriage
    assert carriage.head_speed.likely == pytest.approx(0.5, rel=1e-3)
    assert carriage.turnaround.likely == pytest.approx(1.5 / 60, rel=1e-2)
    assert carriage.head_speed.basis == "measured"


def test_one_height_tells_no_carriage():
    """With prints of one height alone, printing goes by the area rate."""
    new = (
        "print_tests: [{passes: 4, width: 1 m, height: 1 m, time: 20 min}]\n"
        "carriage: {strip_width: 5 cm}"
    )
    assert sheet(SPEED, new).carriage is None
