"""What the tests of the screens share: half of the demo's machines."""

import shutil

import pytest
from streamlit.components.v2 import manifest_scanner
from streamlit.runtime.scriptrunner.script_cache import ScriptCache
from streamlit.testing.v1 import app_test, local_script_runner

from tests import once
from tests.cases import PROFILES
from tests.page.pages import HALF, HALF_DRAWS


@pytest.fixture(scope="session", autouse=True)
def one_look_at_what_never_changes():
    """Let the test harness read the installed packages and the page's files once.

    It would search all packages for components, and compile the files, for each page
    and each run: half of the time that a test of a screen took.
    """
    scripts = ScriptCache()
    found = manifest_scanner.scan_component_manifests()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(manifest_scanner, "scan_component_manifests", lambda: found)
        for module in (app_test, local_script_runner):
            patch.setattr(module, "ScriptCache", lambda: scripts)
        yield


@pytest.fixture(scope="module", autouse=True)
def equal_cases_are_evaluated_once():
    """Let a case that was shown before be shown without a run of the model."""
    with pytest.MonkeyPatch.context() as patch:
        once.for_screens(patch)
        once.for_packs(patch)
        yield


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
    """Let the page show half of the machines, from few draws: a third of the time.

    A screen as it opens is tested on the whole demo.
    """
    monkeypatch.setenv("MURAL_PROFILES", str(half_profiles))
    monkeypatch.setenv("MURAL_DRAWS", str(HALF_DRAWS))
