"""A brief: the YAML file of the buyer's work, crew, money and limits → Brief."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, PrivateAttr

from scoring.errors import shown
from scoring.inputs import kinds
from scoring.inputs.also import Also
from scoring.inputs.bank import BankTerms
from scoring.inputs.claims import LEARNING, ClaimsLearnt
from scoring.inputs.dimensions import (
    BLANK_SHARE,
    DAYS,
    FACTOR,
    INTENSITY,
    KILOGRAMS,
    KILOMETRES,
    KM_PER_HOUR,
    LIFE_JOBS,
    MARGIN,
    METRES,
    MINUTES,
    MONTHS,
    NUMBER,
    RATE,
    SHARE,
    WORK_HOURS,
)
from scoring.inputs.quantity import BASES, KINDS, STATED, Wrong
from scoring.inputs.records import Record, Sheet

OWN_WAYS = ("swing", "order", "pairwise", "priced")
AIDS = ("ramp", "stair_climber", "tail_lift")
FEW_CRITERIA = kinds.up_to(50, "criteria")


def default(dimension, text):
    """Return the default of a figure that a brief may leave out; own estimate."""
    return Field(default_factory=lambda: dimension.parse(text))


def exactly(dimension, text):
    """Return the default of a figure that means what it says, without a range."""
    return Field(default_factory=lambda: dimension.parse(text, STATED))


class Aid(Record):
    """A lifting aid that the buyer has or would buy."""

    price: kinds.Money
    minutes_per_job: kinds.Minutes
    capacity: kinds.Kilograms = default(KILOGRAMS, "80 kg")


class HiredHelp(Record):
    """Carriers from outside."""

    allowed: kinds.StrictBool
    rate: kinds.MoneyPerHour
    minimum: kinds.Minutes = default(MINUTES, "2 h")


class Crew(Record):
    """Who goes to the site."""

    people: Annotated[kinds.StrictInt, Field(ge=1, le=20)] = 1
    lift_limit: kinds.Kilograms = default(KILOGRAMS, "25 kg")
    wage: kinds.MoneyPerHour = None
    paid: Literal["by_hour", "by_month"] = "by_hour"
    on_costs: kinds.Share = None
    aids: dict[Literal[AIDS], Aid] = {}
    hired_help: HiredHelp = None


class WorkingTime(Record):
    """The hours and days that there are."""

    hours_per_day: kinds.WorkingDay
    days_per_week: kinds.WeekDays
    weeks_per_year: kinds.YearWeeks
    bookable_share: kinds.Share = default(SHARE, "40..55..70 %")
    jobs_per_day_max: kinds.Count = 1
    day_margin: kinds.Margin = default(MARGIN, "10 %")


class Travel(Record):
    """The way to the client."""

    speed: kinds.KmPerHour = default(KM_PER_HOUR, "50 km/h")
    cost_per_km: kinds.MoneyPerKm
    lodging: kinds.Money = None
    loading: kinds.Minutes = default(MINUTES, "10 min")
    loading_per_100kg: kinds.Minutes = default(MINUTES, "15 min")


class OwnVehicle(Record):
    """What the buyer's vehicle takes, and what a larger one would cost."""

    length: kinds.Metres = None
    volume: kinds.CubicMetres = None
    payload: kinds.Kilograms = None
    hire: kinds.Money = None
    buy: kinds.Money = None


class MoneyMatters(Record):
    """What the buyer can spend, and what an hour or a year costs."""

    cash: kinds.Money
    loan: kinds.Money = None
    horizon: Annotated[kinds.StrictInt, Field(ge=1, le=30)] = 5
    discount_rate: kinds.Rate
    fixed_costs: kinds.MoneyPerYear
    insurance: kinds.Share = None
    own_hour: kinds.MoneyPerHour = None
    living: kinds.Money = None
    alike_rigs_save: kinds.Share = default(SHARE, "0..15..30 %")
    import_tax_recovered: kinds.StrictBool = True


class PaymentPlan(Record):
    """How the machine is paid for."""

    way: Literal["cash", "deposit", "loan", "lease"] = "cash"
    deposit: kinds.Share = default(SHARE, "30 %")
    delivery_months: kinds.Months = default(MONTHS, "1..2..4")
    borrowed: kinds.Money = None
    loan_rate: kinds.Rate = default(RATE, "9 %")
    loan_months: Annotated[kinds.StrictInt, Field(ge=1, le=240)] = 36
    lease_per_month: kinds.Money = None
    residual: kinds.Money = None
    tax_back_months: kinds.Months = default(MONTHS, "1..3..6")


class TradeTerms(Record):
    """How work comes, is learned, and is paid."""

    months_to_full: kinds.Months = default(MONTHS, "3..6..12")
    seasonality: kinds.TwelveMonths = (1.0,) * 12
    first_month: Annotated[kinds.StrictInt, Field(ge=1, le=12)] = 1
    learning_start: kinds.Factor = default(FACTOR, "1.5..2..3")
    learning_halving: kinds.LifeJobs = default(LIFE_JOBS, "5")
    spoilt_start: kinds.Factor = default(FACTOR, "1.5..2..4")
    training_days: kinds.Days = default(DAYS, "2..4..8 day")
    first_jobs: kinds.Number = default(NUMBER, "2..4..8")
    first_discount: kinds.Share = default(SHARE, "0..15..40 %")
    deposit_share: kinds.Share = exactly(SHARE, "0 %")
    days_to_pay: kinds.Days = default(DAYS, "7..14..45 day")
    unpaid_share: kinds.Share = default(SHARE, "0..1..3 %")
    patience: kinds.Days = default(DAYS, "10..30..60 day")


class Limits(Record):
    """What a machine must not break."""

    must_have: Annotated[tuple[kinds.Feature, ...], kinds.up_to(50, "features")] = ()
    must_serve: Annotated[tuple[kinds.Name, ...], kinds.up_to(50, "kinds of job")] = ()
    highest_upfront: kinds.Money = None
    sure: kinds.Share = None


class Band(Record):
    """A price per m² for jobs up to a size; the last band has no upper end."""

    up_to: kinds.SquareMetres = None
    per_m2: kinds.MoneyPerM2


class Price(Record):
    """What the client pays: by area, by size band, or for the job."""

    per_m2: kinds.MoneyPerM2 = None
    minimum: kinds.Money = None
    bands: Annotated[tuple[Band, ...], kinds.up_to(50, "bands")] = ()
    per_job: kinds.Money = None


class JobType(Record):
    """One kind of job in the business mix."""

    name: kinds.Name
    per_month: kinds.JobsPerMonth
    basis: Literal["sold", "enquiries", "guess"] = "guess"
    walls: kinds.Count = 1
    width: kinds.PrintSide
    height: kinds.PrintSide
    passes: kinds.Passes
    blank_share: kinds.BlankShare = exactly(BLANK_SHARE, "0 %")
    artwork: kinds.Text | None = None
    underbase: kinds.StrictBool = False
    surface: kinds.Name | None = None
    relief: kinds.Metres = exactly(METRES, "0 m")
    curved: kinds.StrictBool = False
    ink_cover: kinds.Share = exactly(SHARE, "100 %")
    odour_limit: kinds.Intensity = exactly(INTENSITY, "6")
    price: Price
    artwork_fee: kinds.Money = None
    carry: kinds.Minutes = exactly(MINUTES, "0 min")
    stairs: Annotated[kinds.StrictInt, Field(ge=0, le=50)] = 0
    measure_mask_time: kinds.Minutes = default(MINUTES, "30..45..90 min")
    closing_time: kinds.Minutes = default(MINUTES, "10..15..25 min")
    arrival_time: kinds.Minutes = default(MINUTES, "10..15..30 min")
    off_site_time: kinds.WorkHours = default(WORK_HOURS, "2..4..8 h")
    plain_edge: kinds.Metres = exactly(METRES, "0 m")
    distance: kinds.Kilometres = exactly(KILOMETRES, "0 km")
    overnight: kinds.StrictBool = False
    access_hours: kinds.WorkingDay = None
    lowest_edge: kinds.Metres = None
    side_gap: kinds.Metres = None
    survey_visit: kinds.StrictBool = False


class PairwiseTold(Record):
    """How many times as much each criterion counts as each other one."""

    criteria: Annotated[tuple[kinds.Feature, ...], Field(min_length=1, max_length=50)]
    judgements: tuple[tuple[kinds.Positive, ...], ...]


def _by_way(written):
    """Return {way: what stands there}; a plain mapping is the way `numbers`."""
    if not isinstance(written, dict):
        raise Wrong(f"{shown(written)} are no weights", "criterion: number, or one way")
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

    numbers: Annotated[dict[kinds.Feature, kinds.NotNegative], FEW_CRITERIA] = None
    swing: Annotated[dict[kinds.Feature, kinds.NotNegative], FEW_CRITERIA] = None
    order: Annotated[tuple[kinds.NameOrNames, ...], FEW_CRITERIA] = None
    pairwise: PairwiseTold = None
    priced: Annotated[dict[kinds.Feature, kinds.MoneyPerYear], FEW_CRITERIA] = None

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

    use: kinds.StrictBool | None = None
    label: kinds.Name | None = None
    rating: kinds.Feature | None = None
    better: Literal["high", "low"] = "high"
    flat_above: kinds.Finite | None = None


Spreads = dict[Literal[KINDS], tuple[kinds.Change, kinds.Change, kinds.Change]]


class Trust(Record):
    """How far single figures may be off, and how much one seller's err together."""

    measured: Spreads = {}
    quoted: Spreads = {}
    estimated: Spreads = {}
    learnt: dict[Literal[LEARNING], ClaimsLearnt] = {}
    # correlation of what one seller quotes; own estimate, no source
    together: Annotated[kinds.Finite, Field(ge=0, le=1)] = 0.3

    @property
    def spreads(self):
        """{basis: {kind: (low, likely, high) shares}}, as the buyer changes them."""
        return {basis: getattr(self, basis) for basis in BASES if basis != "unknown"}


class Owned(Record):
    """A rig that the buyer has."""

    machine: kinds.Name
    age: kinds.Number
    remaining_loan: kinds.Money = None
    loan_months: Annotated[kinds.StrictInt, Field(ge=1, le=240)] = 24
    resale: kinds.Money = None


class Brief(Sheet):
    """The buyer's side: work, crew, hours, money, limits and weights."""

    title: kinds.Name = Field(description="a few words")
    currency: kinds.Currency = Field(description="an ISO code such as EUR")
    exchange: Annotated[
        dict[kinds.Currency, kinds.Money], kinds.up_to(50, "currencies")
    ] = {}
    crew: Crew = Field(default_factory=Crew)
    working_time: WorkingTime = Field(
        description="hours_per_day, days_per_week and weeks_per_year"
    )
    travel: Travel = Field(description="cost_per_km and more")
    vehicle: OwnVehicle = Field(default_factory=OwnVehicle)
    money: MoneyMatters = Field(description="cash, discount_rate, fixed_costs and more")
    payment: PaymentPlan = Field(default_factory=PaymentPlan)
    trade: TradeTerms = Field(default_factory=TradeTerms)
    bank: BankTerms = Field(default_factory=BankTerms)
    also: Also = Field(default_factory=Also)
    limits: Limits = Field(default_factory=Limits)
    work: Annotated[tuple[JobType, ...], Field(min_length=1, max_length=50)] = Field(
        description="1 to 50 kinds of job"
    )
    demand: kinds.Number = default(NUMBER, "0.6..0.9..1.15")
    work_order: Literal["pro_rata", "best_first"] = "best_first"
    weights: Annotated[Weights, BeforeValidator(_by_way)] = None
    scale: Annotated[
        dict[kinds.Feature, tuple[kinds.Finite, kinds.Finite]],
        FEW_CRITERIA,
    ] = {}
    criteria: Annotated[dict[kinds.Feature, CriterionChange], FEW_CRITERIA] = {}
    trust: Trust = Field(default_factory=Trust)
    guesses: dict[kinds.Key, kinds.Text] = {}
    owned: Annotated[tuple[Owned, ...], kinds.up_to(10, "rigs")] = ()
    leads: kinds.Text | None = None

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
