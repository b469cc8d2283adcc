"""Ranks wall-mural printing machines for a buyer's own work, crew and money.

Examples
--------
>>> from scoring import evaluate, load_brief, load_machines
>>> machines = load_machines("profiles/machines")
>>> result = evaluate(load_brief("profiles/briefs/new-entrant.yaml"), machines)
>>> len(result.names) == len(machines)
True
"""

from importlib import import_module

_WHERE = {
    "ScoringError": "scoring.errors",
    "evaluate": "scoring.answer.evaluation",
    "load_brief": "scoring.inputs.brief_files",
    "load_machines": "scoring.inputs.machine_folder",
}
__all__ = sorted(_WHERE)


def __getattr__(name):
    """Import a public name when it is first asked for, so that `--help` is quick."""
    if name in _WHERE:
        return getattr(import_module(_WHERE[name]), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
