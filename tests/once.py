"""What many tests ask of the engine in the same words is worked out once.

Screens and packs are given these in the place of the engine's own. Tests that hold two
answers against each other ask the engine itself.
"""

from collections import OrderedDict
from functools import partial

from scoring.answer import evaluation
from scoring.page.state import work
from scoring.questions import firmness
from scoring.workshop import results, solved, visit

MOST = 32  # answers; each holds some megabytes
_kept = OrderedDict()


def for_screens(patch):
    """Let the page evaluate equal cases once."""
    patch.setattr(work, "evaluate", partial(evaluate, at=_source))


def for_packs(patch):
    """Let packs evaluate equal buyers once, from whatever folder they were read."""
    for module in (solved, visit, results):
        patch.setattr(module, "evaluate", evaluate)
    patch.setattr(visit, "how_firm", how_firm)


def evaluate(brief, machines, weights=None, at=lambda brief: "", **more):
    """Return the engine's Evaluation, of equal records and numbers the same one."""
    pictures = tuple((j, ink.tobytes()) for j, ink in brief.pictures.items())
    key = (
        at(brief),
        repr((brief, *machines, brief.leads_read, weights, more)),
        pictures,
    )
    make = partial(evaluation.evaluate, brief, machines, weights, **more)
    return _once(key, make)


def how_firm(of, n_draws, seed):
    """Return the engine's Firmness, of the very same Evaluation once."""
    key = (id(of), n_draws, seed)  # the Firmness holds the Evaluation
    return _once(key, partial(firmness.how_firm, of, n_draws, seed))


def _source(brief):
    return brief.source


def _once(key, make):
    found = _kept.pop(key, None) or make()
    _kept[key] = found
    while len(_kept) > MOST:
        _kept.popitem(last=False)
    return found
