"""A brief: the YAML file of the buyer's work, crew, money and limits → Brief."""

from pathlib import Path
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, PrivateAttr

from scoring.errors import InputFault, InputFaults
from scoring.inputs import fields as f
from scoring.inputs import quantities as q
from scoring.inputs.agreement import cross_check
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

    people: Annotated[f.StrictInt, Field(ge=1, le=20)] = 1
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


class OwnVehicle(Record):
    """What the buyer's vehicle takes, and what a larger one would cost."""

    length: f.Metres = None
    volume: f.CubicMetres = None
    payload: f.Kilograms = None
    hire: f.Money = None
    buy: f.Money = None


class MoneyMatters(Record):
    """What the buyer can spend, and what an hour or a year costs."""

    cash: f.Money
    loan: f.Money = None
    horizon: Annotated[f.StrictInt, Field(ge=1, le=30)] = 5
    discount_rate: f.Rate
    fixed_costs: f.MoneyPerYear
    insurance: f.Share = None
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
    tax_back_months: f.Months = default(q.MONTHS, "1..3..6")


class Trade(Record):
    """How work comes, is learned, and is paid."""

    months_to_full: f.Months = default(q.MONTHS, "3..6..12")
    seasonality: f.TwelveMonths = (1.0,) * 12
    first_month: Annotated[f.StrictInt, Field(ge=1, le=12)] = 1
    learning_start: f.Factor = default(q.FACTOR, "1.5..2..3")
    learning_halving: f.LifeJobs = default(q.LIFE_JOBS, "5")
    spoilt_start: f.Factor = default(q.FACTOR, "1.5..2..4")
    training_days: f.Days = default(q.DAYS, "2..4..8 day")
    first_jobs: f.Number = default(q.NUMBER, "2..4..8")
    first_discount: f.Share = default(q.SHARE, "0..15..40 %")
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
    per_month: f.JobsPerMonth
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
    loan_months: Annotated[f.StrictInt, Field(ge=1, le=240)] = 24
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
    vehicle: OwnVehicle = Field(default_factory=OwnVehicle)
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
    brief, document = load(Brief, source, context, cross_check)
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
