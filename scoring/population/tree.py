"""A few questions that say which machine suits a buyer: a decision tree, three deep.

Grown on seven buyers in ten and tried on the others, which it has not seen.

Source: Breiman, Friedman, Olshen & Stone (1984), Classification and Regression Trees,
as scikit-learn grows them (Gini impurity).
"""

from dataclasses import dataclass

import numpy as np

from scoring.errors import ScoringError
from scoring.population.buyers import NONE, best, lost, mean_lost
from scoring.population.cells import rounded

DEPTH = 3
SEEN = 0.7  # of the buyers
LEAST_LEAF = 0.01  # of those seen
FEWEST = 40  # buyers that a tree is grown on
DIGITS = 3  # of a threshold, as it is said


@dataclass(frozen=True)
class Leaf:
    """Where the questions end; counted on the buyers it has not seen."""

    machine: int  # NONE: none within limits
    n_buyers: int
    share: float  # of them for whom it is best; NaN without any


@dataclass(frozen=True)
class Fork:
    """Below a threshold, or not; of choices, one of them, or not."""

    differs: int  # which difference
    threshold: float  # of a figure
    choice: int | None  # of choices: the one that is asked for
    yes: object  # Leaf or Fork: below, or that choice
    no: object


@dataclass(frozen=True)
class TreeAdvice:
    """The tree, and how it does with buyers that it has not seen."""

    root: object
    n_seen: int
    n_unseen: int
    hit: float  # share of the unseen for whom it names the best
    out: float  # share for whom it names one out of their limits
    lost: float  # mean, money a year, of following it
    commonest: int  # the machine that is best for most
    commonest_hit: float  # of naming that one to all
    commonest_lost: float
    importance: tuple[float, ...]  # of each difference, sums to 1 or is all 0


def advice(population, found=None):
    """Return the TreeAdvice of a Population; `found` is `best` of it, where at hand.

    Raises
    ------
    ScoringError
        If there are too few buyers.
    """
    from sklearn.tree import DecisionTreeClassifier  # dear to load, needed here alone

    if len(population) < FEWEST:
        raise ScoringError(f"{len(population)} buyers are too few; {FEWEST} or more")
    found = best(population) if found is None else found
    columns, asked = _columns(population)
    order = np.random.default_rng(population.seed).permutation(len(population))
    n_seen = int(SEEN * len(population))
    seen, unseen = order[:n_seen], order[n_seen:]
    grown = DecisionTreeClassifier(
        max_depth=DEPTH,
        min_samples_leaf=max(1, int(LEAST_LEAF * n_seen)),
        random_state=0,
    ).fit(columns[seen], found[seen])
    picked = np.full(len(population), NONE)
    root = _read(grown.tree_, 0, asked, population, found, (seen, unseen), picked)
    importance = np.zeros(len(population.differs))
    np.add.at(importance, [k for k, _ in asked], grown.feature_importances_)
    values, counts = np.unique(found[seen], return_counts=True)
    common = np.full(len(population), int(values[counts.argmax()]))
    return TreeAdvice(
        root,
        len(seen),
        len(unseen),
        float((picked == found)[unseen].mean()),
        float(_out(population, picked)[unseen].mean()),
        mean_lost(lost(population, picked, found)[unseen]),
        int(common[0]),
        float((common == found)[unseen].mean()),
        mean_lost(lost(population, common, found)[unseen]),
        tuple(importance.tolist()),
    )


def _out(population, picked):
    return population.is_out[np.arange(len(picked)), picked] & (picked != NONE)


def _columns(population):
    """Return (buyer, column) and what each asks: (difference, choice or None)."""
    columns, asked = [], []
    for k, differs in enumerate(population.differs):
        if not differs.choices:
            columns.append(differs.values)
            asked.append((k, None))
            continue
        for choice in range(len(differs.choices) if len(differs.choices) > 2 else 1):
            columns.append(np.where(differs.values == choice, 0.0, 1.0))
            asked.append((k, choice))
    return np.stack(columns, axis=1), asked


def _read(tree, node, asked, population, found, buyers, picked):
    """Return a grown tree as Forks, each as it is said: with rounded thresholds.

    What each leaf names is what is best for most of the buyers seen that come there
    then; all that come there have it written into `picked`.
    """
    seen, unseen = buyers
    if tree.children_left[node] >= 0 and len(seen):
        k, choice = asked[tree.feature[node]]
        threshold = rounded(tree.threshold[node], DIGITS)
        values = population.differs[k].values
        is_yes = values < threshold if choice is None else values == choice
        sides = [
            tuple(part[is_yes[part] == side] for part in buyers) for side in (1, 0)
        ]
        if all(len(part[0]) for part in sides):
            ways = (tree.children_left[node], tree.children_right[node])
            yes, no = (
                _read(tree, way, asked, population, found, part, picked)
                for way, part in zip(ways, sides, strict=True)
            )
            if not _says_the_same(yes, no):
                return Fork(k, threshold, choice, yes, no)
    values, counts = np.unique(found[seen], return_counts=True)
    machine = int(values[counts.argmax()])
    for part in buyers:
        picked[part] = machine
    hits = found[unseen] == machine
    return Leaf(machine, len(unseen), float(hits.mean()) if hits.size else np.nan)


def _says_the_same(yes, no):
    leaves = isinstance(yes, Leaf) and isinstance(no, Leaf)
    return leaves and yes.machine == no.machine
