"""Faults planted in the answers for many buyers."""

from tests.planted.fault import Fault

FAULTS = (
    Fault(
        "who is out of limits may be best of many",
        "population/buyers.py",
        "points = np.where(population.is_out, -np.inf, population.points)",
        "points = population.points + 0.0",
    ),
    Fault(
        "regret of points, not of money",
        "population/buyers.py",
        "np.nan, lacking * population.money_a_point)",
        "np.nan, lacking)",
    ),
    Fault(
        "the share at a price counts those below it",
        "population/buyers.py",
        'side="left") / len(population)',
        'side="right") / len(population)',
    ),
    Fault(
        "another price that is dearer is taken as cheaper",
        "population/buyers.py",
        "population.best_up_to[:, machine] >= times, machine, others",
        "population.best_up_to[:, machine] <= times, machine, others",
    ),
    Fault(
        "rows and columns of the map swapped",
        "population/cells.py",
        "here = np.flatnonzero((places[0] == column) & (places[1] == row))",
        "here = np.flatnonzero((places[0] == row) & (places[1] == column))",
    ),
    Fault(
        "a cell's regret is all buyers'",
        "population/cells.py",
        "costs = mean_lost(lost(population, picked, found)[here])",
        "costs = mean_lost(lost(population, picked, found))",
    ),
    Fault(
        "a cell's share is of all buyers",
        "population/cells.py",
        "share = float(counts.max() / len(here))",
        "share = float(counts.max() / len(population))",
    ),
    Fault(
        "the tree tried on the buyers it was grown on",
        "population/tree.py",
        "float((picked == found)[unseen].mean()),",
        "float((picked == found)[seen].mean()),",
    ),
    Fault(
        "what following the tree costs is what the commonest costs",
        "population/tree.py",
        "mean_lost(lost(population, picked, found)[unseen]),",
        "mean_lost(lost(population, common, found)[unseen]),",
    ),
    Fault(
        "a fork's sides swapped",
        "population/tree.py",
        "return Fork(k, threshold, choice, yes, no)",
        "return Fork(k, threshold, choice, no, yes)",
    ),
    Fault(
        "regret at another price told of the present one's best",
        "population/shown.py",
        "mean_lost(lost(population, picked, now)),",
        "mean_lost(lost(population, picked, found)),",
    ),
    Fault(
        "the middle of all buyers told of each machine's",
        "population/shown.py",
        "_middles(population, found == k),",
        "_middles(population, found >= NONE),",
    ),
    Fault(
        "what a dearer machine adds to upkeep forgotten",
        "answer/buyers_prices.py",
        "insurance + (twice.upkeep - machines.upkeep),",
        "insurance,",
    ),
    Fault(
        "a dearer machine sells for no more",
        "answer/buyers_prices.py",
        "        twice.resale - machines.resale,\n",
        "        0 * twice.resale,\n",
    ),
)
