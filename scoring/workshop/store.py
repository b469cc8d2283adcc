"""Where rooms are kept: SQLite in the user's data folder, or PostgreSQL by URL."""

import os
import time
from collections.abc import Callable
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from threading import Lock

from sqlalchemy import create_engine, event, insert, make_url, select, text
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.engine import Engine
from sqlalchemy.exc import ArgumentError, NoSuchModuleError, SQLAlchemyError

from scoring.errors import ScoringError
from scoring.workshop import tables
from scoring.workshop.together import Queue, done_together

URL = "MURAL_ROOMS"  # the environment variable that names another store
FILE = "workshop.sqlite"
PATIENCE_S = 15  # for another writer to end
POOL = {"pool_size": 20, "max_overflow": 20}  # a class that answers at once
LOCK = 60_412  # any number, but the same on all servers


@dataclass(frozen=True)
class Store:
    """An open store, and the clock that its times are read from."""

    engine: Engine
    clock: Callable[[], float] = time.time
    turn: Lock = field(default_factory=Lock, repr=False, compare=False)
    queue: Queue = field(default_factory=Queue, repr=False, compare=False)

    @property
    def is_sqlite(self):
        return self.engine.dialect.name == "sqlite"


def data_folder():
    """Return the folder in which this user's rooms are kept, beside their cases."""
    if told := os.environ.get("MURAL_DATA"):
        return Path(told)
    import platformdirs  # only where nobody says another folder

    return Path(platformdirs.user_data_dir("mural-scoring", appauthor=False))


def open_store(url=None, clock=time.time):
    """Return the Store of a URL; its tables are made where they are missing.

    Parameters
    ----------
    url : such as sqlite:////a/folder/rooms.sqlite or postgresql://user@host/name
        Left out, what MURAL_ROOMS says, else a file in the user's data folder.

    Raises
    ------
    ScoringError
        If it is no URL, cannot be opened, or is of a newer version.
    """
    url = url or os.environ.get(URL) or _default_url()
    try:
        store = Store(_engine(make_url(url)), clock)
    except (ArgumentError, NoSuchModuleError, ImportError):
        raise ScoringError(
            f"{URL}: is no place to keep rooms; sqlite:///FILE or "
            "postgresql://USER@HOST/NAME"
        ) from None
    try:
        with writing(store) as connection:
            _make_tables(store, connection)
    except ScoringError:
        store.engine.dispose()
        raise
    return store


def _default_url():
    folder = data_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        raise ScoringError(f"{folder}: cannot be made: {error.strerror}") from None
    return f"sqlite:///{folder / FILE}"


def _engine(url):
    if url.drivername == "postgresql":
        url = url.set(drivername="postgresql+psycopg")
    if url.get_backend_name() != "sqlite":
        return create_engine(url, pool_pre_ping=True)
    engine = create_engine(url, connect_args={"timeout": PATIENCE_S}, **POOL)
    event.listen(engine, "connect", _set_up_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _set_up_sqlite(connection, _record):
    """Let readers and one writer at once, keep what is committed, check keys."""
    connection.isolation_level = None  # transactions are begun by `_begin_sqlite`
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        connection.execute(f"PRAGMA {pragma}")


def _begin_sqlite(connection):
    """A writer takes its turn at once: a reader that turns writer could not wait."""
    is_writing = connection.get_execution_options().get("is_writing")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if is_writing else "BEGIN")


@contextmanager
def writing(store):
    """Yield a connection in a transaction: kept whole at its end, or not at all."""
    with _plain_faults(), _in_turn(store):
        with store.engine.connect().execution_options(is_writing=True) as connection:
            with connection.begin():
                yield connection


@contextmanager
def _in_turn(store):
    """Let the writers of this process queue for SQLite, which has them sleep instead.

    It looks again after up to a tenth of a second, whoever has come meanwhile.
    """
    if not store.is_sqlite:
        yield
        return
    if not store.turn.acquire(timeout=PATIENCE_S):
        raise ScoringError("the room's store did not answer (busy); try again")
    try:
        yield
    finally:
        store.turn.release()


def committed(store, do):
    """Return what `do`, (connection) → anything, returned, once it is committed.

    Of one that raises nothing is kept. SQLite has one writer at a time: errands of the
    same moment share a transaction there.
    """
    if not store.is_sqlite:
        with writing(store) as connection:
            return do(connection)
    return done_together(store.queue, do, partial(_all_committed, store))


def _all_committed(store, batch):
    with writing(store) as connection:
        if len(batch) == 1:  # what it raises undoes the whole
            batch[0].result = batch[0].do(connection)
            return
        for errand in batch:
            try:
                with _plain_faults(), connection.begin_nested():
                    errand.result = errand.do(connection)
            except Exception as error:  # it is this one's alone
                errand.fault = error


@contextmanager
def reading(store):
    """Yield a connection that reads one state of the store."""
    with _plain_faults(), store.engine.connect() as connection:
        with connection.begin():
            yield connection


@contextmanager
def _plain_faults():
    """Tell in a sentence that the store cannot be reached or is busy."""
    try:
        yield
    except SQLAlchemyError as error:
        reason = str(getattr(error, "orig", None) or error).splitlines()[0]
        raise ScoringError(
            f"the room's store did not answer ({reason}); nothing was kept, try again"
        ) from error


def upsert(store):
    """Return the `insert` of the store's dialect, which can say what to do twice."""
    return sqlite.insert if store.is_sqlite else postgresql.insert


def take_turn(store, connection):
    """Wait until no other server is in such a turn; it ends with the transaction."""
    if not store.is_sqlite:  # there every writer has a turn
        connection.execute(text("SELECT pg_advisory_xact_lock(:n)"), {"n": LOCK})


def _make_tables(store, connection):
    take_turn(store, connection)
    tables.metadata.create_all(connection)
    found = connection.execute(select(tables.version.c.version)).scalar()
    if found is None:
        connection.execute(insert(tables.version).values(version=tables.SCHEMA))
    elif found != tables.SCHEMA:
        raise ScoringError(
            f"the room's store is of version {found}; this toolkit knows "
            f"{tables.SCHEMA}: update it, or name another store in {URL}"
        )
