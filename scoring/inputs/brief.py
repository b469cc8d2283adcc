"""A brief: the YAML file of the buyer's work, crew, money and limits → Brief."""

import math
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, PrivateAttr

from scoring.errors import InputFault, InputFaults
from scoring.inputs import fields as f
from scoring.inputs import quantities as q
from scoring.inputs.artwork import load_artwork
from scoring.inputs.fields import Record, Sheet
from scoring.inputs.files import load
from scoring.inputs.leads import load_leads, matched, mix, months_spanned
from scoring.inputs.quantities import Wrong

OWN_WAYS = ("swing", "order", "pairwise", "priced")
AIDS = ("ramp", "stair_climber", "tail_lift")


def default(dimension, text):
    """Return the default of a figure that a brief may leave out; own estimate."""
    return Field(default_factory=lambda: dimension.parse(text))


def exactly(dimension, text):
    """Return the default of a figure that means what it says, without a range."""
    return Field(default_factory=lambda: dimension.parse(text, q.STATED))


class Aid(Record):
    """A lifting aid that the buyer has or would buy."""

    price: f.Money
    minutes_per_job: f.Minutes
    capacity: f.Kilograms = default(q.KILOGRAMS, "80 kg")


class HiredHelp(Record):
    """Carriers from outside."""

    allowed: f.StrictBool
    rate: f.MoneyPerHour
    minimum: f.Minutes = default(q.MINUTES, "2 h")


class Crew(Record):
    """Who goes to the site."""

    people: f.Count = 1
    lift_limit: f.Kilograms = default(q.KILOGRAMS, "25 kg")
    wage: f.MoneyPerHour = None
    aids: dict[Literal[AIDS], Aid] = {}
    hired_help: HiredHelp = None


class WorkingTime(Record):
    """The hours and days that there are."""

    hours_per_day: f.WorkingDay
    days_per_week: f.WeekDays
    weeks_per_year: f.YearWeeks
    bookable_share: f.Share = default(q.SHARE, "40..55..70 %")
    jobs_per_day_max: f.Count = 1
    day_margin: f.Margin = default(q.MARGIN, "10 %")


class Travel(Record):
    """The way to the client."""

    speed: f.KmPerHour = default(q.KM_PER_HOUR, "50 km/h")
    cost_per_km: f.MoneyPerKm
    lodging: f.Money = None


class MoneyMatters(Record):
    """What the buyer can spend, and what an hour or a year costs."""

    cash: f.Money
    loan: f.Money = None
    horizon: Annotated[f.StrictInt, Field(ge=1, le=30)] = 5
    discount_rate: f.Rate
    fixed_costs: f.MoneyPerYear
    own_hour: f.MoneyPerHour = None
    alike_rigs_save: f.Share = default(q.SHARE, "0..15..30 %")
    import_tax_recovered: f.StrictBool = True


class PaymentPlan(Record):
    """How the machine is paid for."""

    way: Literal["cash", "deposit", "loan", "lease"] = "cash"
    deposit: f.Share = default(q.SHARE, "30 %")
    delivery_months: f.Months = default(q.MONTHS, "1..2..4")
    borrowed: f.Money = None
    loan_rate: f.Rate = default(q.RATE, "9 %")
    loan_months: Annotated[f.StrictInt, Field(ge=1, le=240)] = 36
    lease_per_month: f.Money = None
    residual: f.Money = None


class Trade(Record):
    """How work comes, is learned, and is paid."""

    months_to_full: f.Months = default(q.MONTHS, "3..6..12")
    seasonality: f.TwelveMonths = (1.0,) * 12
    first_month: Annotated[f.StrictInt, Field(ge=1, le=12)] = 1
    learning_start: f.Factor = default(q.FACTOR, "1.5..2..3")
    learning_halving: f.LifeJobs = default(q.LIFE_JOBS, "5")
    deposit_share: f.Share = exactly(q.SHARE, "0 %")
    days_to_pay: f.Days = default(q.DAYS, "7..14..45 day")
    unpaid_share: f.Share = default(q.SHARE, "0..1..3 %")
    patience: f.Days = default(q.DAYS, "10..30..60 day")


class Limits(Record):
    """What a machine must not break."""

    must_have: tuple[f.Feature, ...] = ()
    must_serve: tuple[f.Name, ...] = ()
    highest_upfront: f.Money = None


class Band(Record):
    """A price per m² for jobs up to a size; the last band has no upper end."""

    up_to: f.SquareMetres = None
    per_m2: f.MoneyPerM2


class Price(Record):
    """What the client pays: by area, by size band, or for the job."""

    per_m2: f.MoneyPerM2 = None
    minimum: f.Money = None
    bands: tuple[Band, ...] = ()
    per_job: f.Money = None


class JobType(Record):
    """One kind of job in the business mix."""

    name: f.Name
    per_month: f.Number
    basis: Literal["sold", "enquiries", "guess"] = "guess"
    walls: f.Count = 1
    width: f.PrintSide
    height: f.PrintSide
    passes: f.Passes
    blank_share: f.BlankShare = exactly(q.BLANK_SHARE, "0 %")
    artwork: f.Text | None = None
    underbase: f.StrictBool = False
    surface: f.Name | None = None
    relief: f.Metres = exactly(q.METRES, "0 m")
    curved: f.StrictBool = False
    ink_cover: f.Share = exactly(q.SHARE, "100 %")
    odour_limit: f.Intensity = exactly(q.INTENSITY, "6")
    price: Price
    artwork_fee: f.Money = None
    carry: f.Minutes = exactly(q.MINUTES, "0 min")
    stairs: Annotated[f.StrictInt, Field(ge=0, le=50)] = 0
    measure_mask_time: f.Minutes = default(q.MINUTES, "30..45..90 min")
    closing_time: f.Minutes = default(q.MINUTES, "10..15..25 min")
    distance: f.Kilometres = exactly(q.KILOMETRES, "0 km")
    overnight: f.StrictBool = False
    access_hours: f.WorkingDay = None
    lowest_edge: f.Metres = None
    side_gap: f.Metres = None
    survey_visit: f.StrictBool = False


class Pairwise(Record):
    """How many times as much each criterion counts as each other one."""

    criteria: Annotated[tuple[f.Feature, ...], Field(min_length=1)]
    judgements: tuple[tuple[f.Positive, ...], ...]


def _by_way(written):
    """Return {way: what stands there}; a plain mapping is the way `numbers`."""
    if not isinstance(written, dict):
        raise Wrong(
            f"{q.shown(written)} are no weights", "criterion: number, or one way"
        )
    ways = [key for key in written if key in OWN_WAYS]
    if not ways:
        return {"numbers": written}
    if len(written) > 1:
        said = ", ".join(written)
        raise Wrong(
            f"more than one way to weigh: {said}", f"one of {', '.join(OWN_WAYS)}"
        )
    return written


class Weights(Record):
    """What matters how much, stated in one of five ways."""

    numbers: dict[f.Feature, f.NotNegative] = None
    swing: dict[f.Feature, f.NotNegative] = None
    order: tuple[f.NameOrNames, ...] = None
    pairwise: Pairwise = None
    priced: dict[f.Feature, f.MoneyPerYear] = None

    @property
    def ids(self):
        """The criteria that are named, in order, as often as they are named."""
        if self.order is not None:
            entries = ([e] if isinstance(e, str) else e for e in self.order)
            return [name for entry in entries for name in entry]
        if self.pairwise is not None:
            return list(self.pairwise.criteria)
        return list(self.numbers or self.swing or self.priced or {})

    @property
    def way(self):
        """The way in which they are stated."""
        return next(
            name for name in type(self).model_fields if getattr(self, name) is not None
        )


class CriterionChange(Record):
    """What a brief changes in a criterion, or its own one from a rating."""

    use: f.StrictBool | None = None
    label: f.Name | None = None
    rating: f.Feature | None = None
    better: Literal["high", "low"] = "high"
    flat_above: f.Finite | None = None


class Owned(Record):
    """A rig that the buyer has."""

    machine: f.Name
    age: f.Number
    remaining_loan: f.Money = None
    resale: f.Money = None


class Brief(Sheet):
    """The buyer's side: work, crew, hours, money, limits and weights."""

    title: f.Name = Field(description="a few words")
    currency: f.Currency = Field(description="an ISO code such as EUR")
    exchange: dict[f.Currency, f.Money] = {}
    crew: Crew = Field(default_factory=Crew)
    working_time: WorkingTime = Field(
        description="hours_per_day, days_per_week and weeks_per_year"
    )
    travel: Travel = Field(description="cost_per_km and more")
    money: MoneyMatters = Field(description="cash, discount_rate, fixed_costs and more")
    payment: PaymentPlan = Field(default_factory=PaymentPlan)
    trade: Trade = Field(default_factory=Trade)
    limits: Limits = Field(default_factory=Limits)
    work: Annotated[tuple[JobType, ...], Field(min_length=1)] = Field(
        description="one kind of job or more"
    )
    work_order: Literal["pro_rata", "best_first"] = "pro_rata"
    weights: Annotated[Weights, BeforeValidator(_by_way)] = None
    scale: dict[f.Feature, tuple[f.Finite, f.Finite]] = {}
    criteria: dict[f.Feature, CriterionChange] = {}
    trust: dict[
        Literal["measured", "quoted", "estimated"],
        dict[Literal[q.KINDS], tuple[f.Change, f.Change, f.Change]],
    ] = {}
    owned: tuple[Owned, ...] = ()
    leads: f.Text | None = None

    _pictures: dict = PrivateAttr(default_factory=dict)
    _leads: tuple = PrivateAttr(default=())

    @property
    def pictures(self):
        """Where the artwork of a kind of job has ink, by its place: bool (h, w)."""
        return self._pictures

    @property
    def leads_read(self):
        """The Leads that the jobs a month come from, () where none were given."""
        return self._leads


def load_brief(source):
    """Return the Brief of a path, or of (name, bytes); InputFaults if it has faults.

    Artwork and leads that it names lie beside a file that has a path.
    """
    context = {"is_buyers_own": True}
    brief, document = load(Brief, source, context, _cross_check)
    brief = brief.keep(document)
    folder = None if isinstance(source, tuple) else Path(source).parent
    faults = []
    for j, job in enumerate(brief.work):
        if job.artwork is not None:
            key, name = f"work.{j}.artwork", job.artwork
            picture = _beside(brief, folder, key, name, load_artwork, faults)
            brief = with_picture(brief, j, picture)
    if brief.leads is not None:
        leads = _beside(brief, folder, "leads", brief.leads, load_leads, faults)
        if leads:
            brief = _try_leads(brief, leads, faults)
    if faults:
        raise InputFaults(faults)
    return brief


def _beside(brief, folder, key, name, read, faults):
    """Return what a file beside the brief holds; None, with faults, if it cannot."""
    if folder is None:
        what = f"{q.shown(name)} is not at hand with an uploaded brief"
        allowed = "leave it out here and add the file on the page"
        faults.append(InputFault(brief.source, brief.line_of(key), key, what, allowed))
        return None
    try:
        return read(folder / name)
    except InputFaults as found:
        faults += found.faults
        return None


def _try_leads(brief, leads, faults):
    try:
        return with_leads(brief, leads)
    except InputFaults as found:
        faults += found.faults
        return brief


def with_picture(brief, j, inked):
    """Return the brief with a kind of job's artwork: bool (h, w), None for none."""
    pictures = {k: v for k, v in brief.pictures.items() if k != j}
    changed = brief.model_copy()
    changed._pictures = pictures if inked is None else {**pictures, j: inked}
    return changed


def with_leads(brief, leads):
    """Return the brief with its jobs a month from leads; InputFaults if they are none.

    Leads without a job type get the one nearest in size; they stand for the months that
    they span.
    """
    leads = matched(
        leads, {j.name: (j.width.likely, j.height.likely) for j in brief.work}
    )
    names = [job.name for job in brief.work]
    per_month = mix(leads, names, months_spanned(leads))
    text = f"from {len(leads)} leads"
    work = [
        job.model_copy(update={"per_month": _from_leads(number, text)})
        for job, number in zip(brief.work, per_month.tolist(), strict=True)
    ]
    changed = brief.model_copy(update={"work": tuple(work)})
    changed._leads = tuple(leads)
    return changed


def _from_leads(number, text):
    kind, bounds = q.NUMBER.kind, q.NUMBER.bounds
    return q.Quantity(number, number, number, "", kind, q.STATED, bounds, text)


def _cross_check(brief):
    """Return [(path, Wrong)] of what several fields say together."""
    return [
        *_names_check(brief),
        *_prices_check(brief),
        *_crew_check(brief),
        *_payment_check(brief),
        *_currency_check(brief),
        *_weights_check(brief),
    ]


def _names_check(brief):
    names = [job.name for job in brief.work]
    twice = [
        (("work", k, "name"), Wrong(f"{q.shown(name)} twice", "each kind of job once"))
        for k, name in enumerate(names)
        if name in names[:k]
    ]
    missing = [
        (
            ("limits", "must_serve", k),
            Wrong(
                f"no kind of job is called {q.shown(name)}{q.nearest(name, names)}",
                f"one of {', '.join(map(q.shown, names))}",
            ),
        )
        for k, name in enumerate(brief.limits.must_serve)
        if name not in names
    ]
    return twice + missing


def _prices_check(brief):
    for k, job in enumerate(brief.work):
        here, price = ("work", k, "price"), job.price
        said = [
            n for n in ("per_m2", "bands", "per_job") if n in price.model_fields_set
        ]
        if len(said) != 1:
            what = " and ".join(said) + " together" if said else "has no price"
            yield here, Wrong(what, "exactly one of per_m2, bands, per_job")
        elif price.minimum is not None and price.per_job is not None:
            yield here, Wrong("minimum beside per_job", "minimum with per_m2 or bands")
        elif said == ["bands"]:
            yield from _bands_check(here, price.bands)


def _bands_check(here, bands):
    ends = [math.inf if band.up_to is None else band.up_to.likely for band in bands]
    if not bands:
        yield (*here, "bands"), Wrong("is empty", "one band or more")
    elif ends != sorted(set(ends)) or ends[-1] != math.inf:
        allowed = "up_to rising from band to band, none in the last"
        yield (*here, "bands"), Wrong("do not cover all sizes in order", allowed)


def _payment_check(brief):
    plan = brief.payment
    if plan.way == "lease" and plan.lease_per_month is None:
        allowed = "what the lessor asks a month, such as 450 EUR"
        yield ("payment", "lease_per_month"), Wrong("is missing", allowed)


def _crew_check(brief):
    if not brief.crew.lift_limit.low > 0:
        yield ("crew", "lift_limit"), Wrong("is 0", "more than 0 kg")


def _currency_check(brief):
    """Yield what is wrong with the rates, and sums in a currency without one."""
    for code, rate in brief.exchange.items():
        if rate.currency != brief.currency or not rate.low > 0:
            allowed = f"what one {code} is in {brief.currency}, more than 0"
            yield ("exchange", code), Wrong(f"{rate.text!r} is not a rate", allowed)
    yield from _without_rate(brief, brief)


def _without_rate(brief, record):
    """Yield (path, Wrong) of sums in a currency for which the brief has no rate."""
    known = {None, brief.currency, *brief.exchange}
    for path, quantity in q.quantities_of(record):
        if quantity.currency not in known and not path.startswith("exchange."):
            code = quantity.currency
            allowed = f"exchange: {{{code}: … {brief.currency}}} in the brief"
            yield tuple(path.split(".")), Wrong(f"no exchange rate for {code}", allowed)


def _weights_check(brief):
    if brief.weights is None:
        return
    ids, way = brief.weights.ids, brief.weights.way
    here = ("weights",) if way == "numbers" else ("weights", way)
    for name in sorted({name for name in ids if ids.count(name) > 1}):
        yield here, Wrong(f"{name!r} twice", "each criterion once")
    if way == "pairwise":
        yield from _pairwise_check(brief.weights.pairwise)
    figures = getattr(brief.weights, way)
    if way in ("numbers", "swing") and not sum(figures.values()) > 0:
        yield here, Wrong("the weights sum to 0", "at least one above 0")
    if way == "priced":
        yield from _priced_check(brief, here, figures)
    if way == "order" and not ids:
        yield here, Wrong("is empty", "criteria, the most important first")


def _priced_check(brief, here, figures):
    if not sum(figure.likely for figure in figures.values()) > 0:
        yield here, Wrong("the weights sum to 0", "at least one above 0")
    for name, figure in figures.items():
        if figure.currency != brief.currency:
            what = f"{figure.text!r} is not in {brief.currency}"
            yield (*here, name), Wrong(what, f"{brief.currency}/year")


def _pairwise_check(pairwise):
    n, here = len(pairwise.criteria), ("weights", "pairwise", "judgements")
    rows = pairwise.judgements
    if len(rows) != n or any(len(row) != n for row in rows):
        yield here, Wrong(f"is not {n} × {n}", "a row and a column for each criterion")
        return
    for a in range(n):
        for b in range(a + 1):
            if not math.isclose(rows[a][b] * rows[b][a], 1, rel_tol=0.02):
                what = f"row {a + 1}, column {b + 1} is not 1 / its mirror image"
                yield here, Wrong(what, "reciprocal judgements, 1 on the diagonal")


def check_together(brief, machines, criterion_ids):
    """Raise InputFaults for what brief and machines say only together.

    Missing exchange rates, machines in `owned` that are not there, criteria and ratings
    that nobody knows.
    """
    faults = [
        *_of_machines(brief, machines),
        *_of_brief(brief, _owned_check(brief, machines)),
        *_of_brief(brief, _criteria_check(brief, machines, criterion_ids)),
    ]
    if faults:
        raise InputFaults(faults)


def _of_brief(brief, found):
    for path, wrong in found:
        dotted = ".".join(map(str, path))
        line = brief.line_of(dotted)
        yield InputFault(brief.source, line, dotted, wrong.what, wrong.allowed)


def _of_machines(brief, machines):
    for machine in machines:
        for path, wrong in _without_rate(brief, machine):
            dotted = ".".join(path)
            line = machine.line_of(dotted)
            yield InputFault(machine.source, line, dotted, wrong.what, wrong.allowed)


def _owned_check(brief, machines):
    names = [machine.name for machine in machines]
    for k, owned in enumerate(brief.owned):
        if owned.machine not in names:
            near = q.nearest(owned.machine, names)
            what = f"no machine sheet is called {q.shown(owned.machine)}{near}"
            allowed = f"one of {', '.join(map(q.shown, names))}"
            yield ("owned", k, "machine"), Wrong(what, allowed)


def _criteria_check(brief, machines, criterion_ids):
    rated = {name for machine in machines for name in machine.ratings}
    own = [name for name in brief.criteria if name not in criterion_ids]
    known = [*criterion_ids, *own]
    named = [("scale", name) for name in brief.scale]
    if brief.weights is not None:
        way = brief.weights.way
        here = ("weights",) if way == "numbers" else ("weights", way)
        named += [(*here, name) for name in dict.fromkeys(brief.weights.ids)]
    for path in named:
        if path[-1] not in known:
            what = f"no criterion is called {path[-1]!r}{q.nearest(path[-1], known)}"
            yield path, Wrong(what, f"one of {', '.join(known)}")
    for name in own:
        rating = brief.criteria[name].rating or name
        if rating not in rated:
            what = (
                f"no machine sheet has the rating {rating!r}{q.nearest(rating, rated)}"
            )
            yield ("criteria", name), Wrong(what, f"one of {', '.join(sorted(rated))}")
