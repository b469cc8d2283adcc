"""A folder of many buyers that somebody else sent: figures that no run writes."""

import io
import json

import numpy as np
import pyarrow as pa
import pytest
from pyarrow import parquet

from scoring.errors import ScoringError
from scoring.population.buyers import best, population_of
from scoring.population.folder import columns_of

ASKED = {
    "form": 1,
    "title": "Made-up buyers",
    "currency": "EUR",
    "buyers": 4,
    "draws": 40,
    "seed": 1,
    "files": "0a",
    "machines": [{"name": n, "price": 9_000.0, "currency": "EUR"} for n in ("A", "B")],
    "differ": [
        {"name": "cash", "unit": "EUR"},
        {"name": "crew", "choices": ["alone", "two"]},
    ],
}


def columns():
    """Return the columns of four buyers: B is best for the last, A is out for it."""
    found = {"differs: cash": np.array([1e3, 2e3, 3e3, 4e3])}
    found["differs: crew"] = np.array([0.0, 1, 0, 1])
    found["money_a_point"] = np.array([50.0, np.nan, 70, 80])
    for name, points in (("A", [0.7, 0.7, 0.7, 0.9]), ("B", [0.5, 0.6, 0.2, 0.4])):
        found[f"points: {name}"] = np.array(points)
        found[f"is_out: {name}"] = np.array([False, False, False, name == "A"])
        for field in ("chance_in", "year_result", "benefit"):
            found[f"{field}: {name}"] = np.ones(4)
        found[f"best_up_to: {name}"] = np.array([1.2, np.nan, 0.0, 2.5])
    return found


def read(**changed):
    table, held = pa.table(columns() | changed), io.BytesIO()
    parquet.write_table(table, held)
    files = {"population.json": json.dumps(ASKED).encode()}
    return columns_of(files | {"buyers-000000.parquet": held.getvalue()})


def test_a_folder_as_a_run_writes_it_is_read():
    """Money that has no weight, and prices not looked for, are NaN and may be."""
    assert best(population_of(*read())).tolist() == [0, 0, 0, 1]


@pytest.mark.parametrize(
    ("name", "column"),
    [
        ("points: A", ["0.7", "0.7", "0.7", "0.9"]),
        ("points: A", [[0.7], [0.7], [0.7], [0.9]]),
        ("points: B", [0.5, float("nan"), 0.2, 0.4]),
        ("differs: cash", [1e3, float("inf"), 3e3, 4e3]),
        ("differs: crew", [0.0, 1, 2, 1]),  # the third of two choices
        ("differs: crew", [0.0, 1, 0.5, 1]),
        ("is_out: A", [0.0, 0, 0, 3]),
        ("best_up_to: B", [1.2, -1, 0.0, 2.5]),
        ("money_a_point", ["many", "many", "few", "few"]),
    ],
)
def test_figures_that_no_run_writes_are_refused(name, column):
    """Texts, lists, no number, and choices that there are not, in a sentence."""
    with pytest.raises(ScoringError) as raised:
        read(**{name: column})
    assert str(raised.value).endswith("figures in it that no run writes")
