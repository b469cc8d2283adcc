"""The map of DEVELOPERS.md names every file and every folder."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[1]
SCORING = ROOT / "scoring"
# They only keep names that are known outside, and are told of below the map.
KEPT_NAMES = {"robustness", "sensitivity"}


def drawn_map():
    """Return the lines of the map, the first block of the page."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    return re.search(r"^```\n(.*?)^```", text, re.DOTALL | re.MULTILINE)[1]


def test_every_file_is_on_the_map():
    """Who looks for a file by its folder's line finds its name there."""
    words = set(re.findall(r"\w+", drawn_map())) | KEPT_NAMES
    files = [path for path in SCORING.rglob("*.py") if path.stem != "__init__"]
    lacking = [path for path in files if path.stem not in words]
    assert not [str(path.relative_to(ROOT)) for path in sorted(lacking)]


def test_every_folder_is_on_the_map():
    """Each folder of code has a line, or part of one, of its own."""
    drawn = drawn_map()
    folders = {path.parent for path in SCORING.rglob("*.py")} - {SCORING}
    assert not [path.name for path in sorted(folders) if f"{path.name}/" not in drawn]
