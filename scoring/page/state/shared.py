"""What all sessions share: the same question is answered once, for whoever asks it.

A room of people who open one screen at the same moment ask the same thing: one of them
has it worked out, the others wait for it, and none of it is kept twice.
"""

from collections import OrderedDict
from threading import Lock

MOST = {"evaluation": 24, "firm": 6}  # answers kept of each kind; each some megabytes
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
