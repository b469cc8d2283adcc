"""How large a drawing becomes once every link in it is followed."""

import math

NEW, BEGUN, DONE = range(3)
ENOUGH = 10**9  # counted no further


def expanded(children, links, ids):
    """Return the number of elements drawn, infinite where a link leads to itself.

    Parameters
    ----------
    children : for each element, the places of those inside it; the first is the root
    links : for each element, the names that it links to
    ids : {name: places}
        Names that are not there lead nowhere, those given twice to both places.

    Examples
    --------
    A root with two uses of a group of two, named g:

    >>> inside, links = [[1, 4, 5], [2, 3], [], [], [], []], [[]] * 4 + [["g"]] * 2
    >>> expanded(inside, links, {"g": [1]})
    12
    >>> expanded([[1], []], [[], ["me"]], {"me": [0]})
    inf
    """
    state, size = [NEW] * len(children), [1] * len(children)
    for start in range(len(children)):
        waiting = [start]
        while waiting:
            here = waiting[-1]
            if state[here] == DONE:
                waiting.pop()
                continue
            below = children[here] + [k for n in links[here] for k in ids.get(n, ())]
            if state[here] == BEGUN:
                size[here] = min(ENOUGH, 1 + sum(size[k] for k in below))
                state[here] = DONE
                continue
            state[here] = BEGUN
            if any(state[k] == BEGUN for k in below):
                return math.inf
            waiting += [k for k in below if state[k] == NEW]
    return size[0]
