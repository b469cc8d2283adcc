"""Whether “first in x % of draws” comes true in x % of worlds.

Each world is one of the demo's briefs with other weights and with ranges wider or
narrower than written. The toolkit tells each machine's share of first places from some
draws; the truth is one more draw of the same ranges, which it has not seen.

    .venv/bin/python tests/benchmarks/calibration.py [--worlds 2000] [--plot FILE.png]
"""

import argparse
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from scoring import (
    evaluate,  # noqa: E402
    load_brief,  # noqa: E402
    load_machines,  # noqa: E402
)
from scoring.answer.run import redrawn  # noqa: E402
from scoring.decision import (
    acceptability,  # noqa: E402
    ranking,  # noqa: E402
)
from scoring.evidence import draws  # noqa: E402
from scoring.inputs.quantity import quantity_at  # noqa: E402

ROOT = Path(__file__).parents[2]
BRIEFS = ("new-entrant", "workshop", "second-rig")
N_BINS = 10
CAME = "came true in this share of worlds"


def worlds(n_worlds, n_draws, seed):
    """Return (shares told, 1 where it came true), each (world · machine,)."""
    rng = np.random.default_rng(seed)
    machines = load_machines(ROOT / "profiles" / "machines")
    demo = [
        evaluate(load_brief(ROOT / "profiles" / "briefs" / f"{name}.yaml"), machines)
        for name in BRIEFS
    ]
    told, came = [], []
    for world in range(n_worlds):
        evaluation = _another(demo[world % len(demo)], rng)
        totals = _totals(evaluation, seed + 2 * world, n_draws)
        truth = _totals(evaluation, seed + 2 * world + 1, 1)
        told.append(acceptability.rank_acceptability(totals)[:, 0])
        came.append(acceptability.rank_acceptability(truth)[:, 0])
    return np.concatenate(told), np.concatenate(came)


def _another(evaluation, rng):
    """Return the evaluation with other weights and ranges of another width."""
    weights = rng.dirichlet(np.where(evaluation.weights > 0, 1.0, 1e-9))
    factor = rng.uniform(0.2, 2.0)
    evidence = {
        key: _wider(figure, factor, *_bounds(evaluation, key))
        for key, figure in evaluation.evidence.items()
    }
    return replace(evaluation, weights=weights, evidence=evidence)


def _bounds(evaluation, key):
    """Return what the field of a figure allows; anything where no file has it."""
    owner, path = key
    quantity = quantity_at(evaluation.record_of(owner), path)
    return (-np.inf, np.inf) if quantity is None else quantity.bounds


def _wider(figure, factor, least, most):
    """Return a figure with its range drawn out or in around the likely value.

    No further than its field allows: a range outside could not have been written.
    """
    low = figure.likely - factor * (figure.likely - figure.low)
    high = figure.likely + factor * (figure.high - figure.likely)
    if figure.low >= 0:
        low = max(low, 0.02 * figure.likely)  # what is above 0 stays above 0
    low, high = max(low, least), min(max(high, low), most)
    return replace(figure, low=low, high=high)


def _totals(evaluation, seed, n_draws):
    figures = draws.drawn(evaluation.evidence, evaluation.brief, seed, 0, n_draws)
    _, scores = redrawn(evaluation, figures)
    totals = ranking.weighted_sum(np.nan_to_num(scores), evaluation.weights)
    return np.where(np.isnan(scores[..., 0]), np.nan, totals)


def by_decile(told, came):
    """Return rows (mean told, share come true, standard error, count) by decile."""
    decile = np.minimum((told * N_BINS).astype(int), N_BINS - 1)
    rows = []
    for k in range(N_BINS):
        inside = decile == k
        n = int(inside.sum())
        if n:
            mean = told[inside].mean()
            error = np.sqrt(max(mean * (1 - mean), 1e-4) / n)
            rows.append((mean, came[inside].mean(), error, n))
    return rows


def plot(rows, path):
    """Write the calibration plot as PNG."""
    import altair as alt
    import pandas as pd

    data = pd.DataFrame(rows, columns=["told", "came", "error", "n"])
    data["low"], data["high"] = data.came - 2 * data.error, data.came + 2 * data.error
    share = alt.Scale(domain=[0, 1])
    x = alt.X("told:Q", title="told: first in this share of draws", scale=share)
    line = alt.Chart(pd.DataFrame({"told": [0, 1], "came": [0, 1]})).mark_line(
        color="#999999", strokeDash=[4, 4]
    )
    points = alt.Chart(data).mark_point(filled=True, size=60, color="#0072B2")
    bars = alt.Chart(data).mark_rule(color="#0072B2")
    y = alt.Y("came:Q", title=CAME, scale=share)
    chart = alt.layer(
        line.encode(x=x, y=y),
        bars.encode(x=x, y=alt.Y("low:Q", title=CAME), y2=alt.Y2("high:Q")),
        points.encode(x=x, y=y),
    ).properties(width=360, height=360)
    chart.configure_axis(labelFont="sans-serif", titleFont="sans-serif").save(
        path, scale_factor=2
    )


def main():
    """Print the table, and write the plot if asked."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--worlds", type=int, default=2000)
    parser.add_argument("--draws", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--plot")
    options = parser.parse_args()
    rows = by_decile(*worlds(options.worlds, options.draws, options.seed))
    print(f"{options.worlds} worlds, {options.draws} draws each, seed {options.seed}")
    print(f"{'told':>8}{'came true':>12}{'± 1 s.e.':>10}{'cases':>8}{'z':>7}")
    for told, came, error, n in rows:
        print(f"{told:8.3f}{came:12.3f}{error:10.3f}{n:8d}{(came - told) / error:7.1f}")
    if options.plot:
        plot(rows, options.plot)


if __name__ == "__main__":
    main()
