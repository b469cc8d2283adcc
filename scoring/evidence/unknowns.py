"""What nobody tells: filled from the machines that tell theirs."""

from dataclasses import replace

import numpy as np

from scoring.errors import InputFault, InputFaults
from scoring.evidence.ranges import in_brief_currency
from scoring.evidence.sheet_figures import HIGH, better


def filled(brief, machines, found):
    """Return the unknown figures with the range of the machines that tell theirs.

    Low is the best of the others, likely their worse quartile, high their worst; which
    end is better is the field's.
    """
    filled, faults = {}, []
    for (owner, path), evidence in found.items():
        if not evidence.is_unknown:
            continue
        known = np.array(_told(path, machines, found, brief))
        if known.size < 2:
            if _matters(path, owner, brief, machines):
                faults.append(_fault(owner, path, machines, known.size))
            known = np.zeros(1)
        best, likely, worst = _unknown_range(known, better(path))
        filled[owner, path] = replace(
            evidence,
            low=min(best, worst),
            likely=likely,
            high=max(best, worst),
            told=likely,
            currency=None,
            note="not told: best, worse quartile and worst of the other machines",
        )
    if faults:
        raise InputFaults(faults)
    return filled


def _told(path, machines, found, brief):
    """Return the likely figures of the machines that tell theirs, brief's currency."""
    figures = (found.get((machine.name, path)) for machine in machines)
    return [
        figure.likely * in_brief_currency(figure, found, brief)
        for figure in figures
        if figure is not None and not figure.is_unknown
    ]


def _unknown_range(known, better):
    """Return (best, likely, worst): the likely one is the worse quartile."""
    if better == HIGH:
        return known.max(), np.quantile(known, 0.25), known.min()
    return known.min(), np.quantile(known, 0.75), known.max()


def _matters(path, owner, brief, machines):
    """Return whether an unknown figure can change the answer."""
    if path == "landed_cost.import_tax":
        return not brief.money.import_tax_recovered
    if path.startswith("ink.white"):
        machine = next(m for m in machines if m.name == owner)
        has_dark_wall = any(job.underbase for job in brief.work)
        return machine.white.mode != "none" and has_dark_wall
    return True


def _fault(owner, path, machines, n_known):
    machine = next(m for m in machines if m.name == owner)
    return InputFault(
        machine.source,
        machine.line_of(path),
        path,
        f"unknown, and only {n_known} of the machines loaded tell theirs",
        "give a range such as low..high, or load two machines that tell it",
    )
