"""Whatever is wrong in a file is said in sentences: all of it, at once, with lines."""

import pytest

from scoring.decision.criteria import STANDARD
from scoring.errors import InputFaults, ScoringError
from scoring.inputs.brief_files import load_brief
from scoring.inputs.machine_folder import load_machines, read_machine
from scoring.inputs.together import check_together
from scoring.inputs.yaml_lines import MAX_BYTES
from tests.cases import brief
from tests.inputs.sheets import BRIEF, SHEET, changed, source

MASS = "a mass, such as 24 kg"
PRICE = "a sum of money, such as 23900 EUR"
TIME = "a time, such as 28 min"
# (what is changed in the sheet, into what) → the sentences
IN_A_SHEET = {
    "unknown key, with the nearest known one": (
        ("heaviest_lift", "heviest_lift"),
        f"""a.yaml:1: heaviest_lift: is missing; {MASS}
a.yaml:9: heviest_lift: unknown key; did you mean 'heaviest_lift'?""",
    ),
    "a name that stands for something else": (
        ("name: Alder", "name: brief"),
        "a.yaml:1: name: 'brief' names something else here; "
        "another name for the machine",
    ),
    "wrong dimension": (
        ("20 kg", "31 min"),
        f"a.yaml:9: heaviest_lift: '31 min' is a time, not a mass; {MASS}",
    ),
    "missing unit": (
        ("20 kg", "20"),
        f"a.yaml:9: heaviest_lift: '20' has no unit; {MASS}",
    ),
    "negative price": (
        ("10000 EUR", "-5 EUR"),
        "a.yaml:2: price: '-5 EUR' is below 0; 0 or more",
    ),
    "empty speed table": (
        ("speed:\n  4: 3 m²/h", "speed: {}"),
        "a.yaml:3: speed: is an empty table; "
        "at least one pass mode with its speed, such as 4: 1.7 m²/h",
    ),
    "neither speeds nor timed prints": (
        ("speed:\n  4: 3 m²/h\n", ""),
        "a.yaml:1: speed: is missing; "
        "at least one pass mode with its speed, such as 4: 1.7 m²/h",
    ),
    "low above high": (
        ("20 min", "35..20 min"),
        "a.yaml:5: assembly_time: '35..20 min' does not rise; "
        "low..high or low..likely..high",
    ),
    "duplicate key": (
        ("name: Alder", "name: Alder\nname: Birch"),
        "a.yaml:2: name: given twice, first on line 1; each key once",
    ),
    "duplicate key in a long form": (
        ("10000 EUR", "{value: 5 EUR, value: 6 EUR}"),
        "a.yaml:2: price.value: given twice, first on line 2; each key once",
    ),
    "tab": (
        ("  4: 3 m²/h", "\t4: 3 m²/h"),
        "a.yaml:4: a tab in the indentation; spaces",
    ),
    "a list where a mapping belongs": (
        ("speed:\n  4: 3 m²/h", "speed: [4, 3]"),
        "a.yaml:3: speed: a list where a mapping belongs; key: value",
    ),
    "a mapping where a list belongs": (
        ("speed:", "pieces: {name: a}\nspeed:"),
        "a.yaml:3: pieces: a mapping where a list belongs; [a, b] or rows of -",
    ),
    "anchor and alias": (
        ("name: Alder", "name: &a Alder\nnote: *a"),
        """a.yaml:1: name: the anchor &a; no anchors
a.yaml:2: note: the alias *a; the value itself""",
    ),
    "merge key": (
        ("name: Alder", "<<: {note: a}\nname: Alder"),
        "a.yaml:1: <<: a merge key; the keys themselves",
    ),
    "tag": (
        ("name: Alder", "name: !!str Alder"),
        "a.yaml:1: name: the tag 'tag:yaml.org,2002:str'; no tags",
    ),
    "a power that never ends": (
        ("20 kg", "9**9**9 kg"),
        f"a.yaml:9: heaviest_lift: '9**9**9 kg': no such unit; {MASS}",
    ),
    "a difference": (
        ("20 kg", "24-4 kg"),
        f"a.yaml:9: heaviest_lift: '24-4 kg' is not a figure; {MASS}",
    ),
    "no such unit": (
        ("20 kg", "20 stoneish"),
        f"a.yaml:9: heaviest_lift: '20 stoneish': no such unit; {MASS}",
    ),
    "decimal comma": (
        ("3 m²/h", "1,7 m²/h"),
        "a.yaml:4: speed.4: '1,7 m²/h' cannot be read; write 1.7 m²/h",
    ),
    "thousands comma": (
        ("10000 EUR", "23,900 EUR"),
        "a.yaml:2: price: '23,900 EUR' cannot be read; write 23900 EUR",
    ),
    "en dash": (
        ("20 min", "20–35 min"),
        "a.yaml:5: assembly_time: '20–35 min' cannot be read; write 20..35 min",
    ),
    "leading point": (
        ("20 min", ".5 h"),
        "a.yaml:5: assembly_time: '.5 h' cannot be read; write 0.5 h",
    ),
    "comma inside braces": (
        ("10000 EUR", "{value: 23,900 EUR}"),
        "a.yaml:2: price.value: a comma splits values inside { }: '23,900 EUR'; "
        "write 23900 EUR",
    ),
    "decimal comma inside braces": (
        ("10000 EUR", "{value: 1,7 EUR, basis: quoted}"),
        "a.yaml:2: price.value: a comma splits values inside { }: '1,7 EUR'; "
        "write 1.7 EUR",
    ),
    "leading zero": (
        ("20 min", "012"),
        f"a.yaml:5: assembly_time: '012' has no unit; {TIME}",
    ),
    "clock time": (
        ("20 min", "1:30"),
        f"a.yaml:5: assembly_time: '1:30': no such unit; {TIME}",
    ),
    "days of work": (
        ("20 min", "2 day"),
        f"a.yaml:5: assembly_time: '2 day' is not a working time; {TIME}",
    ),
    "not a number": (
        ("20 kg", ".nan"),
        f"a.yaml:9: heaviest_lift: nan is not a finite number; {MASS}",
    ),
    "infinite": (
        ("20 kg", ".inf"),
        f"a.yaml:9: heaviest_lift: inf is not a finite number; {MASS}",
    ),
    "nan with a unit": (
        ("20 kg", "nan kg"),
        f"a.yaml:9: heaviest_lift: 'nan kg' is not a figure; {MASS}",
    ),
    "more digits than a number holds": (
        ("20 kg", f"{'9' * 400} kg"),
        f"a.yaml:9: heaviest_lift: '{'9' * 59}…' is too large; {MASS}",
    ),
    "pass mode 0": (
        ("  4: 3", "  0: 3"),
        "a.yaml:4: speed.0: '0' is no pass mode; passes from 1 to 99",
    ),
    "empty value": (("10000 EUR", ""), f"a.yaml:2: price: is empty; {PRICE}"),
    "beyond the scale of odours": (
        ("preparing: 1", "preparing: 7"),
        "a.yaml:10: odour.preparing: '7' is above 6; 6 or less",
    ),
    "no plan": (
        (
            "subscription_fees:\n  - {name: No plan, fee: 0 EUR/year}",
            "subscription_fees: []",
        ),
        "a.yaml:11: subscription_fees: is empty; 1 or more",
    ),
    "unknown basis": (
        ("10000 EUR", "{value: 5 EUR, basis: guessed}"),
        "a.yaml:2: price: basis 'guessed'; measured, quoted, estimated, unknown",
    ),
    "a day that is none": (
        ("10000 EUR", "{value: 5 EUR, as_of: last week}"),
        "a.yaml:2: price: as_of 'last week' is not a day; such as 2026-09-14",
    ),
    "pieces that contradict the heaviest lift": (
        ("20 kg", "20 kg\npieces: [{name: base, mass: 30 kg}]"),
        "a.yaml:9: heaviest_lift: '20 kg', but the heaviest of pieces weighs 30 kg; "
        "the same in both",
    ),
    "effect of a feature that the machine never has": (
        ("20 kg", "20 kg\neffects: {skip_blank: {prime_time: 3 min}}"),
        "a.yaml:10: effects.skip_blank: no plan unlocks 'skip_blank' and it is not "
        "built in; a feature of features or of a plan's unlocks",
    ),
    "half a carriage": (
        ("20 kg", "20 kg\ncarriage: {strip_width: 5 cm, head_speed: 0.5 m/s}"),
        "a.yaml:10: carriage.turnaround: is missing; "
        "both of head_speed and turnaround, or neither",
    ),
    "two documents": (
        ("fee: 0 EUR/year}", "fee: 0 EUR/year}\n---\nname: Birch"),
        "a.yaml:13: a second document; one document a file",
    ),
    "three faults at once": (
        (
            "10000 EUR\nspeed:\n  4: 3 m²/h\nassembly_time: 20 min",
            "5 kg\nassembly_time: 3 kg",
        ),
        f"""a.yaml:2: price: '5 kg' is not a sum of money; {PRICE}
a.yaml:3: assembly_time: '3 kg' is a mass, not a time; {TIME}""",
    ),
}
BAD_BYTES = {
    "5,000 open brackets": (
        "[" * 5000,
        "a.yaml:1: nested deeper than 20 levels; a few levels, as in the examples",
    ),
    "a list": (
        "- a",
        "a.yaml:1: a list where a mapping belongs; keys and values as `key: value`",
    ),
    "not YAML": (
        "a: b: c",
        "a.yaml:1: is not YAML from here on: mapping values are not allowed here; "
        "keys and values as `key: value`",
    ),
    "not UTF-8": (
        SHEET.replace("name: Alder", "# a\nname: Bj\xf8rk").encode("latin-1"),
        "a.yaml:2: byte 0xf8 is not UTF-8; text saved as UTF-8",
    ),
}
IN_A_BRIEF = {
    "unknown key": (
        ("title: An", "titel: An"),
        """a.yaml:1: titel: unknown key; did you mean 'title'?
a.yaml:1: title: is missing; a few words""",
    ),
    "half a pass": (
        ("passes: 4", "passes: 4.5"),
        "a.yaml:11: work.0.passes: '4.5' is not allowed here; a whole number",
    ),
    "unknown, where nobody can fill it in": (
        ("per_month: 4", "per_month: unknown"),
        "a.yaml:8: work.0.per_month: unknown; "
        "a number from 0 to 300, such as 4; a range where it is not sure",
    ),
    "no price": (
        ("{per_job: 500 EUR}", "{}"),
        "a.yaml:12: work.0.price: has no price; exactly one of per_m2, bands, per_job",
    ),
    "two prices": (
        ("{per_job: 500 EUR}", "{per_job: 500 EUR, per_m2: 3 EUR/m²}"),
        "a.yaml:12: work.0.price: per_m2 and per_job together; "
        "exactly one of per_m2, bands, per_job",
    ),
    "bands that leave sizes out": (
        ("{per_job: 500 EUR}", "{bands: [{up_to: 4 m², per_m2: 90 EUR/m²}]}"),
        "a.yaml:12: work.0.price.bands: do not cover all sizes in order; "
        "up_to rising from band to band, none in the last",
    ),
    "missing exchange rate": (
        ("500 EUR", "500 USD"),
        "a.yaml:12: work.0.price.per_job: no exchange rate for USD; "
        "exchange: {USD: … EUR} in the brief",
    ),
    "must-serve work that is not there": (
        ("work:", "limits: {must_serve: [wal]}\nwork:"),
        "a.yaml:6: limits.must_serve.0: no kind of job is called 'wal', "
        "did you mean 'wall'?; one of 'wall'",
    ),
    "negative weight": (
        ("work:", "weights: {odour: -1}\nwork:"),
        "a.yaml:6: weights.odour: '-1' is not allowed here; 0 or more",
    ),
    "weights that sum to 0": (
        ("work:", "weights: {odour: 0}\nwork:"),
        "a.yaml:6: weights: the weights sum to 0; at least one above 0",
    ),
    "two ways to weigh": (
        ("work:", "weights: {swing: {odour: 1}, order: [odour]}\nwork:"),
        "a.yaml:6: weights: more than one way to weigh: swing, order; "
        "one of swing, order, pairwise, priced",
    ),
    "judgements that are not reciprocal": (
        (
            "work:",
            "weights: {pairwise: {criteria: [odour, upfront], "
            "judgements: [[1, 3], [0.5, 1]]}}\nwork:",
        ),
        "a.yaml:6: weights.pairwise.judgements: row 2, column 1 is not 1 / its mirror "
        "image; reciprocal judgements, 1 on the diagonal",
    ),
    "delivery after the horizon": (
        ("work:", "payment: {delivery_months: 90}\nwork:"),
        "a.yaml:6: payment.delivery_months: '90' months is too late; "
        "before the end of the horizon, 5 years",
    ),
    "a year without a season": (
        ("work:", "trade: {seasonality: [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]}\nwork:"),
        "a.yaml:6: trade.seasonality: every month is 0; "
        "twelve numbers, January first, one at least above 0",
    ),
    "a scale of one point": (
        ("work:", "scale: {odour: [3, 3]}\nwork:"),
        "a.yaml:6: scale.odour: worst and best are both 3; two different figures",
    ),
    "nobody goes": (
        ("work:", "crew: {people: 0}\nwork:"),
        "a.yaml:6: crew.people: '0' is not allowed here; 1 or more",
    ),
    "a word for a switch": (
        ("passes: 4", "passes: 4\n    overnight: no"),
        "a.yaml:12: work.0.overnight: 'no' is not allowed here; true or false",
    ),
    "two kinds of job with one name": (
        (
            "work:",
            "work:\n  - {name: wall, per_month: 1, width: 1 m, height: 1 m, "
            "passes: 4, price: {per_job: 9 EUR}}",
        ),
        "a.yaml:8: work.1.name: 'wall' twice; each kind of job once",
    ),
}


def sentences(read, text):
    """Return what is said about a text."""
    with pytest.raises(InputFaults) as caught:
        read(source(text))
    return str(caught.value)


@pytest.mark.parametrize("name", IN_A_SHEET)
def test_faults_of_a_sheet(name):
    """A sheet with this fault gets exactly these sentences."""
    change, said = IN_A_SHEET[name]
    assert sentences(read_machine, changed(SHEET, *change)) == said


@pytest.mark.parametrize("name", IN_A_BRIEF)
def test_faults_of_a_brief(name):
    """A brief with this fault gets exactly these sentences."""
    change, said = IN_A_BRIEF[name]
    assert sentences(load_brief, changed(BRIEF, *change)) == said


@pytest.mark.parametrize("name", BAD_BYTES)
def test_files_that_cannot_be_read(name):
    """A file that is no profile at all gets one sentence and no traceback."""
    text, said = BAD_BYTES[name]
    assert sentences(read_machine, text) == said


def test_no_is_a_name():
    """NO, on, null in quotes: words are names, as in YAML 1.2."""
    for written, name in (
        ("NO", "NO"),
        ("on", "on"),
        ('"null"', "null"),
        ("012", "012"),
    ):
        text = changed(SHEET, "name: Alder", f"name: {written}")
        assert read_machine(source(text)).name == name


def test_a_file_of_50_mb_is_not_read(tmp_path):
    """A file far too large is refused by its size alone."""
    path = tmp_path / "huge.yaml"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    with pytest.raises(InputFaults) as caught:
        read_machine(path)
    assert (
        str(caught.value)
        == f"{path}:1: is 50.0 MB large; {MAX_BYTES / 1e6:g} MB or less"
    )


def test_two_machines_with_one_name(tmp_path):
    """The second file is named, with the first one's name and the line."""
    for name in ("a.yaml", "b.yaml"):
        (tmp_path / name).write_text(SHEET, encoding="utf-8")
    with pytest.raises(InputFaults) as caught:
        load_machines(tmp_path)
    assert str(caught.value) == (
        f"{tmp_path}/b.yaml:1: name: 'Alder' is the name of {tmp_path}/a.yaml too; "
        "a name of its own"
    )


def test_faults_of_all_files_come_at_once(tmp_path):
    """One reading of a folder tells what is wrong in each of its files."""
    for name, old, new in (("a.yaml", "20 kg", "20"), ("b.yaml", "Alder", "")):
        (tmp_path / name).write_text(changed(SHEET, old, new), encoding="utf-8")
    with pytest.raises(InputFaults) as caught:
        load_machines(tmp_path)
    assert [(f.line, f.key) for f in caught.value.faults] == [
        (9, "heaviest_lift"),
        (1, "name"),
    ]


def test_folders_without_sheets(tmp_path):
    """An empty folder and one that is not there each get a sentence."""
    with pytest.raises(ScoringError, match="no machine sheet"):
        load_machines(tmp_path)
    with pytest.raises(ScoringError, match="there is no such folder"):
        load_machines(tmp_path / "nowhere")
    with pytest.raises(InputFaults, match="nowhere.yaml:1: there is no such file"):
        load_brief(tmp_path / "nowhere.yaml")


TOGETHER = {
    "exchange rate for a machine's price": (
        changed(SHEET, "10000 EUR", "10000 USD"),
        BRIEF,
        "a.yaml:2: price: no exchange rate for USD; "
        "exchange: {USD: … EUR} in the brief",
    ),
    "unknown machine in owned": (
        SHEET,
        BRIEF + "owned: [{machine: Aldr, age: 2}]\n",
        "b.yaml:13: owned.0.machine: no machine sheet is called 'Aldr', "
        "did you mean 'Alder'?; one of 'Alder'",
    ),
    "unknown criterion": (
        SHEET,
        BRIEF + "weights: {odor: 3}\n",
        "b.yaml:13: weights.odor: no criterion is called 'odor', "
        "did you mean 'odour'?; "
        f"one of {', '.join(criterion.id for criterion in STANDARD)}",
    ),
    "own criterion from a rating that no sheet has": (
        changed(SHEET, "name: Alder", "name: Alder\nratings: {finish: 4}"),
        BRIEF + "criteria: {shine: {rating: finnish}}\n",
        "b.yaml:13: criteria.shine: no machine sheet has the rating 'finnish', "
        "did you mean 'finish'?; one of finish",
    ),
}


@pytest.mark.parametrize("name", TOGETHER)
def test_what_only_both_files_tell(name):
    """Faults between a brief and the sheets name the file, the line and the key."""
    sheet, brief, said = TOGETHER[name]
    machine, brief = read_machine(source(sheet)), load_brief(source(brief, "b.yaml"))
    with pytest.raises(InputFaults) as caught:
        check_together(brief, [machine], [criterion.id for criterion in STANDARD])
    assert str(caught.value) == said


def test_a_list_that_is_too_short_or_too_long_says_so():
    """Eleven or thirteen months are a fault with what is allowed, not a crash."""
    for n in (11, 13):
        seasons = f"trade: {{seasonality: [{', '.join(['1'] * n)}]}}\n"
        with pytest.raises(InputFaults) as found:
            brief(more=seasons)
        (fault,) = found.value.faults
        assert fault.key == "trade.seasonality"
        assert f"has {n} entries; twelve numbers, January first" in str(fault)


def test_what_is_told_beside_nothing_is_not_passed_over():
    """A hired vehicle without a size, the months of a loan without the loan."""
    for more, key in (
        ("vehicle: {hire: 80 EUR}\n", "vehicle"),
        (
            "owned: [{machine: Alder, age: 1, loan_months: 9}]\n",
            "owned.0.remaining_loan",
        ),
    ):
        with pytest.raises(InputFaults) as found:
            brief(more=more)
        assert [fault.key for fault in found.value.faults] == [key]
