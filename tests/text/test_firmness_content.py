"""The printed firmness has each figure in the row of its machine, in its column."""

import re

from scoring import evaluate
from scoring.questions.best_price import best_buy_prices
from scoring.questions.find_out import questions
from scoring.questions.firmness import how_firm
from scoring.questions.weight_ranges import stability_of
from scoring.records.firmness import firm_record
from scoring.text.firmness import firm_text
from tests.cases import brief, machine


def recorded(firm, asked):
    """Return the FirmRecord of a Firmness, with what it needs from other questions."""
    evaluation = firm.evaluation
    prices, ranges = best_buy_prices(evaluation), stability_of(evaluation)
    return firm_record(firm, asked, prices, ranges)


def firm_of_two():
    """Return the Firmness of two machines of which Birch is left out in every draw."""
    both = [machine(name="Alder", price=15000), machine(name="Birch", price=5000)]
    return how_firm(evaluate(brief(), both, left_out=("Birch",)), 100)


def test_places_and_ruled_out_stand_in_their_columns():
    """Alder is first in all draws, out in none."""
    firm = firm_of_two()
    asked = questions(firm)
    lines = firm_text(firm, asked, recorded(firm, asked)).splitlines()
    head = next(n for n, line in enumerate(lines) if line.startswith("weights drawn"))
    assert re.split(r"\s{2,}", lines[head].strip()) == [
        "weights drawn too",
        "no. 1",
        "ruled out",
    ]
    cells = re.split(r"\s{2,}", lines[head + 1].strip())
    assert cells == ["Alder", "100 %", "0 %"]


def test_the_record_tells_each_machine_its_own_shares():
    """A machine too heavy in some draws is told so under its own name."""
    both = [machine(name="Alder", lift=10), machine(name="Birch", lift=24)]
    firm = how_firm(evaluate(brief(closed="[-0.3, 0, 0.3]"), both), 400)
    record = recorded(firm, questions(firm))
    # Alder is as good on all else and lighter; Birch may weigh up to 30 % more than its
    # 24 kg, and one person lifts 25.
    assert record.acceptability["Alder"][0] > 0.9
    assert record.acceptability["Birch"][0] < 0.1
    assert record.ruled_out["Alder"] == 0
    assert 0.1 < record.ruled_out["Birch"] < 0.6
