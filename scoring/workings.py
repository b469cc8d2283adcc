"""How a figure came about: steps in words and numbers, with units, basis and keys."""

import math
from dataclasses import dataclass

import numpy as np

from scoring.evidence.buyer_arrays import aid_names
from scoring.evidence.machine_arrays import practice
from scoring.inputs.print_tests import inferred
from scoring.model.job import crew
from scoring.words.figures import figure, joined, number
from scoring.words.ruled_out import not_served

RARE = (
    *("aids", "export_clearance", "broker", "inland_freight", "vehicle_fitting"),
    *("vehicle", "expired_ink", "insurance"),
)
VEHICLE = ("vehicle.longest_piece", "vehicle.volume", "vehicle.mass")
SURE_LAST = ("unknown", "estimated", "quoted", "measured", "stated")


@dataclass(frozen=True)
class Step:
    """One step of a working: what, its value and unit, how it came about.

    `basis` is that of the least sure figure in it and `keys` are the keys of the files
    that it rests on; a result of other steps has neither.
    """

    what: str
    value: float | None
    unit: str
    how: str = ""
    basis: str = ""
    keys: tuple[str, ...] = ()

    def text(self, is_us=False):
        """Return the step as one line."""
        if self.value is None:
            return f"{self.what}: {self.how}"
        how = f" – {self.how}" if self.how else ""
        basis = f" [{self.basis}]" if self.basis else ""
        return f"{self.what}: {figure(self.value, self.unit, is_us)}{how}{basis}"


def working(evaluation, name, criterion_id, is_us=False):
    """Return the steps by which a machine's figure for a criterion came about.

    The last step is the figure itself, as it stands in the decision matrix.
    """
    k = evaluation.index(name)
    ids = [criterion.id for criterion in evaluation.criteria]
    column = ids.index(criterion_id)
    criterion = evaluation.criteria[column]
    steps = STEPS.get(criterion_id, _rating_steps)(evaluation, k, criterion, is_us)
    result = Step(
        criterion.label, evaluation.raw[k, column], unit_of(evaluation, column)
    )
    return [*steps, result, _score_step(evaluation, k, column, is_us)]


def unit_of(evaluation, column):
    """Return a criterion's unit, with the brief's currency where it is money."""
    unit = evaluation.criteria[column].unit
    return unit.replace("currency", evaluation.brief.currency)


def _score_step(evaluation, k, column, is_us):
    unit = unit_of(evaluation, column)
    worst, best = (figure(anchor, unit, is_us) for anchor in evaluation.scale[column])
    score = evaluation.scores[k, column]
    if evaluation.scale[column, 0] == evaluation.scale[column, 1]:
        how = "all machines are equal here: does not separate them"
    else:
        how = f"on the scale from {worst} (0) to {best} (1)"
    weight = number(100 * evaluation.weights[column], 1)
    return Step("score", score, "", f"{how}, weighs {weight} %")


def _step(evaluation, k, what, value, unit, paths, how="", then=""):
    """Return a step resting on keys of the machine sheet (or of the brief).

    `how` stands in for what was written, `then` follows it.
    """
    found = [_evidence(evaluation, k, path) for path in paths]
    found = [evidence for evidence in found if evidence is not None]
    bases = [evidence.basis for evidence in found]
    basis = next((basis for basis in SURE_LAST if basis in bases), "")
    notes = "; ".join(dict.fromkeys(e.note for e in found if e.is_unknown and e.note))
    written = ", ".join(_as_written(evaluation, e) for e in found if not e.is_unknown)
    how = how or (f"written {written}" if written else "")
    how = "; ".join(filter(None, (how, then, notes)))
    return Step(what, value, unit, how, basis, tuple(paths))


def _practised(evaluation, k):
    """Return what a beginner's time comes to with practice; "" for a practised one."""
    machine, variant = evaluation.machines[k], evaluation.variants[k]
    if machine.builds_before is None:
        return ""
    factor = float(practice([variant], evaluation.drawn)[0, 0, 0])
    share = figure(1 / factor, "share")
    n_before = machine.builds_before
    when = f"after {n_before} builds" if n_before > 1 else "after 1 build"
    return f"timed {when if n_before else 'at a first try'}, {share} once practised"


def _as_written(evaluation, evidence):
    """Return a figure as its file has it, and what is made of it."""
    text = evidence.text
    ends = (evidence.low, evidence.likely, evidence.high)
    is_skewed = not math.isclose(ends[2] - ends[1], ends[1] - ends[0], abs_tol=1e-9)
    if is_skewed and ".." not in text:
        text += f", reckoned {'..'.join(number(end, 2) for end in ends)}"
    if evidence.currency not in (None, evaluation.brief.currency):
        rate = evaluation.drawn["brief", f"exchange.{evidence.currency}"][0]
        home = evaluation.brief.currency
        text += f", at {number(rate, 4)} {home} for 1 {evidence.currency}"
    return text


def _evidence(evaluation, k, path):
    variant = evaluation.variants[k]
    for key in ((evaluation.names[k], variant.path(path)), ("brief", path)):
        if key in evaluation.evidence:
            return evaluation.evidence[key]
    return None


def _upfront_steps(evaluation, k, criterion, is_us):
    paths = {
        "price": ["price"],
        "freight": ["landed_cost.freight"],
        "insurance": ["landed_cost.insurance"],
        "duty": ["landed_cost.duty", "price", "landed_cost.freight"],
        "import_tax": ["landed_cost.import_tax"],
        "export_clearance": ["landed_cost.export_clearance"],
        "broker": ["landed_cost.broker"],
        "inland_freight": ["landed_cost.inland_freight"],
        "vehicle_fitting": ["landed_cost.vehicle_fitting"],
        "vehicle": ["vehicle.buy", *VEHICLE],
        "training": ["landed_cost.training"],
        "accessories": ["landed_cost.accessories"],
        "aids": [f"crew.aids.{name}.price" for name in _aids_used(evaluation, k)],
    }
    currency, duty = evaluation.brief.currency, evaluation.figures[0].duty[0, k, 0]
    how = {
        "duty": f"{figure(duty, 'share')} of price, freight and insurance",
        "vehicle": "a larger one, bought: the machine does not go into yours",
        "import_tax": "recovered, so not a cost"
        if evaluation.brief.money.import_tax_recovered
        else "of all that and the duty",
        "aids": joined(n.replace("_", " ") for n in _aids_used(evaluation, k)),
    }
    lines = evaluation.outcome.upfront_lines._asdict()
    return [
        _step(
            evaluation,
            k,
            _words(name),
            line[0, k, 0],
            currency,
            paths[name],
            how.get(name, ""),
        )
        for name, line in lines.items()
        if name not in RARE or line[0, k, 0]
    ]


def _aids_used(evaluation, k):
    aid = int(evaluation.outcome.carried.aid[0, k, 0])
    return [] if aid < 0 else [aid_names(evaluation.brief)[aid]]


def _words(name):
    return name.replace("_", " ")


def _year_steps(evaluation, k, criterion, is_us):
    steps = booked_steps(evaluation, k, is_us)
    year, brief = evaluation.outcome.year, evaluation.brief
    for j, job in enumerate(brief.work):
        served = year.served_per_month[0, k, j]
        if served > 0:
            left = evaluation.outcome.contribution[0, k, j]
            how = (
                f"12 × {number(served, 2)} a month × "
                f"{figure(left, brief.currency)} left after job costs"
            )
            value = 12 * served * left
            steps.append(Step(job.name, value, brief.currency, how))
    paths = {
        "plan_fee": [f"subscription_fees.{evaluation.variants[k].plan}.fee"],
        "upkeep": ["upkeep"],
        "idle_care": ["ink.idle_care", "ink.idle_every", "ink.price"],
        "expired_ink": ["ink.smallest_order", "ink.shelf_life", "ink.price"],
        "insurance": ["money.insurance", "price"],
        "ageing": ["wear.head_months", "wear.lamp_months"],
        "fixed_costs": ["money.fixed_costs"],
    }
    names = {
        "ageing": "heads and lamps that age before they wear out",
        "expired_ink": "ink that grows too old before it is used",
    }
    for name, line in year.lines._asdict().items():
        if name in RARE and not line[0, k, 0]:
            continue
        if name != "contributions":
            what = names.get(name, _words(name))
            steps.append(
                _step(evaluation, k, what, line[0, k, 0], brief.currency, paths[name])
            )
    return steps


def booked_steps(evaluation, k, is_us=False):
    """Return how the days booked in a month came about, and the days there are."""
    year, brief, lived = evaluation.outcome.year, evaluation.brief, evaluation.outcome
    steps = []
    for j, job in enumerate(brief.work):
        served = year.served_per_month[0, k, j]
        if served > 0:
            days = lived.booked_days[0, k, j]
            wanted = lived.year.served_per_month.dtype.type(
                evaluation.figures[1].per_month[0, 0, j]
            )
            how = f"{_jobs(served)} × {figure(days, 'day')}"
            if served < wanted - 1e-9:
                how += f"; {number(wanted, 2)} a month wanted"
            steps.append(Step(f"{job.name}, a month", served * days, "day", how))
        else:
            why = not_served(evaluation, k, j, is_us) or "no days left for it"
            steps.append(Step(f"{job.name}, a month", 0.0, "day", f"not served: {why}"))
    steps.append(
        Step(
            "booked days a month",
            year.booked_days[0, k, 0],
            "day",
            f"of {figure(year.days_available[0, k, 0], 'day')} there are, "
            "after breakdowns",
        )
    )
    return steps


def _jobs(n):
    """Return a number of jobs in words."""
    return f"{number(n, 2)} {'job' if number(n, 2) == '1' else 'jobs'}"


def job_steps(evaluation, k, j, is_us=False):
    """Return the minutes of one job part by part, and how its days came about."""
    site, job = evaluation.outcome.site, evaluation.brief.work[j]
    if not evaluation.outcome.can_do[0, k, j]:
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
        "carry": [f"work.{j}.carry"],
        "assembly": ["assembly_time"],
        "prime": ["prime_time"],
        "measure_mask": [f"work.{j}.measure_mask_time"],
        "print": [f"speed.{int(site.passes[0, k, j])}"],
        "moves": ["shift_time", "move_time"],
        "closing": [f"work.{j}.closing_time"],
        "pack_down": ["pack_down_time"],
    }
    times = {"carry": 2 * site.builds, "assembly": site.builds, "prime": site.days}
    times |= {"closing": site.days, "pack_down": site.builds}
    steps = []
    practised = _practised(evaluation, k)
    for name, minutes in site.parts._asdict().items():
        n = times[name][0, k, j] if name in times else 1
        once = figure(minutes[0, k, j] / n, "min")
        repeated = f"{number(n)} × {once}" if n > 1 else ""
        steps.append(
            _step(
                evaluation,
                k,
                PART_WORDS[name],
                minutes[0, k, j],
                "min",
                paths[name],
                how.get(name) or repeated,
                practised if name in ("assembly", "prime") else "",
            )
        )
    steps.append(Step("on site", site.on_site_min[0, k, j], "min", "the sum"))
    steps.append(Step("days", site.days[0, k, j], "day", _days_how(evaluation, k, j)))
    booked = evaluation.outcome.booked_days[0, k, j]
    if booked < 1:
        how = f"{number(1 / booked)} such jobs fit one day"
        steps.append(Step("booked", booked, "day", how))
    return steps


PART_WORDS = {
    "carry": "carry in and out",
    "assembly": "build",
    "prime": "prime and nozzle check",
    "measure_mask": "measure and mask",
    "print": "print",
    "moves": "shift along, move to next wall",
    "closing": "closing the day",
    "pack_down": "pack down",
}


def _print_how(evaluation, k, j, is_us):
    site, job = evaluation.outcome.site, evaluation.brief.work[j]
    machines, jobs, _ = evaluation.figures
    passes = int(site.passes[0, k, j])
    area = (jobs.walls * jobs.width_m * jobs.height_m)[0, 0, j]
    mode = machines.pass_modes.tolist().index(passes)
    speed = machines.speed_m2_per_h[0, k, 0, mode]
    origin = evaluation.evidence[evaluation.names[k], f"speed.{passes}"].note
    wall = figure(area, "m²", is_us)
    text = f"{wall} at {figure(speed, 'm²/h', is_us)} in {passes}-pass"
    if machines.strip_width_m[0, k, 0] > 0:
        text = f"{wall} by strokes of the head in {passes}-pass"
    elif origin:
        text += f" ({origin})"
    if job.underbase:
        text += (
            f", × {number(machines.white_time_factor[0, k, 0], 2)} for white underneath"
        )
    blank = np.broadcast_to(jobs.blank_share, site.print_min.shape)[0, k, j]
    if machines.skips_blank[0, k, 0] and blank > 0:
        text += f", less {figure(blank, 'share')} skipped as empty"
    tests = evaluation.machines[k].print_tests
    sides = (jobs.width_m[0, 0, j], jobs.height_m[0, 0, j])
    remark = inferred(tests, passes, *sides) if tests else ""
    if remark:
        text += f" ({remark})"
    return text


def _moves_how(evaluation, k, j):
    site, job = evaluation.outcome.site, evaluation.brief.work[j]
    stands = int(site.stands[0, k, j])
    shifts, moves = stands - job.walls, job.walls - 1
    parts = [
        f"{shifts} × shift along" if shifts else "",
        f"{moves} × to the next wall" if moves else "",
    ]
    return " and ".join(filter(None, parts)) or "one rail position"


def _days_how(evaluation, k, j):
    site, job = evaluation.outcome.site, evaluation.brief.work[j]
    window = figure(site.window_min[0, k, j], "min")
    spare = figure(site.spare_min[0, k, j], "min")
    if site.days[0, k, j] == 1:
        return f"fits the {window} of a day on site, {spare} to spare"
    stays = "may stay built" if job.overnight else "packed down and built anew each day"
    lodged = "; crew lodged nearby" if site.is_lodged[0, k, j] else ""
    return f"{window} a day on site, {stays}{lodged}; {spare} to spare on the last"


def _ready_steps(evaluation, k, criterion, is_us):
    machines = evaluation.figures[0]
    parts = [
        ("build", machines.assembly_min, ["assembly_time"]),
        ("prime and nozzle check", machines.prime_min, ["prime_time"]),
    ]
    steps = [
        _step(
            *(evaluation, k, what, minutes[0, k, 0], "min", paths),
            then=_practised(evaluation, k),
        )
        for what, minutes, paths in parts
    ]
    carry = evaluation.outcome.ready_min[0, k, 0] - sum(step.value for step in steps)
    n_trips = int(evaluation.outcome.trips[0, k, 0])
    trips = "one trip" if n_trips == 1 else f"{n_trips} trips"
    return [Step("carry in", carry, "min", f"{trips}, mean over your jobs"), *steps]


def _lift_steps(evaluation, k, criterion, is_us):
    mass = evaluation.figures[0].heaviest_lift_kg[0, k, 0]
    step = _step(evaluation, k, "heaviest piece", mass, "kg", ["heaviest_lift"])
    needed = evaluation.outcome.carried.people_needed[0, k, 0]
    return [step, Step("people to lift it", needed, "", who_carries(evaluation, k))]


def who_carries(evaluation, k, is_us=False):
    """Return in words who carries the heaviest piece: screening only."""
    carried = evaluation.outcome.carried
    hired = int(carried.hired[0, k, 0])
    aids = joined(_words(name) for name in _aids_used(evaluation, k))
    limit = figure(evaluation.figures[2].lift_limit_kg[0, 0, 0], "kg", is_us)
    help_ = evaluation.brief.crew.hired_help
    asks = "" if help_ and help_.allowed else ", which your brief does not allow"
    return {
        crew.ALONE: f"one person, by your limit of {limit}",
        crew.WITH_AID: f"one person pushing, with the {aids}; never on stairs, and "
        "lifting it on or off takes more",
        crew.OWN_CREW: "the crew together",
        crew.HIRED: f"the crew and {hired} hired from outside on each visit{asks}",
        crew.NOBODY: "more than a team of three",
    }[int(carried.way[0, k, 0])]


def _odour_steps(evaluation, k, criterion, is_us):
    machines = evaluation.figures[0]
    return [
        _step(evaluation, k, what, level[0, k, 0], "of 6", [f"odour.{what}"])
        for what, level in (
            ("preparing", machines.odour_preparing),
            ("printing", machines.odour_printing),
        )
    ]


def _support_steps(evaluation, k, criterion, is_us):
    machines = evaluation.figures[0]
    return [
        _step(evaluation, k, what, days[0, k, 0], "day", [path])
        for what, days, path in (
            ("an answer", machines.response_days, "support.response"),
            ("parts arrive", machines.parts_days, "support.parts_lead_time"),
        )
    ]


def _rating_steps(evaluation, k, criterion, is_us):
    path = criterion.derived_from[0]
    value = evaluation.drawn[evaluation.names[k], path][0]
    step = _step(evaluation, k, "rating", value, "of 5", [path])
    if criterion.flat_above is None:
        return [step]
    cap = Step(
        "what clients notice", criterion.flat_above, "of 5", "more counts no more"
    )
    return [step, cap]


def _served_steps(evaluation, k, criterion, is_us):
    year, currency = evaluation.outcome.year, evaluation.brief.currency
    income = year.revenue[0, k, 0]
    return [
        *booked_steps(evaluation, k, is_us),
        Step("revenue served in a year", income, currency),
    ]


def _hours_steps(evaluation, k, criterion, is_us):
    year = evaluation.outcome.year
    hours = year.site_hours[0, k, 0]
    return [
        Step("crew hours on site in a year", hours, "h"),
        Step("revenue in a year", year.revenue[0, k, 0], evaluation.brief.currency),
    ]


def _lost_steps(evaluation, k, criterion, is_us):
    machines, year = evaluation.figures[0], evaluation.outcome.year
    jobs = 12 * year.served_per_month[0, k].sum()
    between = machines.jobs_between_stoppages[0, k, 0]
    return [
        Step("jobs in a year", jobs, "jobs"),
        _step(
            evaluation,
            k,
            "jobs between two breakdowns",
            between,
            "jobs",
            ["reliability.jobs_between_stoppages"],
        ),
        _step(
            evaluation,
            k,
            "days down each time",
            machines.days_down[0, k, 0],
            "day",
            ["reliability.days_down"],
        ),
    ]


STEPS = {
    "upfront": _upfront_steps,
    "year_result": _year_steps,
    "ready_time": _ready_steps,
    "heaviest_lift": _lift_steps,
    "odour": _odour_steps,
    "support": _support_steps,
    "work_served": _served_steps,
    "site_hours": _hours_steps,
    "days_lost": _lost_steps,
}
