"""Templates of many buyers: every fault in a sentence, and what a sound one says."""

import pytest

from scoring.errors import InputFaults
from scoring.inputs.template_files import load_template
from tests.population.small import BUYERS, template_text


def faults_of(buyers=BUYERS, edits=()):
    """Return the sentences that a template gets."""
    text = template_text(buyers, edits)
    with pytest.raises(InputFaults) as raised:
        load_template(("many.yaml", text.encode()))
    return str(raised.value).splitlines()


def line_of(text, buyers=BUYERS):
    """Return the number of the first line that holds a text."""
    lines = template_text(buyers).splitlines()
    return next(n for n, line in enumerate(lines, 1) if text in line)


FAULTS = {
    "a key of no brief": (
        ("key: money.cash", "key: mony.cash"),
        "name: cash",
        "buyers.differ.0.key: no key of a brief, did you mean 'money'?; such as "
        "money.cash or work.*.distance",
    ),
    "a figure that is not told": (
        ("key: money.cash", "key: money.loan"),
        "name: cash",
        "buyers.differ.0.key: no figure stands at 'money.loan'; a figure that the "
        "template tells, in crew, working_time, travel, vehicle, money, payment, "
        "trade, work, demand, limits, exchange; or one_of",
    ),
    "a kind of job that is none": (
        ("work.*.per_month", "work.wal.per_month"),
        "name: work",
        "buyers.differ.1.key: no kind of job is called 'wal', did you mean 'wall'?; "
        "work.*.carry for all, or one of 'wall'",
    ),
    "another unit": (
        ("9000..20000..60000 EUR", "9..20..60 kg"),
        "name: cash",
        "buyers.differ.0.between: '9..20..60 kg' is not a sum of money; a sum of "
        "money, such as 23900 EUR",
    ),
    "no range": (
        ("0.3..1..3", "2"),
        "name: work",
        "buyers.differ.1.times: '2' is one figure, not a range; low..high or "
        "low..likely..high",
    ),
    "shares that do not add up": (
        ("share: 40 %", "share: 50 %"),
        "one_of",
        "buyers.differ.3.one_of: the shares sum to 110 %; shares that sum to 100 %",
    ),
    "a choice that no brief takes": (
        ("{value: 2, share", "{value: two, share"),
        "one_of",
        "buyers.differ.3.one_of.1.value: crew.people: 'two' is not allowed here; a "
        "whole number",
    ),
    "a range whose end no brief takes": (
        ("between: 10..20..40 kg", "between: 0..20..40 kg"),
        "name: lifting",
        "buyers.differ.2.between: '0 kg' is too little to carry anything; 1 kg or more",
    ),
    "two ways at once": (
        ("evenly: true", "times: 1..2"),
        "name: lifting",
        "buyers.differ.2: how buyers differ is not said; between, times or one_of",
    ),
    "a name twice": (
        ("name: work,", "name: cash,"),
        "name: work",
        "buyers.differ.1.name: 'cash' twice; each difference once",
    ),
    "one key in two differences": (
        (
            "key: crew.lift_limit, between: 10..20..40 kg",
            "key: money.cash, times: 1..2",
        ),
        "name: lifting",
        "buyers.differ.2: 'money.cash' differs in 'cash' already; each key in one "
        "difference",
    ),
    "a pair with nobody": (
        ("of: [cash, work]", "of: [cash, wrk]"),
        "together",
        "buyers.together.0.of: no difference is called 'wrk', did you mean 'work'?; "
        "one of 'cash', 'work', 'lifting', 'crew'",
    ),
    "a correlation beyond 1": (
        ("correlation: 0.5", "correlation: 1.5"),
        "together",
        "buyers.together.0.correlation: '1.5' is not allowed here; 0.99 or less",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_each_fault_gets_its_sentence(name):
    """File, line, key, what is wrong, what is allowed; nothing else is told."""
    edit, place, sentence = FAULTS[name]
    found = faults_of(edits=[edit])
    assert f"many.yaml:{line_of(place)}: {sentence}" in found
    assert len(found) <= 1 + (name == "a name twice")


def test_all_faults_at_once():
    """Faults of the brief and of how buyers differ come in one go."""
    found = faults_of(
        edits=[("key: money.cash", "key: mony.cash"), ("share: 40 %", "share: 50 %")]
    )
    assert len(found) == 2


def test_kinds_of_buyer_are_briefs_of_their_own():
    """Each combination of choices is a brief that holds them."""
    crowd = load_template(("many.yaml", template_text().encode()))
    assert [brief.crew.people for brief in crowd.briefs] == [1, 2]
    assert crowd.differ[3].called == ("alone", "2")
    assert crowd.together == ((0, 1, 0.5),)
