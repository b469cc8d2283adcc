"""Firmness as text and as rows."""

from textwrap import fill

from scoring.text.layout import WIDTH, cautions_text, columns, safe_rows
from scoring.words.figures import about, figure, number
from scoring.words.firmness import (
    assumed_of_sellers,
    first_questions,
    how_surely,
    kept_out_by,
    luck_in_words,
    money_differs,
    when_to_stop,
)
from scoring.words.verdict import who_leads

# What to find out is weighed, smelled and seen printing.
CAUTIONED = ("money", "lifting", "odour", "ink", "lamp")


def firm_text(firm, questions, record):
    """Return how firm the answer is as text; `record` is its FirmRecord."""
    evaluation = firm.evaluation
    currency = f"{evaluation.brief.currency}/year"
    first = [who_leads(evaluation), how_surely(firm)]
    parts = [evaluation.brief.title, *(fill(text, WIDTH) for text in first)]
    parts.append(_acceptability(record))
    kept_out = (fill(text, WIDTH, subsequent_indent="  ") for text in kept_out_by(firm))
    parts.append("\n".join(kept_out))
    parts.append(_stability(evaluation, record))
    parts.append(_prices(record, evaluation.brief.currency))
    parts.append(fill(money_differs(firm), WIDTH))
    parts.append(_money_of(firm, currency))
    asked = [
        fill(f"{n}. {text}", WIDTH, subsequent_indent="   ")
        for n, text in enumerate(first_questions(firm, questions), 1)
    ]
    parts.append("\n".join(["What to find out first:", *asked]))
    parts.append(fill(when_to_stop(firm), WIDTH))
    parts.append(fill(luck_in_words(firm), WIDTH))
    parts.append(fill(assumed_of_sellers(firm), WIDTH))
    parts.append(
        f"{number(firm.n_draws)} draws, seed {firm.seed}; the same seed gives the same."
    )
    return "\n\n".join(filter(None, [*parts, cautions_text(CAUTIONED)]))


def _acceptability(record):
    n = len(record.acceptability)
    head = [
        "weights drawn too",
        *(f"no. {place}" for place in range(1, n + 1)),
        "ruled out",
    ]
    rows = [
        [name, *(figure(share, "share") for share in shares), figure(out, "share")]
        for (name, shares), out in zip(
            record.acceptability.items(), record.ruled_out.values(), strict=True
        )
    ]
    rows.sort(key=lambda row: -record.acceptability[row[0]][0])
    return columns([head, *rows], "<")


def _stability(evaluation, record):
    head = ["the leader stays first while the weight of", "is from", "to", "now"]
    rows = [
        [criterion.label, figure(low, "share"), figure(high, "share"), now]
        for criterion, (low, high), now in zip(
            evaluation.criteria,
            record.stability.values(),
            (figure(weight, "share") for weight in evaluation.weights),
            strict=True,
        )
        if low is not None
    ]
    return columns([head, *rows], "<") if rows else ""


def _prices(record, currency):
    head = ["the best buy at a quote up to", ""]
    rows = [
        [name, "no such price" if price is None else about(price, currency)]
        for name, price in record.break_even_price.items()
    ]
    return columns([head, *rows], "<")


def _money_of(firm, currency):
    names = firm.evaluation.names
    head = ["in money", "net benefit", "what choosing it wrongly costs"]
    rows = [
        [names[k], about(firm.benefit[k], currency), about(firm.regret[k], currency)]
        for k in sorted(firm.alternatives, key=lambda k: -firm.benefit[k])
    ]
    rows.append(
        ["buy nothing", about(0, currency), about(firm.regret_of_nothing, currency)]
    )
    return columns([head, *rows], "<")


def firm_rows(record):
    """Return the places' shares and what goes with them as rows for a spreadsheet."""
    n = len(record.acceptability)
    head = ["machine", *(f"no. {place}" for place in range(1, n + 1))]
    head += ["ruled out", "confidence", "regret", "best buy up to"]
    rows = [
        [
            name,
            *shares,
            record.ruled_out[name],
            record.confidence[name],
            record.regret[name],
            record.break_even_price[name],
        ]
        for name, shares in record.acceptability.items()
    ]
    return safe_rows([head, *rows])
