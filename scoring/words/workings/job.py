"""The minutes and days of one job, part by part."""

from scoring.answer.one_machine import at, of_place, told_at
from scoring.inputs.print_tests import inferred
from scoring.words.figures import figure, in_100, number
from scoring.words.ruled_out import not_served
from scoring.words.workings.steps import (
    Step,
    expected_step,
    sheet_step,
    surface_paths,
    with_practice,
)

HARDLY = 0.005  # of a day


def job_steps(evaluation, k, j, is_us=False):
    """Return the minutes of one job part by part, and how its days came about."""
    lived, job = told_at(evaluation, k, j), evaluation.brief.work[j]
    site = lived.site
    if not lived.can_do:
        return [
            Step(
                job.name,
                None,
                "day",
                f"not served: {not_served(evaluation, k, j, is_us)}",
            )
        ]
    how = {
        "print": _print_how(evaluation, k, j, is_us),
        "moves": _moves_how(evaluation, k, j),
    }
    paths = {
        "arrival": [f"work.{j}.arrival_time"],
        "carry": [f"work.{j}.carry"],
        "assembly": ["assembly_time"],
        "prime": ["prime_time"],
        "measure_mask": [f"work.{j}.measure_mask_time"],
        "surface": surface_paths(evaluation, k, j, ("primer", "varnish", "drying")),
        "print": _print_paths(evaluation, k, j),
        "moves": _moves_paths(evaluation, k, j),
        "closing": [f"work.{j}.closing_time"],
        "pack_down": ["pack_down_time"],
    }
    times = {
        "arrival": site.days,
        "carry": 2 * site.builds,
        "assembly": site.builds,
        "prime": site.days,
    }
    times |= {"closing": site.days, "pack_down": site.builds}
    steps = []
    practised = with_practice(evaluation, k)
    for name, minutes in site.parts._asdict().items():
        if name == "surface" and not minutes:
            continue
        n = times[name] if name in times else 1
        once = figure(minutes / n, "min")
        repeated = f"{number(n)} × {once}" if n > 1 else ""
        steps.append(
            sheet_step(
                evaluation,
                k,
                PART_WORDS[name],
                minutes,
                "min",
                paths[name],
                how.get(name) or repeated,
                practised if name in ("assembly", "prime") else "",
            )
        )
    steps.append(Step("on site", site.on_site_min, "min", "the sum"))
    minutes = at(evaluation, k, j).site.on_site_min
    steps += expected_step("on site", minutes, site.on_site_min, "min")
    steps.append(Step("days", site.days, "day", _days_how(evaluation, k, j)))
    steps += _expected_steps(evaluation, k, j)
    booked = lived.booked_days
    if booked < 1:
        how = f"{number(1 / booked)} such jobs fit one day"
        steps.append(Step("booked", booked, "day", how))
    return steps


def _expected_steps(evaluation, k, j):
    """Return the days to expect, [] where they are those that are told."""
    days = float(at(evaluation, k, j).site.days)
    if abs(days - told_at(evaluation, k, j).site.days) < HARDLY:
        return []
    more = float(of_place(evaluation.expected.chances, k, j).more_days)
    differs = f"in {in_100(more)} it takes more" if more else "in some it takes fewer"
    how = f"mean of the draws; {differs} than told"
    return [Step("days to expect", days, "day", how)]


def _print_paths(evaluation, k, j):
    """Return the keys that the time to print rests on: carriage, or speed."""
    machines = of_place(evaluation.told.figures.machines, k)
    paths = [f"speed.{int(told_at(evaluation, k, j).site.passes)}"]
    if machines.strip_width_m > 0:
        names = ("strip_width", "head_speed", "turnaround")
        paths = [f"carriage.{name}" for name in names]
    if evaluation.brief.work[j].underbase:
        paths.append("white.time_factor")
    return paths


def _moves_paths(evaluation, k, j):
    """Return the keys that the moves rest on, the rail's too where it is short."""
    stands = told_at(evaluation, k, j).site.stands
    is_short = stands > evaluation.brief.work[j].walls
    return ["shift_time", "move_time", *(["rail_length"] if is_short else [])]


PART_WORDS = {
    "arrival": "park and talk",
    "carry": "carry in and out",
    "assembly": "build",
    "prime": "prime and nozzle check",
    "measure_mask": "measure and mask",
    "surface": "prime, let dry and varnish the wall",
    "print": "print",
    "moves": "shift along, move to next wall",
    "closing": "closing the day",
    "pack_down": "pack down",
}


def _print_how(evaluation, k, j, is_us):
    job = evaluation.brief.work[j]
    machines, jobs, _ = of_place(evaluation.told.figures, k, j)
    passes = int(told_at(evaluation, k, j).site.passes)
    area = jobs.walls * jobs.width_m * jobs.height_m
    mode = machines.pass_modes.tolist().index(passes)
    speed = machines.speed_m2_per_h[mode]
    origin = evaluation.evidence[evaluation.names[k], f"speed.{passes}"].note
    wall = figure(area, "m²", is_us)
    text = f"{wall} at {figure(speed, 'm²/h', is_us)} in {passes}-pass"
    if machines.strip_width_m > 0:
        text = f"{wall} by strokes of the head in {passes}-pass"
    elif origin:
        text += f" ({origin})"
    if job.underbase:
        text += f", × {number(machines.white_time_factor, 2)} for white underneath"
    blank = jobs.blank_share
    if machines.skips_blank and blank > 0:
        text += f", less {figure(blank, 'share')} skipped as empty"
    tests = evaluation.machines[k].print_tests
    sides = (jobs.width_m, jobs.height_m)
    remark = inferred(tests, passes, *sides) if tests else ""
    if remark:
        text += f" ({remark})"
    return text


def _moves_how(evaluation, k, j):
    job = evaluation.brief.work[j]
    stands = int(told_at(evaluation, k, j).site.stands)
    shifts, moves = stands - job.walls, job.walls - 1
    parts = [
        f"{shifts} × shift along" if shifts else "",
        f"{moves} × to the next wall" if moves else "",
    ]
    return " and ".join(filter(None, parts)) or "one rail position"


def _days_how(evaluation, k, j):
    site, job = told_at(evaluation, k, j).site, evaluation.brief.work[j]
    window, spare = (figure(x, "min") for x in (site.window_min, site.spare_min))
    lodged = "; crew lodged nearby" if site.is_lodged else ""
    road = site.road_days
    if road > 0:
        lodged += f", {figure(road, 'day')} on the road booked besides"
    if site.days == 1:
        return f"fits the {window} of a day on site, {spare} to spare{lodged}"
    stays = "may stay built" if job.overnight else "packed down and built anew each day"
    return f"{window} a day on site, {stays}{lodged}; {spare} to spare on the last"
