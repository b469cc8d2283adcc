"""What differs between machines matters where it changes this work, and only there."""

from scoring import evaluate
from scoring.inputs.brief_files import load_brief
from scoring.inputs.machine_folder import read_machine
from scoring.questions.differences import LIMIT, MONEY, differences
from scoring.report.mail import questions_mail
from tests.inputs.sheets import BRIEF, SHEET, changed


def evaluation(*edits, brief=BRIEF):
    """Return the Evaluation of a machine and of one like it, but for some edits."""
    other = changed(SHEET, "Alder", "Birch")
    for old, new in edits:
        other = changed(other, old, new)
    sheets = [
        read_machine((f"{n}.yaml", t.encode())) for n, t in enumerate((SHEET, other))
    ]
    return evaluate(load_brief(("brief.yaml", brief.encode())), sheets)


def found(evaluation):
    """Return {path: what it changes} of the two, figures that somebody tells."""
    rows = differences(evaluation, [0, 1])
    return {row.path: row.changes for row in rows if not all(row.is_guess)}


def test_machines_that_tell_the_same_do_not_differ():
    """No row at all, guesses included: silence is guessed alike for one price."""
    assert differences(evaluation(), [0, 1]) == ()


def test_another_price_is_money():
    """10 000 against 12 000 EUR, as written; days and hours stay."""
    rows = differences(evaluation(("10000 EUR", "12000 EUR")), [0, 1])
    price = next(row for row in rows if row.path == "price")
    assert (price.told, price.unit) == ((10000.0, 12000.0), "EUR")
    assert MONEY in price.changes and "hours" not in price.changes


def test_a_slower_build_is_hours():
    """20 against 90 min of building: time on site."""
    changes = found(evaluation(("assembly_time: 20 min", "assembly_time: 90 min")))
    assert "hours" in changes["assembly_time"]


def test_a_reach_that_no_wall_asks_for_changes_nothing():
    """4 m against 6 m, walls of 2 m: pale; a wall of 5 m makes it a limit."""
    both = changed(SHEET, "odour:", "max_print_height: 4 m\nodour:")
    other = changed(changed(both, "Alder", "Birch"), "4 m\n", "6 m\n")
    sheets = [
        read_machine((f"{n}.yaml", t.encode())) for n, t in enumerate((both, other))
    ]
    low = load_brief(("brief.yaml", BRIEF.encode()))
    high = load_brief(("b.yaml", changed(BRIEF, "height: 2 m", "height: 5 m").encode()))
    assert found(evaluate(low, sheets))["max_print_height"] == ()
    assert LIMIT in found(evaluate(high, sheets))["max_print_height"]


def test_what_a_seller_does_not_tell_becomes_a_mail():
    """Each thing unknown is asked for once; what is told is not."""
    sheet = changed(SHEET, "assembly_time: 20 min", "assembly_time: unknown")
    machine = read_machine(("a.yaml", sheet.encode()))
    mail = questions_mail(machine, load_brief(("brief.yaml", BRIEF.encode())))
    lines = [line for line in mail.splitlines() if line.startswith("- ")]
    assert "- assembly time" in lines
    assert len(set(lines)) == len(lines)
    assert not any("heaviest" in line for line in lines)
    assert "wall (3 m × 2 m)" in mail
