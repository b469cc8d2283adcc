"""Only ordinary files are read, and those that a brief names lie in its folder.

Kinds of files and what opening them does: POSIX.1-2017, `open` and `<sys/stat.h>`.
"""

import os
import sys
import time

import pytest
from click.testing import CliRunner

from scoring.commands import main
from scoring.errors import InputFaults, ScoringError
from scoring.inputs.brief_files import load_brief
from scoring.inputs.decision_table import load_table
from scoring.inputs.files import read_bytes, stamp
from scoring.inputs.leads_file import load_leads
from scoring.inputs.machine_folder import load_machines, read_machine
from scoring.inputs.picture_file import load_artwork
from tests.cases import brief, machine

posix = pytest.mark.skipif(sys.platform == "win32", reason="no such files there")
SECRET = "a-word-that-nobody-may-see"
READERS = (read_machine, load_brief, load_table, load_leads, load_artwork)
LONG = "a" * 5_000


def run(*words):
    """Return exit code and standard error of a command, which comes quickly."""
    begun = time.monotonic()
    outcome = CliRunner().invoke(main, words)
    assert time.monotonic() - begun < 5
    assert outcome.exception is None or isinstance(outcome.exception, SystemExit)
    return outcome.exit_code, outcome.stderr


@pytest.fixture
def pipe(tmp_path):
    """Return a pipe to which nobody writes: whoever opens it plainly waits for ever."""
    os.mkfifo(tmp_path / "pipe.yaml")
    return str(tmp_path / "pipe.yaml")


@posix
@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("device", ["/dev/zero", "/dev/null", "/dev/tty"])
def test_devices_are_not_read(read, device):
    """A device has no end, or no content; each reader refuses it by its kind."""
    if not os.path.exists(device):
        pytest.skip("no such device here")
    with pytest.raises(InputFaults, match="is a device or a pipe, not an ordinary"):
        read(device)


@posix
@pytest.mark.parametrize("read", READERS)
def test_pipes_are_not_waited_for(read, pipe):
    """A pipe without a writer is refused, not waited for."""
    with pytest.raises(InputFaults, match="is a device or a pipe, not an ordinary"):
        read(pipe)


@posix
def test_a_link_to_a_device_is_a_device(tmp_path):
    """What a link leads to counts, not the link."""
    (tmp_path / "a.yaml").symlink_to("/dev/zero")
    with pytest.raises(InputFaults, match="is a device or a pipe"):
        read_machine(tmp_path / "a.yaml")


@posix
def test_what_has_no_size_is_read_up_to_the_limit():
    """Files that tell 0 bytes and hold more, as in /proc, are cut at the limit."""
    if not os.path.exists("/proc/self/maps"):
        pytest.skip("no such file here")
    with pytest.raises(InputFaults, match="MB large"):
        read_bytes("/proc/self/maps", 10, "a YAML file")


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize(
    ("path", "what"),
    [
        (LONG, "cannot be read: File name too long"),
        ("a\0b", "cannot be read: the path is none"),
        ("a.yaml/b.yaml", "there is no such file"),
        (".", "is a folder, not a file"),
    ],
    ids=["long", "NUL", "below a file", "folder"],
)
def test_a_path_that_is_none_gets_a_sentence(read, path, what, tmp_path, monkeypatch):
    """Too long, a NUL in it, below a file, a folder: a short sentence each."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.yaml").write_text("a: b")
    with pytest.raises(InputFaults) as raised:
        read(path)
    [fault] = raised.value.faults
    assert fault.what.startswith(what.partition(":")[0])
    assert sys.platform == "win32" or fault.what == what
    assert len(str(fault)) < 500


@posix
@pytest.mark.parametrize("command", ["rank", "check", "table", "job", "firm"])
@pytest.mark.parametrize("path", ["/dev/zero", LONG, "PIPE", "FOLDER"])
def test_commands_end_with_a_sentence(command, path, pipe, tmp_path):
    """Whatever a path leads to, a command says so and ends with 2."""
    (tmp_path / "x.yaml").mkdir()
    path = path.replace("PIPE", pipe).replace("FOLDER", str(tmp_path / "x.yaml"))
    more = ["--machine", "a"] if command == "job" else []
    code, said = run(command, path, *more)
    assert code == 2
    assert len(said.splitlines()) == 1 and "output:" not in said
    kinds = ("is a device or a pipe", "is a folder", "too long", "there is no such")
    assert any(kind in said for kind in (*kinds, "no YAML file"))


@posix
@pytest.mark.parametrize("path", ["/dev/zero", LONG, "PIPE", "EMPTY"])
def test_folders_of_machines_that_are_none(path, pipe, tmp_path):
    """`--machines` takes a folder; a device, a pipe and an empty one are told of."""
    (tmp_path / "empty").mkdir()
    path = path.replace("PIPE", pipe).replace("EMPTY", str(tmp_path / "empty"))
    code, said = run("rank", "profiles/briefs/workshop.yaml", "--machines", path)
    assert code == 2
    assert len(said.splitlines()) == 1 and "output:" not in said


@posix
@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="root reads")
def test_a_file_without_leave_to_read(tmp_path):
    """A file that this person may not read gets a sentence, in `check` too."""
    path = tmp_path / "a.yaml"
    path.write_text("a: b")
    path.chmod(0)
    code, said = run("check", str(path))
    assert code == 2 and "cannot be read: Permission denied" in said


def test_a_file_that_fails_while_it_is_opened(tmp_path, monkeypatch):
    """Whatever the system says against opening a file stands in the sentence."""
    path = tmp_path / "a.yaml"
    path.write_text("a: b")

    def refuse(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("scoring.inputs.files.os.open", refuse)
    code, said = run("check", str(path))
    assert code == 2
    assert said.strip() == f"{path}:1: cannot be read: Permission denied; a YAML file"


@posix
def test_names_that_begin_with_a_point_are_left_out(tmp_path):
    """What editors and computers leave beside a sheet is no sheet."""
    (tmp_path / "a.yaml").write_text(machine().text, encoding="utf-8")
    (tmp_path / ".#a.yaml").symlink_to("somebody@somewhere.1234")
    (tmp_path / "._a.yaml").write_bytes(b"\0\5\x16\7\0\2\0\0Mac OS X        ")
    (tmp_path / ".hidden").mkdir()
    (tmp_path / ".hidden" / "b.yaml").write_text("no sheet")
    (tmp_path / "folder.yaml").mkdir()
    assert len(load_machines(tmp_path)) == 1
    assert run("check", str(tmp_path))[0] == 0


@posix
def test_a_link_to_nowhere_gets_a_sentence(tmp_path):
    """A dangling link is told of by its name; the page's look at times survives it."""
    (tmp_path / "a.yaml").symlink_to(tmp_path / "gone.yaml")
    with pytest.raises(InputFaults, match="a.yaml:1: there is no such file"):
        load_machines(tmp_path)
    assert stamp(tmp_path / "a.yaml") == (str(tmp_path / "a.yaml"), 0, 0)


@posix
def test_links_in_a_ring_get_a_sentence(tmp_path):
    """Two links that lead to each other lead nowhere."""
    (tmp_path / "a.yaml").symlink_to(tmp_path / "b.yaml")
    (tmp_path / "b.yaml").symlink_to(tmp_path / "a.yaml")
    with pytest.raises(InputFaults, match="cannot be read"):
        load_machines(tmp_path)
    assert run("check", str(tmp_path))[0] == 2


def test_a_folder_holds_fifty_sheets(tmp_path):
    """More than fifty machines are no choice; a folder of a thousand is refused."""
    for k in range(51):
        (tmp_path / f"{k}.yaml").write_text("x")
    with pytest.raises(ScoringError) as raised:
        load_machines(tmp_path)
    assert str(raised.value) == f"{tmp_path}: holds 51 files *.yaml; 50 or fewer"


OUTSIDE = "is not in the brief's folder; a file there, or in a folder below it"
MISSING = "there is no such file"
ELSEWHERE = {
    "up": ("../secret.csv", OUTSIDE),
    "up and down": ("below/../../secret.csv", OUTSIDE),
    "absolute": ("ABSOLUTE", OUTSIDE),
    "link": ("link.csv", OUTSIDE),
    "folder that is a link": ("linked/secret.csv", OUTSIDE),
    "device": ("/dev/zero", OUTSIDE),
    "itself": (".", OUTSIDE),
    "ring of links": ("ring.csv", OUTSIDE),
    "NUL": ('"a\\0b"', "a character that cannot be seen"),
    "deep": ("a/" * 900, MISSING),
    "long": ("a" * 1900, "cannot be read: File name too long"),
    "home": ("~/secret.csv", MISSING),
    "another system's": ("..\\secret.csv", MISSING),
}


@posix
@pytest.mark.parametrize("name", ELSEWHERE)
@pytest.mark.parametrize("key", ["leads", "artwork"])
def test_a_brief_reads_nothing_outside_its_folder(key, name, tmp_path):
    """A file outside is refused unread: nothing of it stands in any sentence."""
    (tmp_path / "secret.csv").write_text(f"{SECRET},{SECRET}\n{SECRET},1\n")
    folder = tmp_path / "briefs"
    folder.mkdir()
    (folder / "link.csv").symlink_to(tmp_path / "secret.csv")
    (folder / "linked").symlink_to(tmp_path)
    (folder / "ring.csv").symlink_to(folder / "ring.csv")
    path, what = ELSEWHERE[name]
    path = path.replace("ABSOLUTE", str(tmp_path / "secret.csv"))
    (folder / "b.yaml").write_text(naming(key, path), encoding="utf-8")
    with pytest.raises(InputFaults) as raised:
        load_brief(folder / "b.yaml")
    said = str(raised.value)
    assert len(said.splitlines()) == 1 and SECRET not in said
    assert what in said and len(said) < 1_000


def naming(key, path):
    """Return a brief that names a file."""
    text = brief().text
    if key == "leads":
        return f"{text}\nleads: {path}\n"
    return text.replace("passes: 4", f"passes: 4\n    artwork: {path}", 1)


def test_a_brief_reads_files_in_its_folder_and_below(tmp_path):
    """Files beside it and in a folder below are its own, by whatever way."""
    head = "job,probability,month,basis\n"
    (tmp_path / "below").mkdir()
    for place in ("leads.csv", "below/leads.csv"):
        lead = f"{brief().work[0].name},100 %,2026-11,sold\n"
        (tmp_path / place).write_text(head + lead, encoding="utf-8")
    for path in ("leads.csv", "below/leads.csv", "below/../leads.csv", "./leads.csv"):
        (tmp_path / "b.yaml").write_text(naming("leads", path), encoding="utf-8")
        assert len(load_brief(tmp_path / "b.yaml").leads_read) == 1
