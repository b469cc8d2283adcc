"""What is supposed → words, as a mark and within a sentence."""

from scoring.words.figures import figure, joined, number


def supposing(each):
    """Return all that is supposed as a sentence; "" where there is nothing.

    Examples
    --------
    >>> supposing(["alone", "half the work"])
    'Supposed: alone and half the work.'
    """
    return f"Supposed: {joined(each)}." if each else ""


def crew(people):
    """Return a crew in words."""
    words = {1: "alone", 2: "with a second person"}
    return words.get(people, f"a crew of {people}")


def jobs(job, per_month):
    """Return another number of jobs of a kind."""
    return f"{job.name} {number(per_month, 1)} a month"


def all_work(per_cent):
    """Return another share of all work."""
    return f"{number(per_cent)} % of the work"


def price(name, asked, currency):
    """Return another price of a machine."""
    return f"{name} at {figure(asked, currency)}"


def rate(per_cent):
    """Return another interest."""
    return f"money earns {number(per_cent, 1)} % a year"


WAYS = {"order": "by your order", "money": "by what each is worth in money"}
WAYS |= {"pairs": "by what you picked"}


def weights(labels, way=""):
    """Return which weights are other than the brief's, or in which way they are told.

    Examples
    --------
    >>> weights(["smell"]), weights(["smell", "support"], "order")
    ('other weight on smell', 'weights by your order')
    """
    if way in WAYS:
        return f"weights {WAYS[way]}"
    if len(labels) > 2:
        return f"{len(labels)} weights of your own"
    return f"other weight on {joined(labels)}"
