"""Wrong codes and keys: a few are free, then each waits longer, then none is heard."""

import math

from sqlalchemy import delete, select

from scoring.errors import ScoringError
from scoring.workshop.keys import token_hash
from scoring.workshop.store import reading, upsert, writing
from scoring.workshop.tables import guesses

FREE = 3  # wrong ones without a wait
MOST = 10  # then refused for `REFUSED_S`
REFUSED_S = 15 * 60
FORGOTTEN_S = 60 * 60  # after so long without a wrong one all is forgotten


def check_may_guess(store, caller):
    """Raise ScoringError while a caller must wait.

    `caller` is what the server knows of who asks, such as an address.
    """
    with reading(store) as connection:
        row = _row(connection, caller)
    now = store.clock()
    if row is None or row.until <= now:
        return
    seconds = math.ceil(row.until - now)
    if row.wrong >= MOST:
        minutes = math.ceil(seconds / 60)
        raise ScoringError(f"too many wrong codes; try again in {minutes} min")
    raise ScoringError(f"that was wrong a few times; try again in {seconds} s")


def count_wrong(store, caller):
    """Count a wrong guess; the next one must wait 1, 2, 4 … seconds after the third."""
    now = store.clock()
    with writing(store) as connection:
        row = _row(connection, caller)
        is_old = row is None or now - row.last > FORGOTTEN_S
        wrong = 1 if is_old else row.wrong + 1
        told = {"wrong": wrong, "last": now, "until": now + wait_s(wrong)}
        connection.execute(
            upsert(store)(guesses)
            .values(caller=token_hash(caller), **told)
            .on_conflict_do_update(index_elements=["caller"], set_=told)
        )


def forget(store, caller):
    """Forget a caller's wrong guesses after a right one."""
    with writing(store) as connection:
        connection.execute(
            delete(guesses).where(guesses.c.caller == token_hash(caller))
        )


def wait_s(wrong):
    """Return how long to wait after so many wrong guesses, in seconds.

    Examples
    --------
    >>> [wait_s(n) for n in (1, 3, 4, 5, 9, 10)]
    [0, 0, 1, 2, 32, 900]
    """
    if wrong >= MOST:
        return REFUSED_S
    return 2 ** (wrong - FREE - 1) if wrong > FREE else 0


def _row(connection, caller):
    query = select(guesses).where(guesses.c.caller == token_hash(caller))
    return connection.execute(query).first()
