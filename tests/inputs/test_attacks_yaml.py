"""Any YAML of 256 kB is read, or refused in a sentence, in little time.

What YAML can say: YAML 1.2.2 (2021), chapters 3 and 6 to 8.
"""

import time

import pytest

from scoring.errors import InputFaults
from scoring.inputs.brief_files import load_brief
from scoring.inputs.machine_folder import read_machine
from scoring.inputs.together import MOST_PAIRS, check_together
from scoring.inputs.yaml_lines import MAX_BYTES
from tests.inputs.sheets import BRIEF, SHEET, changed, source

LONGEST_S = 10.0  # a guard against what never ends, no measure


def said(read, text):
    """Return the sentences about a text, which come quickly and are not many."""
    data = text if isinstance(text, bytes) else text.encode()
    assert len(data) <= MAX_BYTES
    begun = time.process_time()
    with pytest.raises(InputFaults) as raised:
        read(("a.yaml", data))
    assert time.process_time() - begun < LONGEST_S
    sentences = [str(fault) for fault in raised.value.faults]
    assert len(sentences) < 60 and max(map(len, sentences)) < 1_000
    return sentences


def filled(one, before="a: [", after="]"):
    """Return as much of one thing as a file holds, between two ends."""
    n = (MAX_BYTES - len(before) - len(after)) // len(one.encode())
    return before + one * n + after


def numbered(one, n=20_000):
    """Return different keys, such as `k1: 1`, as many as a file holds."""
    return "".join(one.format(k) for k in range(n))[: MAX_BYTES - 1_000]


# What stands in each: a file of this alone took from 1 s to half a minute.
FULL = {
    "keys": numbered("k{}: 1\n"),
    "keys in one line": "a: {" + numbered("k{}: 1, ", 16_000) + "}",
    "keys without a value": "a: {" + numbered("k{}, ") + "}",
    "keys far inside": "a: {b: {c: {d: {e: {" + numbered("k{}: 1, ", 16_000) + "}}}}}",
    "one key again and again": filled("a: 1\n", "", ""),
    "numbers": filled("1,"),
    "empty lists": filled("[],"),
    "empty mappings": filled("{},"),
    "lists in lists": filled("[", "a: ", ""),
    "mappings in mappings": filled("{a: ", "", ""),
    "steps to the right": "\n".join(" " * k + "a:" for k in range(690)),
    "dashes in one line": filled("- ", "a:\n ", ""),
    "figures cut by commas": filled("2,", "a: {x: 1,", "}"),
    "anchors": filled("&a 1,"),
    "aliases": filled("*a,", "a: &a 1\nb: ["),
    "aliases of aliases": "a: &a [x]\n"
    + "".join(f"k{n}: &k{n} [*k{n - 1}, *k{n - 1}]\n" for n in range(1, 200)),
    "tags": filled("!!x 1,"),
    "merge keys": filled("<<: 1\n", "", ""),
    "keys that are lists": filled("[1]: 2,", "a: {", "}"),
    "keys with question marks": filled("? a\n: b\n", "", ""),
    "documents": filled("---\na: 1\n", "", ""),
    "directives": filled("%X 1\n", "", "---\na: 1"),
    "tabs": filled("\t a\n", "a: 1\n", ""),
    "colons": filled("b:", "a: ", ""),
    "open quotation": filled("x\n", 'a: "', ""),
    "a number of 250,000 digits": filled("1", "price: ", ""),
    "a key of 250,000 letters": filled("x", "", ": 1"),
    "NUL": filled("\0", "a: ", ""),
    "no text at all": bytes(range(256)) * 900,
    "UTF-16": ("a: " + "x" * 100_000).encode("utf-16"),
    "lone surrogates": b"a: " + b"\xed\xa0\x80" * 80_000,
}


@pytest.mark.parametrize("name", FULL)
def test_a_full_file_is_refused_quickly(name):
    """A file full of one thing takes little time, and gets few and short sentences."""
    assert said(load_brief, FULL[name])


def test_a_file_has_ten_thousand_values():
    """Reading ends with the value after the last that is allowed, and says so."""
    [sentence] = said(read_machine, FULL["keys"])
    assert sentence == (
        "a.yaml:10000: more than 10000 values; a few hundred, as in the examples"
    )


def test_a_list_has_two_hundred_entries():
    """Any list, known or not, ends there."""
    features = ", ".join(f"f{k}" for k in range(201))
    [sentence] = said(read_machine, f"{SHEET}features: [{features}]\n")
    assert sentence == ("a.yaml:13: features: has more than 200 entries; 200 or fewer")


JOB = BRIEF[BRIEF.index("  - name: wall") :]


def with_jobs(n):
    """Return a brief of so many kinds of job."""
    jobs = "".join(JOB.replace("wall", f"wall {k}") for k in range(n))
    return BRIEF.replace(JOB, jobs)


OWNED = "  - {machine: Alder, age: 2}\n"
LISTS = {
    "work": (load_brief, with_jobs(51), "51 entries; 1 to 50 kinds of job"),
    "owned": (
        load_brief,
        f"{BRIEF}owned:\n{OWNED * 11}",
        "11 entries; 10 rigs or fewer",
    ),
    "pieces": (
        read_machine,
        f"{SHEET}pieces:\n" + "  - {name: a, mass: 20 kg}\n" * 51,
        "51 entries; 50 pieces or fewer",
    ),
    "print_tests": (
        read_machine,
        f"{SHEET}print_tests:\n"
        + "  - {passes: 4, width: 1 m, height: 1 m, time: 9 min}\n" * 101,
        "101 entries; 100 timed prints or fewer",
    ),
    "pass_modes": (
        read_machine,
        f"{SHEET}pass_modes: [{', '.join(map(str, range(1, 22)))}]\n",
        "21 entries; 20 pass modes or fewer",
    ),
    "speed": (
        read_machine,
        changed(
            SHEET,
            "  4: 3",
            "".join(f"  {k}: 3 m²/h\n" for k in range(5, 25)) + "  4: 3",
        ),
        "21 entries; 20 pass modes or fewer",
    ),
    "ratings": (
        read_machine,
        SHEET + "ratings:\n" + "".join(f"  r{k}: 3\n" for k in range(51)),
        "51 entries; 50 ratings or fewer",
    ),
    "subscription_fees": (
        read_machine,
        SHEET + "  - {name: a, fee: 1 EUR/year}\n" * 20,
        "21 entries; 1 to 20 plans, each with name and fee; 0 EUR/year if free",
    ),
    "criteria": (
        load_brief,
        f"{BRIEF}criteria:\n" + "".join(f"  c{k}: {{rating: a}}\n" for k in range(51)),
        "51 entries; 50 criteria or fewer",
    ),
}


NUMBERS = "".join(f"  c{k}: 1\n" for k in range(51))
NAMES = f"[{', '.join(f'c{k}' for k in range(51))}]"
LISTS |= {
    "weights": (load_brief, f"{BRIEF}weights:\n{NUMBERS}", "51 entries; 50 or fewer"),
    "weights.order": (load_brief, f"{BRIEF}weights: {{order: {NAMES}}}\n", "51"),
    "limits.must_have": (load_brief, f"{BRIEF}limits: {{must_have: {NAMES}}}\n", "51"),
    "limits.must_serve": (
        load_brief,
        f"{BRIEF}limits: {{must_serve: {NAMES}}}\n",
        "51",
    ),
    "effects": (
        read_machine,
        SHEET + "effects:\n" + NUMBERS.replace(": 1", ": {prime_time: 3 min}"),
        "51 entries; 50 features or fewer",
    ),
}


@pytest.mark.parametrize("key", LISTS)
def test_each_list_has_its_own_end(key):
    """More than anybody has is refused by its number, with the number allowed."""
    read, text, what = LISTS[key]
    assert any(f": {key}: has {what}" in sentence for sentence in said(read, text))


def test_the_longest_lists_are_read():
    """Fifty kinds of job, fifty pieces and ten rigs are within the bounds."""
    brief = load_brief(source(f"{with_jobs(50)}owned:\n{OWNED * 10}"))
    assert (len(brief.work), len(brief.owned)) == (50, 10)
    pieces = "  - {name: a, mass: 20 kg}\n" * 50
    assert len(read_machine(source(f"{SHEET}pieces:\n{pieces}")).pieces) == 50


def test_jobs_times_machines_have_an_end():
    """Fifty kinds of job with ten machines are worked out, with eleven they are not."""
    brief = load_brief(source(with_jobs(50)))
    named = [changed(SHEET, "Alder", f"A{k}") for k in range(11)]
    machines = [read_machine(source(sheet)) for sheet in named]
    check_together(brief, machines[: MOST_PAIRS // 50], [])
    with pytest.raises(InputFaults) as raised:
        check_together(brief, machines, [])
    assert str(raised.value) == (
        "a.yaml:6: work: 50 kinds of job with 11 machines; 500 or less if multiplied"
    )
