"""How often each machine is first, as a square of a hundred."""

import numpy as np

OF = 100


def squares(firm):
    """Return [(machine or "", how many of 100)], the most frequent first.

    Largest remainders, so that they sum to 100; "" is no machine within the limits.
    """
    shares = np.append(firm.first_as_weighed, 0.0)
    shares[-1] = max(0.0, 1.0 - shares.sum())
    counts = hundredths(shares)
    named = [*firm.evaluation.names, ""]
    order = sorted(range(len(named)), key=lambda k: (-counts[k], named[k]))
    return [(named[k], int(counts[k])) for k in order if counts[k]]


def hundredths(shares):
    """Return whole numbers that sum to 100 and are nearest to shares that sum to 1.

    Source
    ------
    Largest remainder (Hamilton's method), as in Balinski & Young (1982), Fair
    Representation; from memory.

    Examples
    --------
    >>> hundredths(np.array([0.503, 0.331, 0.166])).tolist()
    [50, 33, 17]
    """
    exact = OF * shares
    counts = np.floor(exact + 1e-9).astype(int)
    lacking = OF - counts.sum()
    counts[np.argsort(counts - exact, kind="stable")[:lacking]] += 1
    return counts
