"""Errands of the same moment, done together by whoever came first.

A commit waits for the disk, and handing a turn from thread to thread waits for the
processor: a class that answers at once would wait for both as often as it has people.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Event, Lock


@dataclass
class Errand:
    """An errand that somebody waits for, and what came of it."""

    do: Callable
    said: Event = field(default_factory=Event)
    result: object = None
    fault: Exception | None = None
    is_done: bool = False


@dataclass
class Queue:
    """Those who wait, and whether somebody is at work."""

    guard: Lock = field(default_factory=Lock)
    waiting: list = field(default_factory=list)
    is_led: bool = False


def done_together(queue, do, do_all):
    """Return what an errand returned, or raise what it raised, once it was done.

    Parameters
    ----------
    do_all : function (list of Errand); done, each has a result or a fault, whatever
        befalls the others
    """
    own = Errand(do)
    with queue.guard:
        queue.waiting.append(own)
        must_wait, queue.is_led = queue.is_led, True
    if must_wait:
        own.said.wait()
    if not own.is_done:  # the turn has come to this one
        _lead(queue, do_all)
    if own.fault is not None:
        raise own.fault
    return own.result


def _lead(queue, do_all):
    """Do what waits, this one's own with it; the next one does what came meanwhile."""
    with queue.guard:
        batch, queue.waiting = queue.waiting, []
    try:
        do_all(batch)
    except BaseException as error:  # nothing was done, and all of them waited for it
        for each in batch:
            each.result, each.fault = None, each.fault or error
        if not isinstance(error, Exception):
            raise
    finally:
        with queue.guard:
            following = queue.waiting[0] if queue.waiting else None
            queue.is_led = following is not None
        for each in batch:
            each.is_done = True
            each.said.set()
        if following is not None:
            following.said.set()
