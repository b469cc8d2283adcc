"""Hand-outs and workbook: complete, without names, and nothing in them runs."""

import io
import re
import tempfile
import zipfile
from functools import cache
from html import unescape
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from scoring.commands import main
from scoring.errors import ScoringError
from scoring.inputs.written import check_folder
from scoring.workshop.handouts import handouts
from scoring.workshop.pack_files import load_pack
from scoring.workshop.results_of import results_workbook
from scoring.workshop.rooms import open_room
from scoring.workshop.solved import solved
from tests.workshop.a_class import run_through
from tests.workshop.packs import (
    OWN,
    own_checked,
    own_pack,
    own_solved,
    spoilt,
)

HOSTILE = [
    "<img src=x onerror=alert(1)>",
    '=HYPERLINK("http://x.example","y")',
    "+1+1",
    "-2",
    "@SUM(A1)",
    "Ash",
]


@cache
def pages():
    """Return the hand-outs of our own pack, as the command writes them."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "to" / "print"
        command = ["workshop", "handouts", str(OWN), "--out", str(out)]
        outcome = CliRunner().invoke(main, command)
        assert outcome.exit_code == 0, outcome.output
        assert len(outcome.stdout.splitlines()) == len(list(out.iterdir()))
        return {file.name: file.read_text("utf-8") for file in out.iterdir()}


@pytest.fixture(params=["sqlite"])
def url(tmp_path):
    """Papers do not hang on the kind of store."""
    return f"sqlite:///{tmp_path / 'rooms.sqlite'}"


def test_only_the_key_tells_names():
    """No hand-out for the room tells a machine's name, a right answer or a reason."""
    for name, html in pages().items():
        told = unescape(html)
        for hidden in own_pack().plan.letters.values():
            assert (hidden in told) == (name == "key.html"), (name, hidden)
        for question in own_pack().plan.questions:
            assert (question.why in told) == (name == "key.html")


def test_the_sixth_buyer_stays_unseen():
    """The sixth buyer's title is on no other paper of the room than its own."""
    title = own_pack().buyers[5].title
    seen = {name for name, html in pages().items() if title in html}
    assert seen == {"sixth-buyer.html", "key.html"}


def test_each_sheet_says_what_its_file_says():
    """Each letter has its sheet; price, lift and speed stand there as written."""
    html = unescape(pages()["sheets.html"])
    parts = re.split(r'<p class="letter">([A-H])</p>', html)[1:]
    sheets = dict(zip(parts[::2], parts[1::2], strict=True))
    assert sorted(sheets) == list("ABCDEFGH")
    for letter, machine in zip("ABCDEFGH", own_pack().machines, strict=True):
        for figure in (machine.price, machine.heaviest_lift, *machine.speed.values()):
            assert f"<td>{figure.text}</td><td>{figure.basis}</td>" in sheets[letter]


def test_each_buyer_has_what_decides():
    """A buyer's paper holds what people lift, cash, each job, and what eyes notice."""
    html = unescape(pages()["buyers.html"])
    for brief in own_pack().buyers[:5]:
        assert brief.title in html
        assert f"<td>{brief.crew.lift_limit.text}</td>" in html
        assert f"<td>{brief.money.cash.text}</td>" in html
        for job in brief.work:
            assert f"<h3>{job.name}</h3>" in html
    assert "clients notice nothing finer than" in html


def test_the_key_says_what_the_engine_says():
    """The key names each buyer's leader, its share, and the line of reasoning."""
    html = unescape(pages()["key.html"])
    for each in own_solved():
        letter = "ABCDEFGH"[each.leader]
        assert f"<h1>{each.title}: {letter}</h1>" in html
        share = f"{100 * each.first[each.leader]:.0f} % of draws"
        assert f"{letter} comes first in {share}" in html
    assert html.count("Smallest change: ") > 5
    assert "build: " in html and "print: " in html
    for question in own_pack().plan.questions:
        assert f"<b>{question.choices[question.right - 1]}.</b>" in html


def test_each_envelope_can_be_cut():
    """Each envelope has its test outside and its result inside."""
    html = unescape(pages()["envelopes.html"])
    for envelope in own_pack().plan.visit.envelopes:
        assert html.index(envelope.test) < html.index(envelope.says)
    assert html.count('class="cut"') == len(own_pack().plan.visit.envelopes)


def test_nothing_in_a_hand_out_runs(tmp_path):
    """Markup in a pack's words is shown as text; nothing is loaded."""
    bad = "<script>alert(1)</script><img src=x onerror=alert(1)>"
    old = "title: The same machines, other buyers"
    folder = spoilt(tmp_path, "pack.yaml", (old, f"title: '{bad}'"))
    brief = folder / "buyers" / "yard-walls.yaml"
    text = brief.read_text("utf-8").replace("Yard walls in Kettleford", f"'{bad}'")
    brief.write_text(text, "utf-8")
    pack = load_pack(folder)
    for html in handouts(pack, solved(pack, 200), own_checked().firm).values():
        assert not re.search(r"<(script|img|link|iframe|object)\b", html)
        assert "default-src 'none'" in html
        assert not re.search(r"<[^>]*\b(src|href|on\w+)\s*=", html)
    assert bad in unescape(html)


def test_all_papers_are_there():
    """Scenario, sheets, buyers, the sixth, forms, envelopes, key: seven pages."""
    names = {"scenario", "sheets", "buyers", "sixth-buyer", "forms", "envelopes", "key"}
    assert set(pages()) == {f"{name}.html" for name in names}


def test_a_folder_that_is_none(tmp_path):
    """Hand-outs are not written where a file stands, nor below it."""
    file = tmp_path / "file"
    file.write_text("x")
    for out in (file, file / "below"):
        with pytest.raises(ScoringError, match="is no folder"):
            check_folder(out)


def book_of(data):
    return openpyxl.load_workbook(io.BytesIO(data))


def test_no_cell_runs_a_nickname(store):
    """In the workbook each hostile nickname is text with a quote prefix."""
    room = open_room(store, own_pack())
    run_through(store, room, names=HOSTILE, until="first_guess")
    data = results_workbook(room.code, room.key, store)
    people = book_of(data)["People"]
    assert [row[0].value for row in people.iter_rows(min_row=2)] == HOSTILE
    for sheet in book_of(data):
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type != "f", (sheet.title, cell.value)
                if isinstance(cell.value, str) and cell.value[0] in "=+-@\t\r":
                    assert cell.quotePrefix
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        for name in archive.namelist():
            assert b"<f>" not in archive.read(name), name


def test_the_workbook_of_a_class(store):
    """24 people through all stages: every answer is in it, and the room's measures."""
    room = open_room(store, own_pack())
    run_through(store, room)
    book = book_of(results_workbook(room.code, room.key, store))
    answers = list(book["Answers"].iter_rows(min_row=2, values_only=True))
    # 24 people: 10 at the first guess, 4, 1, 4, 1 and 9 at the debrief
    assert len(answers) == 24 * (10 + 4 + 1 + 4 + 1 + 9)
    order = next(a[4] for a in answers if a[3] == "ranks")
    assert sorted(order.split()) == list("ABCDEFGH")
    told = {row[0]: row[1:] for row in book["Room"].iter_rows(values_only=True)}
    assert told["room"][0] == room.code
    assert told["right before, %"][1] == 24
    assert 0 <= told["swaps foreseen"][0] <= 1 and told["swaps foreseen"][1] == 96
    assert len(list(book["Teams"].iter_rows(min_row=2))) == 5


def test_results_by_the_command(store, url, tmp_path, monkeypatch):
    """`workshop results` wants the key; a wrong one gets a sentence and no file."""
    room = open_room(store, own_pack())
    monkeypatch.setenv("MURAL_ROOMS", url)
    out = tmp_path / "room.xlsx"
    command = ["workshop", "results", room.code, "--out", str(out)]
    outcome = CliRunner().invoke(main, command, input="wrong\n")
    assert outcome.exit_code == 2 and not out.exists()
    assert "code and key do not belong together" in outcome.stderr
    outcome = CliRunner().invoke(main, command, input=f"{room.key}\n")
    assert outcome.exit_code == 0, outcome.output
    assert room.key not in outcome.output
    assert book_of(out.read_bytes())["Room"]["B3"].value == room.code
