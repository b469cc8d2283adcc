"""What all sessions share: the same question is answered once, for whoever asks it.

A room of people who open one screen at the same moment ask the same thing: one of them
has it worked out, the others wait for it, and none of it is kept twice.
"""

from collections import OrderedDict
from threading import Lock

# Answers kept of each kind; an evaluation or a firm answer holds some megabytes.
MOST = {"evaluation": 24, "firm": 8, "years": 24, "weighed": 48, "fleet": 8}
MOST |= {"answered": 8, "swings": 8, "questions": 16, "jobs_needed": 48}
MOST |= {"differences": 24, "scenario": 12, "less_work": 4, "crowd": 4}
MOST |= {"crowd_shown": 8, "visit": 24}
MOST |= {"ways": 8, "steps": 8, "round": 4, "ranges": 8}
_kept = {kind: OrderedDict() for kind in MOST}
_turns = {kind: Lock() for kind in MOST}  # one computation of a kind at a time
_guard = Lock()


def shared(kind, objects, values, make):
    """Return what any session made for these very objects and equal values, or make it.

    The objects are held as long as the answer is, so that no other can take their
    place. What is broken off leaves nothing.
    """
    key = (*map(id, objects), values)
    found = _known(kind, key)
    if found is None:
        with _turns[kind]:
            found = _known(kind, key)  # while this one waited
            if found is None:
                found = (objects, make())
                _keep(kind, key, found)
    return found[1]


def known(kind, objects, values, make=None):
    """Return what `shared` would without making it, None where it is not known."""
    found = _known(kind, (*map(id, objects), values))
    return None if found is None else found[1]


def n_kept(kind):
    """Return how many answers of a kind are kept."""
    return len(_kept[kind])


def forget(kind):
    """Forget the answers of a kind."""
    with _guard:
        _kept[kind].clear()


def _known(kind, key):
    with _guard:
        if key in _kept[kind]:
            _kept[kind].move_to_end(key)
        return _kept[kind].get(key)


def _keep(kind, key, found):
    with _guard:
        _kept[kind][key] = found
        while len(_kept[kind]) > MOST[kind]:
            _kept[kind].popitem(last=False)
