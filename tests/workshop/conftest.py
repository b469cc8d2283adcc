"""Stores to test with: SQLite in a folder of its own, and a real PostgreSQL."""

import pytest
from sqlalchemy import event

from scoring.workshop import keys, tables
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
def nothing_is_dear_twice():
    """Let a copy of a pack cost what is changed in it, and a key next to nothing."""
    with pytest.MonkeyPatch.context() as patch:
        once.for_packs(patch)
        # A key's hash is dear on purpose; the room's screens are tested with its price.
        patch.setattr(keys, "SCRYPT", {"n": 2, "r": 1, "p": 1})
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
    """An empty store; of SQLite one that does not wait for the disk."""
    found = open_store(url, clock)
    if found.engine.dialect.name == "sqlite":
        event.listen(found.engine, "connect", _without_waiting)
        found.engine.dispose()  # connections from now on
    yield found
    found.engine.dispose()


def _without_waiting(connection, record):
    """What would be lost if the power failed is no matter here."""
    connection.execute("PRAGMA synchronous = OFF")


@pytest.fixture
def room(store):
    """A room that was just opened with our own pack."""
    return open_room(store, own_pack())
