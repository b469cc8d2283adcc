"""A pack as it is written: pack.yaml → ExercisePlan, checked field by field."""

from typing import Annotated, Literal

from pydantic import Field

from scoring.errors import shown
from scoring.inputs import kinds
from scoring.inputs.quantity import Wrong
from scoring.inputs.records import Record, Sheet

STAGES = (
    "join",
    "first_guess",
    "buyer",
    "prices",
    "reveal",
    "swap",
    "visit",
    "debrief",
)
NEEDED = ("join", "first_guess", "buyer", "reveal", "swap", "debrief")
N_BUYERS = 5
LETTERS = "ABCDEFGH"
BEFORE, AFTER = "before", "after"

MOST_MINUTES = 120  # of a stage

Minutes = Annotated[kinds.StrictInt, Field(ge=1, le=MOST_MINUTES)]
Text = Annotated[str, Field(strict=True, min_length=1, max_length=400)]


class Buyer(Record):
    """One buyer of the exercise: the file of the brief, and what is predicted."""

    file: kinds.Name = Field(description="the brief's file, such as buyers/one.yaml")
    predict: Annotated[tuple[kinds.Name, ...], Field(min_length=2, max_length=2)] = (
        Field(description="two kinds of job of the brief")
    )


class TimedStage(Record):
    """A stage and how long it may take."""

    stage: Literal[STAGES]
    minutes: Minutes


class Stages(Record):
    """The two forms of the exercise."""

    long: Annotated[tuple[TimedStage, ...], Field(min_length=1)]
    hour: Annotated[tuple[TimedStage, ...], Field(min_length=1)]


class Question(Record):
    """One question with one right answer, and the reason for it."""

    id: kinds.Feature
    asked: Annotated[tuple[Literal[BEFORE, AFTER], ...], Field(min_length=1)] = (
        BEFORE,
        AFTER,
    )
    text: Text
    choices: Annotated[tuple[Text, ...], Field(min_length=2, max_length=6)]
    right: Annotated[kinds.StrictInt, Field(ge=1)] = Field(
        description="the place of the right choice, 1 the first"
    )
    why: Text


class Envelope(Record):
    """The result of one test on the seller's day, in an envelope."""

    letter: Literal[tuple(LETTERS)]
    figure: kinds.Key
    test: Text
    minutes: Minutes
    result: kinds.Name
    says: Text


class Visit(Record):
    """The seller's day: for whom, the time there is, and the envelopes."""

    file: kinds.Name = Field(description="the brief of a buyer who has not decided")
    minutes: Annotated[kinds.StrictInt, Field(ge=1, le=480)]
    envelopes: Annotated[tuple[Envelope, ...], Field(min_length=1)]


class ExercisePlan(Sheet):
    """All that pack.yaml says."""

    title: kinds.Name = Field(description="a few words")
    story: Text
    seed: Annotated[kinds.StrictInt, Field(ge=0, le=10**9)]
    machines: kinds.Name = "machines"
    letters: dict[Literal[tuple(LETTERS)], kinds.Name] = Field(
        description="the letters A to H, a machine's name each"
    )
    buyers: Annotated[
        tuple[Buyer, ...], Field(min_length=N_BUYERS, max_length=N_BUYERS)
    ] = Field(description="five buyers")
    sixth: Buyer = Field(description="file and predict")
    stages: Stages = Field(description="long and hour")
    questions: Annotated[tuple[Question, ...], Field(min_length=1)]
    visit: Visit = Field(description="file, minutes and envelopes")

    @property
    def all_buyers(self):
        """The five buyers and the sixth."""
        return (*self.buyers, self.sixth)

    def asked(self, when):
        """Return the questions of one test, "before" or "after"."""
        return tuple(each for each in self.questions if when in each.asked)


def check_plan(plan):
    """Return [(path, Wrong)] of what several fields of a plan say together."""
    return [
        *_letters_check(plan),
        *_stages_check(plan),
        *_questions_check(plan),
        *_files_check(plan),
        *_visit_check(plan),
    ]


def _letters_check(plan):
    missing = [letter for letter in LETTERS if letter not in plan.letters]
    if missing:
        what = f"without {', '.join(missing)}"
        yield ("letters",), Wrong(what, f"each of the letters {', '.join(LETTERS)}")
    names = list(plan.letters.values())
    for letter, name in plan.letters.items():
        if names.count(name) > 1:
            what = f"{shown(name)} has more than one letter"
            yield ("letters", letter), Wrong(what, "each machine once")


def _stages_check(plan):
    for form in ("long", "hour"):
        stages = [step.stage for step in getattr(plan.stages, form)]
        in_order = [stage for stage in STAGES if stage in stages]
        path = ("stages", form)
        if stages != in_order:
            what = f"the stages are {', '.join(stages)}"
            yield path, Wrong(what, f"each once, in the order {', '.join(STAGES)}")
        elif lacking := [stage for stage in NEEDED if stage not in stages]:
            yield path, Wrong(f"without {', '.join(lacking)}", ", ".join(NEEDED))
    minutes = sum(step.minutes for step in plan.stages.hour)
    if minutes > 60:
        what = f"the stages take {minutes} min"
        yield ("stages", "hour"), Wrong(what, "60 min or less")


def _questions_check(plan):
    ids = [question.id for question in plan.questions]
    for k, question in enumerate(plan.questions):
        if question.id in ids[:k]:
            what = f"{shown(question.id)} twice"
            yield ("questions", k, "id"), Wrong(what, "an id of its own")
        if question.right > len(question.choices):
            what = f"{question.right} of {len(question.choices)} choices"
            yield ("questions", k, "right"), Wrong(what, "the place of a choice")
        if len(set(question.choices)) < len(question.choices):
            yield ("questions", k, "choices"), Wrong("a choice twice", "each once")
    for when in (BEFORE, AFTER):
        if not plan.asked(when):
            yield ("questions",), Wrong(f"none is asked {when}", "one or more")


def _files_check(plan):
    files = [buyer.file for buyer in plan.all_buyers]
    if plan.visit.file in files:
        what = f"{shown(plan.visit.file)} is one of the buyers"
        yield ("visit", "file"), Wrong(what, "a buyer of its own, who is not decided")
    for k, buyer in enumerate(plan.all_buyers):
        path = ("sixth",) if k == N_BUYERS else ("buyers", k)
        if files.count(buyer.file) > 1:
            what = f"{shown(buyer.file)} is named twice"
            yield (*path, "file"), Wrong(what, "a brief of its own")
        if buyer.predict[0] == buyer.predict[1]:
            what = f"{shown(buyer.predict[0])} twice"
            yield (*path, "predict"), Wrong(what, "two kinds of job")


def _visit_check(plan):
    visit = plan.visit
    whole = sum(envelope.minutes for envelope in visit.envelopes)
    if whole <= visit.minutes:
        what = f"all envelopes take {whole} min of {visit.minutes} min"
        yield ("visit",), Wrong(what, "more than there is time for, or nobody chooses")
    keys = [(envelope.letter, envelope.figure) for envelope in visit.envelopes]
    for k, envelope in enumerate(visit.envelopes):
        if envelope.minutes > visit.minutes:
            what = f"{envelope.minutes} min of {visit.minutes} min"
            yield ("visit", "envelopes", k, "minutes"), Wrong(what, "no longer")
        if keys[k] in keys[:k]:
            what = f"{envelope.letter}: {envelope.figure} twice"
            yield ("visit", "envelopes", k), Wrong(what, "each figure once")
