"""Predicted against lived → records of plain values."""

from dataclasses import asdict

from scoring.records.plain import plain


def lived_record(found):
    """Return one Lived as JSON has it; figures in the units of the prediction."""
    return {
        "machine": found.prediction.machine,
        "frozen": found.prediction.frozen,
        "jobs": found.n_jobs,
        "figures": [_plain(asdict(one)) for one in found.figures],
        "not_told": list(found.not_scored),
    }


def card_record(card):
    """Return a ReportCard as JSON has it."""
    found = _plain(asdict(card))
    found["biases"] = [
        _plain(asdict(bias)) | {"is_found": bias.is_found} for bias in card.biases
    ]
    return found


def _plain(record):
    return {
        key: value if isinstance(value, str | list | tuple | dict) else plain(value)
        for key, value in record.items()
    }
