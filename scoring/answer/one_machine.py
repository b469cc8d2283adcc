"""What follows for one machine and one kind of job: names instead of positions."""

from scoring.answer.expected import mapped


def at(evaluation, k, j=0):
    """Return the Outcome to expect of machine k, with kind of job j.

    Every array becomes the number at that place; what has no job of its own is the same
    for each j. What a job does not have, or what cannot be done, is NaN.
    """
    return of_place(evaluation.outcome, k, j)


def told_at(evaluation, k, j=0):
    """Return the Outcome of machine k with kind of job j if all is as told."""
    return of_place(evaluation.told.outcome, k, j)


def of_place(record, k, j=0):
    """Return a record of records with arrays (1, machine, …) at one place.

    Examples
    --------
    >>> import numpy as np
    >>> minutes = np.array([[[10.0, 20.0], [30.0, 40.0]]])  # (draw, machine, job)
    >>> of_place((minutes, minutes[..., :1]), 1, 1)
    (np.float64(40.0), np.float64(30.0))
    """

    def one(array):
        of_machine = array[0, min(k, array.shape[1] - 1)]
        if not of_machine.ndim or not len(of_machine):  # no jobs; of no aids, say
            return of_machine
        return of_machine[min(j, len(of_machine) - 1)]

    return mapped(one, record)
