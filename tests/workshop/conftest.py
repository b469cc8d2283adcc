"""Stores to test with: SQLite in a folder of its own, and a real PostgreSQL."""

import pytest

from scoring.workshop import tables
from scoring.workshop.rooms import open_room
from scoring.workshop.store import open_store
from tests import once
from tests.workshop import postgres
from tests.workshop.packs import own_pack


class Clock:
    """A clock that is set by hand."""

    def __init__(self):
        self.now = 1_800_000_000.0

    def __call__(self):
        return self.now


@pytest.fixture(scope="module", autouse=True)
def equal_buyers_are_evaluated_once():
    """Let a copy of a pack cost no more than what is changed in it."""
    with pytest.MonkeyPatch.context() as patch:
        once.for_packs(patch)
        yield


@pytest.fixture(scope="session")
def postgres_url():
    """The URL of a PostgreSQL; skips, with the reason, where there is none."""
    if reason := postgres.why_not():
        pytest.skip(reason)
    with postgres.running() as url:
        yield url


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request, tmp_path):
    """The URL of an empty store."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'rooms.sqlite'}"
    found = request.getfixturevalue("postgres_url")
    store = open_store(found)
    tables.metadata.drop_all(store.engine)
    store.engine.dispose()
    return found


@pytest.fixture
def clock():
    """A clock that the test sets."""
    return Clock()


@pytest.fixture
def store(url, clock):
    """An empty store."""
    found = open_store(url, clock)
    yield found
    found.engine.dispose()


@pytest.fixture
def room(store):
    """A room that was just opened with our own pack."""
    return open_room(store, own_pack())
