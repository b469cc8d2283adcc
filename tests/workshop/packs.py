"""The pack that comes with the toolkit, and copies of it with a change."""

import shutil
from functools import cache

from scoring.workshop.pack_check import checked
from scoring.workshop.pack_files import load_pack
from tests.cases import PROFILES, edited

OWN = PROFILES / "workshops" / "other-buyers"


@cache
def own_pack():
    """Return the Pack that comes with the toolkit."""
    return load_pack(OWN)


@cache
def own_checked():
    """Return its Checked: what the engine made of it."""
    return checked(own_pack())


def own_solved():
    """Return the Solved of its buyers."""
    return own_checked().found


def spoilt(folder, file, *edits):
    """Copy the pack into a folder with (old, new) texts of one file changed."""
    shutil.copytree(OWN, folder, dirs_exist_ok=True)
    shutil.copytree(PROFILES / "machines", folder / "machines", dirs_exist_ok=True)
    plan = folder / "pack.yaml"
    text = plan.read_text("utf-8").replace("../../machines", "machines")
    plan.write_text(text, "utf-8")
    changed = folder / file
    changed.write_text(edited(changed.read_text("utf-8"), edits), "utf-8")
    return folder
