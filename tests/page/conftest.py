"""What the tests of the screens share: half of the demo's machines."""

import shutil

import pytest

from tests.cases import PROFILES
from tests.page.pages import HALF


@pytest.fixture(scope="session")
def half_profiles(tmp_path_factory):
    """A folder of the demo's briefs and half of its machines."""
    folder = tmp_path_factory.mktemp("profiles")
    shutil.copytree(PROFILES / "briefs", folder / "briefs")
    (folder / "machines").mkdir()
    for name in HALF:
        sheet = f"{name.lower().replace(' ', '-')}.yaml"
        shutil.copy(PROFILES / "machines" / sheet, folder / "machines")
    return folder


@pytest.fixture
def half(half_profiles, monkeypatch):
    """Let the page show half of the machines: what a screen says takes half the time.

    A screen as it opens is tested on the whole demo.
    """
    monkeypatch.setenv("MURAL_PROFILES", str(half_profiles))
