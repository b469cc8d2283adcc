"""The scenario pack: what is read, what is refused, and what it must teach."""

import io
import zipfile

import numpy as np
import pytest
from click.testing import CliRunner

from scoring.answer.evaluation import evaluate
from scoring.commands import main
from scoring.errors import InputFaults, ScoringError
from scoring.questions.firmness import how_firm
from scoring.workshop.pack_check import is_near
from scoring.workshop.pack_files import load_pack, packed
from scoring.workshop.solved import (
    equal_weights,
    leaders,
    who_decides,
)
from scoring.workshop.visit import worth_found
from tests.cases import PROFILES
from tests.workshop.packs import OWN, own_checked, own_pack, own_solved, spoilt


def check(path):
    """Return the outcome of `workshop check`."""
    return CliRunner().invoke(main, ["workshop", "check", str(path)])


def test_our_own_pack_passes_and_its_lesson_is_real():
    """Five buyers have three different leaders or more under equal weights."""
    found = own_solved()
    assert len({each.leader for each in found[:5]}) >= 3
    for each in found:
        weights = each.evaluation.weights
        assert np.ptp(weights[weights > 0]) < 1e-12
        assert each.first[each.leader] >= 0.6
    assert found[5].leader not in {each.leader for each in found[:5]}


def test_leaders_are_firm_by_another_way():
    """A leader's share of first places is that of counting the draws one by one."""
    each = own_solved()[3]
    names = each.evaluation.names
    leader = names[each.order[each.leader]]
    scores = each.evaluation.drawn_scores
    count = 0
    for draw in scores:
        sums = {
            name: float((row * each.evaluation.weights).sum())
            for name, row in zip(names, draw, strict=True)
            if not np.isnan(row[0])
        }
        count += bool(sums) and max(sums, key=sums.get) == leader
    assert count / len(scores) == pytest.approx(each.first[each.leader])


def test_three_envelopes_are_worth_opening_for_two_buyers():
    """For the visitor and for a buyer of the five; not each for everybody."""
    pack = own_pack()
    visit, brief = pack.plan.visit, pack.buyers[3]
    other = how_firm(
        evaluate(brief, pack.machines, equal_weights(brief), seed=pack.plan.seed),
        10_000,
        pack.plan.seed,
    )
    for firm in (own_checked().firm, other):
        worths = [worth_found(pack, firm, [each]) for each in visit.envelopes]
        assert 3 <= sum(worth > 0 for worth in worths) < len(worths)


def test_a_pack_whose_leaders_are_one_fails(tmp_path):
    """Spoilt pack 1: where every buyer has the same brief but for a word."""
    folder = spoilt(tmp_path, "pack.yaml")
    one = (folder / "buyers" / "long-aisles.yaml").read_text("utf-8")
    for name in ("attic-rooms", "brick-and-glass", "yard-walls"):
        (folder / "buyers" / f"{name}.yaml").write_text(one, "utf-8")
    jobs = "predict: [warehouse aisle, canteen wall]"
    plan = (folder / "pack.yaml").read_text("utf-8")
    for told in (
        "predict: [room under the roof, stairwell landing]",
        "predict: [brick passage, showroom glass]",
        "predict: [retaining wall, garden wall]",
    ):
        plan = plan.replace(told, jobs)
    (folder / "pack.yaml").write_text(plan, "utf-8")
    outcome = check(folder)
    assert outcome.exit_code == 2
    (sentence,) = outcome.stderr.splitlines()
    assert "pack.yaml:21: buyers: under equal weights 1 machines lead" in sentence
    assert sentence.endswith("; 3 different leaders or more")


def test_a_pack_whose_leader_is_a_toss_up_fails(tmp_path):
    """Spoilt pack 2: where finer print counts in the attic, B and D are level there.

    With the plateau of clients' eyes gone, each is first about half of the time.
    """
    old = "criteria: {print_quality: {flat_above: 3}}"
    folder = spoilt(tmp_path, "buyers/attic-rooms.yaml", (old, ""))
    outcome = check(folder)
    assert outcome.exit_code == 2
    (sentence,) = outcome.stderr.splitlines()
    assert "buyers.0: Attic rooms in Sallowmere: " in sentence
    assert sentence.endswith(" % of draws; 60 % or more")


def test_a_pack_with_a_limit_on_a_tie_fails(tmp_path):
    """Spoilt pack 3: a wall of 2 m from 0.7 m up reaches to 2.7 m, as D and G do."""
    told = "height: 2 m\n    lowest_edge: 0.4 m"
    new = "height: 2 m\n    lowest_edge: 0.7 m"
    folder = spoilt(tmp_path, "buyers/long-aisles.yaml", (told, new))
    outcome = check(folder)
    assert outcome.exit_code == 2
    said = [line for line in outcome.stderr.splitlines() if "reach" in line]
    assert len(said) == 2
    for line, letter in zip(said, "GD", strict=True):
        assert f"{letter}: warehouse aisle: reach, m: 2.7 of 2.7" in line


def test_a_pack_whose_envelopes_are_worth_nothing_fails(tmp_path):
    """A visit for a buyer without doubt: long aisles once more, under another title."""
    folder = spoilt(tmp_path, "pack.yaml")
    told = (folder / "buyers" / "long-aisles.yaml").read_text("utf-8")
    (folder / "buyers" / "undecided.yaml").write_text(told, "utf-8")
    outcome = check(folder)
    assert outcome.exit_code == 2
    (sentence,) = outcome.stderr.splitlines()
    assert "visit: Long aisles in Osterby Docks: no envelope's figure is" in sentence


def test_near_by_hand():
    """2 % of 25 is 0.5: 24.5 and 25.5 are near, 24.4 is not; no limit, no tie."""
    figures = np.array([24.4, 24.5, 25.5, 25.6, 1.0, 1.0])
    limits = np.array([25.0, 25.0, 25.0, 25.0, np.inf, np.nan])
    assert is_near(figures, limits).tolist() == [False, True, True, False, False, False]


def test_who_leads_is_decided_by_the_buyer():
    """The shares of our pack sum to 1 and the buyer's is the largest: the lesson."""
    shares = who_decides(own_solved(), seed=1)
    assert shares.first.sum() + shares.together == pytest.approx(1)
    assert shares.first.argmax() == 0
    assert shares.first[0] > 2 * shares.first[1:].sum()


def test_who_leads_with_one_buyer_hangs_on_no_buyer():
    """With one buyer alone the buyer's share is 0, whatever the prices."""
    shares = who_decides(own_solved()[:1], seed=1, n_draws=4_000)
    assert shares.first[0] == pytest.approx(0, abs=1e-9)


def test_leaders_by_hand():
    """Scores (1, 0), (0.4, 0.4) under weights (1, 3)/4: 0.25 to 0.4; out is out."""
    scores = np.array([[[1.0, 0.0], [0.4, 0.4]], [[np.nan] * 2, [0.4, 0.4]]])
    assert leaders(scores, np.array([0.25, 0.75])).tolist() == [1, 1]
    worst = np.array([[[np.nan] * 2, [0.0, 0.0]]])  # the last within the limits
    assert leaders(worst, np.array([0.5, 0.5])).tolist() == [1]
    assert leaders(np.full((1, 2, 2), np.nan), np.array([0.5, 0.5])).tolist() == [2]


def test_packed_and_read_again_is_the_same(tmp_path):
    """The .zip holds the sheets, needs no other file, and its bytes do not vary."""
    out = tmp_path / "exercise.zip"
    outcome = CliRunner().invoke(
        main, ["workshop", "pack", str(OWN), "--out", str(out)]
    )
    assert outcome.exit_code == 0, outcome.output
    again = load_pack(out)
    assert again.plan.model_dump() == own_pack().plan.model_dump()
    assert [each.text for each in again.buyers] == [e.text for e in own_pack().buyers]
    assert [each.name for each in again.machines] == [
        own_pack().plan.letters[letter] for letter in "ABCDEFGH"
    ]
    assert packed(again) == out.read_bytes() == packed(own_pack())


FAULTS = {
    "a letter short": (
        ("  H: Ossery Twin\n", ""),
        "letters: without H; each of the letters",
    ),
    "a machine nobody knows": (
        ("  H: Ossery Twin\n", "  H: Ossery Twain\n"),
        "letters.H: no machine sheet is called 'Ossery Twain', did you mean",
    ),
    "a stage that is none": (
        ("{stage: debrief, minutes: 20}", "{stage: party, minutes: 20}"),
        "stages.long.7.stage: 'party' is not allowed here",
    ),
    "stages out of order": (
        ("{stage: join, minutes: 4}", "{stage: swap, minutes: 4}"),
        "stages.hour: the stages are swap, first_guess",
    ),
    "an hour too long": (
        ("{stage: join, minutes: 4}", "{stage: join, minutes: 9}"),
        "stages.hour: the stages take 65 min; 60 min or less",
    ),
    "an answer that is none": (
        ("    right: 4\n", "    right: 7\n"),
        "questions.2.right: 7 of 4 choices; the place of a choice",
    ),
    "a brief that is not there": (
        ("buyers/yard-walls.yaml", "buyers/yard-wall.yaml"),
        "buyers.4.file: no 'buyers/yard-wall.yaml' in the pack",
    ),
    "a brief outside": (
        ("buyers/yard-walls.yaml", "../../briefs/workshop.yaml"),
        "buyers.4.file: no '../../briefs/workshop.yaml' in the pack",
    ),
    "a visit for one of the buyers": (
        ("file: buyers/undecided.yaml", "file: buyers/yard-walls.yaml"),
        "visit.file: 'buyers/yard-walls.yaml' is one of the buyers; a buyer of its own",
    ),
    "a job nobody does": (
        ("predict: [retaining wall,", "predict: [retained wall,"),
        "buyers.4.predict: no kind of job is called 'retained wall', did you mean",
    ),
    "time for every envelope": (
        ("yaml\n  minutes: 60", "yaml\n  minutes: 300"),
        "visit: all envelopes take 215 min of 300 min; more than there is time for",
    ),
    "an envelope without a figure": (
        ("figure: support.response", "figure: support.responses"),
        "visit.envelopes.5.figure: 'support.responses' is no figure of a machine sheet",
    ),
    "a result in another unit": (
        ("result: 26 kg", "result: 26 min"),
        "visit.envelopes.0.result: ",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_each_fault_of_a_pack_gets_its_sentence(name, tmp_path):
    """What is wrong in pack.yaml is said with file, key and what is allowed."""
    edit, said = FAULTS[name]
    folder = spoilt(tmp_path, "pack.yaml", edit)
    with pytest.raises(InputFaults) as found:
        load_pack(folder)
    assert any(said in str(fault) for fault in found.value.faults), found.value
    assert all("pack.yaml" in fault.file for fault in found.value.faults)


def zipped(**files):
    """Return the bytes of a .zip with these files; their names may be anything."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return buffer.getvalue()


BAD_ZIPS = {
    "no archive": (b"not a zip", "is no pack"),
    "cut off": (zipped(**{"pack.yaml": "title: x"})[:40], "is no pack"),
    "empty": (zipped(), "no pack.yaml in it"),
    "leads out": (zipped(**{"../pack.yaml": "x"}), "leads out of the pack"),
    "a drive": (zipped(**{"C:pack.yaml": "x"}), "leads out of the pack"),
    "a bomb": (zipped(**{"pack.yaml": b"0" * 300_000}), "is too large"),
    "many": (zipped(**{f"{n}.yaml": "" for n in range(61)}), "61 files; 60 or fewer"),
}


@pytest.mark.parametrize("name", BAD_ZIPS)
def test_a_zip_that_is_no_pack_is_refused(name):
    """Broken, hostile or swollen archives get one sentence, and are not unpacked."""
    data, said = BAD_ZIPS[name]
    with pytest.raises(ScoringError, match=said):
        load_pack(("p.zip", data))


def test_a_folder_without_a_pack():
    """A folder of something else gets a sentence."""
    outcome = check(PROFILES / "machines")
    assert outcome.exit_code == 2
    assert outcome.stderr.endswith("machines: no pack.yaml in this folder\n")
