"""Small faults planted one by one: do the tests see them?

    python -m tests.planted                 all of them
    python -m tests.planted --only price    those whose words or file hold "price"
    python -m tests.planted --list          run nothing, say which no longer match
    python -m tests.planted --map FILE      keep what reaches what for the next run

Nothing is changed here: each fault is planted in a copy of the tree. First every test
file runs once without a fault, which says which functions it reaches and how long it
takes; then each fault is looked for by those that reach its function, the nearest and
quickest first. A text that is no longer found, or found twice, is said, so that the
list does not rot.
"""

import argparse
import compileall
import json
import os
import shutil
import sys
import tempfile
import time
from pathlib import Path

from tests.planted import FAULTS, ROOT, matches
from tests.planted.fault import function_of, nearness
from tests.planted.forked import load_libraries, ran
from tests.planted.reached import marked, watch

COPIED = ("scoring", "tests", "profiles", "app.py", "README.md", ".pytest.ini")
COPIED += ("DEVELOPERS.md", ".streamlit", "requirements.txt", ".ci", ".ruff.toml")
COPIED += (".readme", ".gitignore")
APART = ("browser/", "hardness/", "benchmarks/", "test_planted.py")
ENOUGH = 0.9  # of the faults must be caught
PATIENCE_S = 300
TRIED_S = 80  # of processor time of tests, without a fault, against one fault
FIRST_S = (8, 25)  # what is run together, before more is


def main():
    """Plant each fault, run its tests, print what was caught; exit 1 if too few."""
    options = read_options()
    chosen = [
        fault for fault in FAULTS if options.only in f"{fault.words} {fault.file}"
    ]
    if options.list:
        listed(chosen)
    begun = time.monotonic()
    load_libraries()
    with tempfile.TemporaryDirectory() as folder:
        copy = copied(Path(folder) / "tree")
        known = mapped(copy, options.map)
        print(f"mapped after {time.monotonic() - begun:.0f} s", flush=True)
        caught = [told(copy, fault, known) for fault in chosen]
    times = os.times()
    spent = sum((times.user, times.system, times.children_user, times.children_system))
    took = f"{time.monotonic() - begun:.0f} s, {spent:.0f} s of processor time"
    print(f"{sum(caught)} of {len(caught)} caught in {took}")
    sys.exit(sum(caught) < ENOUGH * len(caught))


def read_options():
    """Return the options of the command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--only", default="", metavar="WORD")
    parser.add_argument("--map", type=Path, metavar="FILE")
    parser.add_argument("--list", action="store_true", help="run no tests")
    return parser.parse_args()


def listed(faults):
    """Print each fault and whether its text is still found; exit 1 if one is not."""
    stale = [fault for fault in faults if not matches(fault)]
    for fault in faults:
        state = "STALE  " if fault in stale else "matches"
        print(f"  {state} {fault.words} ({fault.file})")
    print(f"{len(faults) - len(stale)} of {len(faults)} match")
    sys.exit(bool(stale))


def copied(copy):
    """Return the folder with a copy of the tree, compiled."""
    copy.mkdir()
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            apart = shutil.ignore_patterns("__pycache__")
            shutil.copytree(source, copy / name, ignore=apart)
        elif source.exists():
            shutil.copy2(source, copy / name)
    compileall.compile_dir(copy / "scoring", quiet=2)
    return copy


def test_files(copy):
    """Return the paths below tests/ of all files that look for faults."""
    found = sorted((copy / "tests").rglob("test_*.py"))
    paths = [path.relative_to(copy / "tests").as_posix() for path in found]
    return [path for path in paths if not path.startswith(APART)]


def mapped(copy, kept):
    """Return {test file: (seconds, functions that it reaches)}.

    Ends with a sentence if a test fails without any fault: it would catch all.
    """
    known = json.loads(kept.read_text()) if kept and kept.exists() else {}
    files = test_files(copy)
    codes = marked(copy / "scoring") if set(files) - set(known) else {}
    for test in files:
        if test not in known:
            known[test] = tried(copy, test, codes)
            if kept:
                kept.write_text(json.dumps(known))
    return {test: known[test] for test in files}


def tried(copy, test, codes):
    """Return (seconds, functions reached) of one test file."""
    out = copy.parent / "reached.txt"
    out.unlink(missing_ok=True)
    found = ran(copy, [test], 2 * PATIENCE_S, lambda: watch(codes, out))
    if found.code not in (0, 5):  # 5: all of its tests are slow or want a browser
        print(found.said[-3000:])
        sys.exit(f"{test} ({found.code}) fails without any fault; mend that first")
    reached = out.read_text().split("\n") if out.exists() else []
    return found.seconds, sorted({*reached} - {""})


def told(copy, fault, known):
    """Return whether a fault is caught, and print it with the test that did."""
    if not matches(fault, copy):
        print(f"  STALE    {fault.words} ({fault.file})", flush=True)
        return False
    file = copy / "scoring" / fault.file
    text, times = file.read_text(encoding="utf-8"), file.stat()
    place = function_of(fault, copy)
    file.write_text(text.replace(fault.right, fault.wrong), encoding="utf-8")
    begun = time.monotonic()
    try:
        by, of = looked_for(copy, fault, place, known)
    finally:
        file.write_text(text, encoding="utf-8")
        os.utime(file, ns=(times.st_atime_ns, times.st_mtime_ns))
    state = "caught  " if by else "SURVIVED"
    spent = f"{time.monotonic() - begun:.0f} s"
    print(f"  {state} {fault.words} ({spent}; {by or of})", flush=True)
    return bool(by)


def looked_for(copy, fault, place, known):
    """Return (the test that catches a fault, or nothing; how many were tried)."""
    reaching = [test for test in known if place in known[test][1]]
    tests = reaching or list(known)
    tests.sort(key=lambda test: (nearness(fault, test), known[test][0]))
    n_tried = 0
    for group in groups(tests, known):
        found = ran(copy, group, PATIENCE_S, quietly)
        n_tried += len(group)
        if found.code == 1:
            return found.failed or "a test", ""
        if found.code not in (0, 5):
            print(f"no end after {PATIENCE_S} s" if found.code is None else found.said)
    how = "reach it" if reaching else "there are"
    return "", f"{n_tried} tried of {len(tests)} test files that {how}"


def quietly():
    """Leave no compiled file of a faulty one behind."""
    sys.dont_write_bytecode = True


def groups(tests, known):
    """Return test files in the groups that run together, up to all that is tried."""
    found, spent = [[]], 0.0
    for test in tests:
        spent += known[test][0]
        if spent > TRIED_S and found[0]:
            break
        if found[-1] and any(spent - known[test][0] <= at < spent for at in FIRST_S):
            found.append([])
        found[-1].append(test)
    return found


if __name__ == "__main__":
    main()
