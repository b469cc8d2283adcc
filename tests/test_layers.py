"""Who may import whom: the rows of the house, checked on the source itself."""

import ast
import re
import sys
from graphlib import CycleError, TopologicalSorter
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parents[1]
NUMPY = frozenset({"numpy"})
OURS = r"scoring(\.\w+)+"


class Row(NamedTuple):
    """A file's place: it imports from lower rows and from its own folder only."""

    row: float
    third_party: frozenset = NUMPY


def row(number, *third_party):
    return Row(number, NUMPY | set(third_party))


# A name that ends in a slash is a folder. `inputs/`, `model/` and `decision/` share a
# row, so none of them may import another; so do the folders of each later row.
TABLE = {
    "scoring/errors.py": Row(0, frozenset()),
    "scoring/inputs/": row(
        1,
        "yaml",
        "ruamel",
        "pydantic",
        "pydantic_core",
        "pint",
        "PIL",
        "python_calamine",
        "vl_convert",
    ),
    "scoring/model/": row(1, "scipy", "numpy_financial"),
    "scoring/decision/": row(1, "scipy"),
    "scoring/evidence/": row(2, "scipy"),
    "scoring/answer/": row(3),
    "scoring/__init__.py": row(3.5),  # the public names, imported when asked for
    "scoring/questions/": row(4),
    "scoring/population/": row(4.5, "pydantic", "pyarrow", "sklearn", "distributed"),
    "scoring/words/": row(5),
    "scoring/records/": row(6),
    "scoring/charts/": row(6, "pandas"),
    "scoring/text/": row(7),
    "scoring/report/": row(7, "jinja2", "markupsafe", "openpyxl", "vl_convert"),
    "scoring/workshop/": row(
        7.5, "pydantic", "sqlalchemy", "jinja2", "openpyxl", "platformdirs", "segno"
    ),
    "scoring/command_faults.py": row(7.6, "click"),
    "scoring/command_options.py": row(7.65, "click"),
    "scoring/commands_workshop.py": row(7.7, "click"),
    "scoring/commands_next.py": row(7.7, "click"),
    "scoring/commands_log.py": row(7.7, "click"),
    "scoring/commands_population.py": row(7.7, "click"),
    "scoring/page/": row(8, "streamlit", "platformdirs"),
    "scoring/commands.py": row(8, "click"),
    "scoring/__main__.py": row(9),
    "app.py": row(9, "streamlit"),
}


def place(file):
    """Return the table's entry for a file, its own or its folder's; None if missing."""
    if file in TABLE:
        return file
    folders = [name for name in TABLE if name.endswith("/") and file.startswith(name)]
    return folders[0] if folders else None


def sources(root):
    """Return the files that the table must cover, with / between folders."""
    files = sorted((root / "scoring").rglob("*.py")) + sorted(root.glob("*.py"))
    return [file.relative_to(root).as_posix() for file in files]


def file_of(module, files):
    """Return the file behind a dotted name of ours, which may end inside the file."""
    parts = module.split(".")
    for end in range(len(parts), 0, -1):
        base = "/".join(parts[:end])
        for candidate in (f"{base}.py", f"{base}/__init__.py"):
            if candidate in files:
                return candidate
    return None


def modules(tree, package):
    """Yield every dotted name that a file imports, inside functions too.

    A text that spells out one of our modules counts, since `import_module` takes texts.
    """
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package[: len(package) - node.level + 1] if node.level else []
            start = ".".join([*above, *filter(None, [node.module])])
            yield from (f"{start}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Call) and "import" in ast.unparse(node.func):
            named = [a.value for a in node.args[:1] if isinstance(a, ast.Constant)]
            yield from (name for name in named if isinstance(name, str))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            if re.fullmatch(OURS, node.value):
                yield node.value
            yield from imported_by_text(node.value)


def imported_by_text(text):
    """Yield what a text imports that is a program, such as one for `python -c`."""
    if not re.search(r"\bimport\b", text):
        return
    try:
        yield from modules(ast.parse(text), [])
    except SyntaxError:
        return  # prose


def imports(root, file, files):
    """Return (files of ours, names of others) that one file imports."""
    tree = ast.parse((root / file).read_text(encoding="utf-8"))
    ours, others = set(), set()
    for module in modules(tree, file.split("/")[:-1]):
        top = module.split(".")[0]
        if top not in ("scoring", "app"):
            others.add(top)
            continue
        found = file_of(module, files)
        if found and found != file:
            ours.add(found)
    return ours, others - sys.stdlib_module_names


def faults(root):
    """Return a sentence for each break of the table, [] for a tree that keeps it."""
    files = sources(root)
    graph, said = {}, []
    for file in files:
        here = place(file)
        if here is None:
            said.append(f"{file} has no row in the table")
            continue
        ours, others = imports(root, file, files)
        graph[file] = ours
        allowed = TABLE[here].third_party
        said += [f"{file} may not import {name}" for name in sorted(others - allowed)]
        for target in sorted(ours):
            there = place(target)
            within = here == there and here.endswith("/")
            if there and not within and TABLE[there].row >= TABLE[here].row:
                said.append(f"{file} may not import {target}")
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        said.append("a ring of imports: " + " → ".join(error.args[1]))
    return said


def test_every_file_keeps_to_its_row():
    """Each file of the toolkit imports only from rows above it, and has a row."""
    assert faults(ROOT) == []


def test_the_check_reads_the_whole_toolkit():
    """The files checked are those on disk, and their imports are really found."""
    files = sources(ROOT)
    assert {"scoring/__init__.py", "scoring/__main__.py", "app.py"} <= set(files)
    evaluation = "scoring/answer/evaluation.py"
    ours, others = imports(ROOT, evaluation, files)
    assert {"scoring/errors.py", "scoring/inputs/together.py"} <= ours
    assert others == {"numpy"}
    assert evaluation in imports(ROOT, "scoring/__init__.py", files)[0]
    assert "vl_convert" in imports(ROOT, "scoring/inputs/svg_drawer.py", files)[1]


def test_a_name_means_one_thing():
    """No class bears the name of another: the reader would have to ask which."""
    places = {}
    for name in sources(ROOT):
        for node in ast.walk(ast.parse((ROOT / name).read_text("utf-8"))):
            if isinstance(node, ast.ClassDef):
                places.setdefault(node.name, []).append(name)
    assert {name: of for name, of in places.items() if len(of) > 1} == {}


def test_a_tree_that_keeps_the_table_has_no_faults(tmp_path):
    """Downward, within a folder and standard-library imports are all allowed."""
    plant(
        tmp_path,
        {
            "scoring/errors.py": "import dataclasses",
            "scoring/model/money.py": "from scoring.errors import ScoringError",
            "scoring/model/year.py": "from . import money\nimport scipy.stats",
            "scoring/answer/run.py": "from scoring.model import year",
            "scoring/page/why.py": "import scoring.answer.run\nimport streamlit",
            "app.py": "from scoring.page import ranking",
        },
    )
    assert faults(tmp_path) == []


VIOLATIONS = {
    "upwards": (
        {
            "scoring/model/a.py": "from scoring.answer import run",
            "scoring/answer/run.py": "",
        },
        ["scoring/model/a.py may not import scoring/answer/run.py"],
    ),
    "sideways": (
        {"scoring/decision/a.py": "import scoring.model.b", "scoring/model/b.py": ""},
        ["scoring/decision/a.py may not import scoring/model/b.py"],
    ),
    "model reads inputs, inside a function": (
        {
            "scoring/model/a.py": "def f():\n    from scoring.inputs.b import c",
            "scoring/inputs/b.py": "",
        },
        ["scoring/model/a.py may not import scoring/inputs/b.py"],
    ),
    "relative": (
        {"scoring/model/a.py": "from ..decision import b", "scoring/decision/b.py": ""},
        ["scoring/model/a.py may not import scoring/decision/b.py"],
    ),
    "by name": (
        {
            "scoring/model/a.py": "import_module('scoring.words.verdict')",
            "scoring/words/verdict.py": "",
        },
        ["scoring/model/a.py may not import scoring/words/verdict.py"],
    ),
    "public names from below": (
        {
            "scoring/inputs/a.py": "from scoring import evaluate",
            "scoring/__init__.py": "",
        },
        ["scoring/inputs/a.py may not import scoring/__init__.py"],
    ),
    "streamlit outside the page": (
        {"scoring/words/verdict.py": "def f():\n    import streamlit as st"},
        ["scoring/words/verdict.py may not import streamlit"],
    ),
    "click outside the command line": (
        {"scoring/text/ranking.py": "from click import echo"},
        ["scoring/text/ranking.py may not import click"],
    ),
    "scipy in the evaluation": (
        {"scoring/answer/run.py": "import scipy.stats"},
        ["scoring/answer/run.py may not import scipy"],
    ),
    "pandas in a model": (
        {"scoring/model/a.py": "__import__('pandas')"},
        ["scoring/model/a.py may not import pandas"],
    ),
    "pandas in a program that is a text": (
        {"scoring/model/a.py": "CODE = 'import pandas; print(1)'"},
        ["scoring/model/a.py may not import pandas"],
    ),
    "words before questions": (
        {
            "scoring/questions/a.py": "from scoring.words import b",
            "scoring/words/b.py": "",
        },
        ["scoring/questions/a.py may not import scoring/words/b.py"],
    ),
    "errors import nothing": (
        {"scoring/errors.py": "import numpy"},
        ["scoring/errors.py may not import numpy"],
    ),
    "a file without a row": (
        {"scoring/utils.py": ""},
        ["scoring/utils.py has no row in the table"],
    ),
    "a second file beside app.py": (
        {"run.py": "", "scoring/errors.py": ""},
        ["run.py has no row in the table"],
    ),
}


@pytest.mark.parametrize("name", VIOLATIONS)
def test_each_kind_of_violation_is_found(name, tmp_path):
    """A tree with one fault gets exactly the sentence for that fault."""
    files, sentences = VIOLATIONS[name]
    plant(tmp_path, files)
    assert faults(tmp_path) == sentences


def test_a_ring_within_a_folder_is_found(tmp_path):
    """Two files of one folder that import each other are told of, as a ring."""
    plant(
        tmp_path,
        {
            "scoring/model/a.py": "from scoring.model import b",
            "scoring/model/b.py": "def f():\n    from scoring.model import a",
        },
    )
    (sentence,) = faults(tmp_path)
    assert sentence.startswith("a ring of imports: ")
    assert "scoring/model/a.py → scoring/model/b.py" in sentence


def plant(root, files):
    """Write a small tree of sources."""
    for name, text in files.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, encoding="utf-8")
