"""Firmness → a record of plain values."""

from dataclasses import dataclass

from scoring.records.plain import plain


@dataclass(frozen=True)
class QuestionRecord:
    """What knowing one figure is worth, in money a year."""

    input: str
    machine: str
    evppi: float
    error: float


@dataclass(frozen=True)
class FirmRecord:
    """How firm the answer is; mappings by the names of the machines considered."""

    draws: int
    seed: int
    first_as_weighed: dict  # {name: share of draws first, weights as stated}
    acceptability: dict  # {name: [share of each place]}, weights drawn too
    ruled_out: dict
    confidence: dict
    expected_year: dict
    regret: dict
    money_choice: str | None
    stability: dict  # {criterion id: [low, high]} of its weight
    break_even_price: dict
    find_out: list
    evpi: float


def firm_record(firm, questions, prices, stability):
    """Return the FirmRecord of what was found.

    Parameters
    ----------
    firm : Firmness
    questions : those of `find_out.questions`, in their order
    prices : {name: money or None}, of `best_price.best_buy_prices`
    stability : (criterion, 2), of `weight_ranges.stability_of`
    """
    evaluation = firm.evaluation
    names = [name for name in evaluation.names if name not in evaluation.left_out]
    places = slice(len(names))

    def by_name(figures):
        return {name: plain(figures[evaluation.index(name)]) for name in names}

    return FirmRecord(
        draws=firm.n_draws,
        seed=firm.seed,
        first_as_weighed=by_name(firm.first_as_weighed),
        acceptability={
            name: [plain(x) for x in firm.acceptability[evaluation.index(name), places]]
            for name in names
        },
        ruled_out=by_name(firm.ruled_out),
        confidence=by_name(firm.confidence),
        expected_year=by_name(firm.mean_result),
        regret=by_name(firm.regret),
        money_choice=firm.money_choice,
        stability={
            criterion.id: [plain(low), plain(high)]
            for criterion, (low, high) in zip(
                evaluation.criteria, stability, strict=True
            )
        },
        break_even_price={name: plain(price) for name, price in prices.items()},
        find_out=[_question_record(question) for question in questions],
        evpi=plain(firm.evpi),
    )


def _question_record(question):
    value, error = plain(question.value), plain(question.error)
    return QuestionRecord(question.path, question.owner, value, error)
