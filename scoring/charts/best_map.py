"""Who is best over jobs a month and wall area."""

from itertools import groupby

from scoring.charts.base import GREY, encoded, legend_below, whole_spec
from scoring.charts.swings import NOBODY
from scoring.words.figures import figure, in_units

SEAM = 0.05  # of a cell of the map
MAP_COLUMNS = ("kind", "best", "jobs", "wall", "left", "right", "low", "high", "said")


def on_map(best_map):
    """Return the machines that are best somewhere, by either measure, in order."""
    grids = (*best_map.by_score, *best_map.by_money)
    return sorted({name for row in grids for name in row} - {""})


def map_rows(best_map, grid, own_range, nobody=NOBODY, is_us=False):
    """Return a data frame with a row for each cell of a map, and one for the buyer.

    `grid` is one of the two of the map; `own_range` is that of `whatif.own_range`.
    """
    import pandas as pd

    jobs = [float(x) for x in best_map.jobs_per_month]
    walls = [in_units(float(y), "m²", is_us)[0] for y in best_map.wall_m2]
    rows = [
        ("cell", name or nobody, x, y, *_edges(x, jobs[0]), *_edges(y, walls[0]), "")
        for y, row in zip(walls, grid, strict=True)
        for x, name in zip(jobs, row, strict=True)
    ]
    (left, right), wall_range = own_range
    low, high = (in_units(float(end), "m²", is_us)[0] for end in wall_range)
    own = in_units(best_map.own_wall_m2, "m²", is_us)[0]
    said = "your work, with the range of 8 in 10 draws"
    position = (best_map.own_jobs, own, float(left), float(right), low, high)
    rows.append(("own", None, *position, said))
    return pd.DataFrame(rows, columns=MAP_COLUMNS)


def _edges(middle, step):
    """Return the edges of a cell; the far one a little further, to leave no seam."""
    return middle - step / 2, middle + (0.5 + SEAM) * step


def map_spec(colours, nobody=NOBODY, is_us=False):
    """Return the spec of a map, without data; the same for the same machines.

    `colours` are {machine: colour} of those that are best somewhere.
    Each machine keeps its colour; where none is best the ground is grey.
    """
    unit = in_units(1, "m²", is_us)[1]
    ground = {"nice": False, "zero": False}
    x = {"title": "jobs a month", "scale": ground, "axis": {"grid": False}}
    y = {"title": f"mean area of a wall, {unit}", "scale": ground}
    y["axis"] = {"grid": False}
    cells = {
        "transform": [{"filter": "datum.kind == 'cell'"}],
        "mark": {"type": "rect", "strokeWidth": 0},
        "encoding": {
            "x": encoded("left", **x),
            "x2": {"field": "right"},
            "y": encoded("low", **y),
            "y2": {"field": "high"},
            "color": encoded(
                "best",
                "nominal",
                title=None,
                scale={
                    "domain": [*colours, nobody],
                    "range": [*colours.values(), GREY],
                },
                legend=legend_below(columns=2, symbolType="square"),
            ),
            "tooltip": [
                encoded("best", "nominal", title="best"),
                encoded("jobs", title="jobs a month", format=".1f"),
                encoded("wall", title=f"area of a wall, {unit}", format=".1f"),
            ],
        },
    }
    own = {"filter": "datum.kind == 'own'"}
    across = {
        "x": encoded("left", **x),
        "x2": {"field": "right"},
        "y": encoded("wall", **y),
    }
    upwards = {
        "x": encoded("jobs", **x),
        "y": encoded("low", **y),
        "y2": {"field": "high"},
    }
    cross = [
        {
            "transform": [own],
            "mark": {
                "type": "rule",
                "color": colour,
                "strokeWidth": width,
                "clip": True,
            },
            "encoding": encoding,
        }
        for colour, width in (("white", 5), ("black", 2))
        for encoding in (across, upwards)
    ]
    point = {
        "transform": [own],
        "mark": {"type": "point", "filled": True, "size": 130, "opacity": 1}
        | {"color": "white", "stroke": "black", "strokeWidth": 2},
        "encoding": {
            "x": encoded("jobs", **x),
            "y": encoded("wall", **y),
            "tooltip": [
                encoded("said", "nominal", title="here"),
                encoded("jobs", title="jobs a month", format=".1f"),
                encoded("left", title="from", format=".1f"),
                encoded("right", title="to", format=".1f"),
                encoded("wall", title=f"area of a wall, {unit}", format=".1f"),
                encoded("low", title="area from", format=".1f"),
                encoded("high", title="area to", format=".1f"),
            ],
        },
    }
    return whole_spec([cells, *cross, point], height=430)


def map_in_words(best_map, grid, own_range, nobody=NOBODY, is_us=False):
    """Return a map in words: where the buyer stands, and who is best on either side."""
    jobs, walls = best_map.jobs_per_month, best_map.wall_m2
    row = int(abs(walls - best_map.own_wall_m2).argmin())
    column = int(abs(jobs - best_map.own_jobs).argmin())
    (left, right), (low, high) = own_range
    along = _stretches(jobs, grid[row], nobody, lambda x: figure(x))
    up = _stretches(
        walls,
        [cells[column] for cells in grid],
        nobody,
        lambda y: figure(y, "m²", is_us),
    )
    return (
        f"Your work: {figure(best_map.own_jobs)} jobs a month ({figure(left)} to "
        f"{figure(right)}) on walls of {figure(best_map.own_wall_m2, 'm²', is_us)} on "
        f"average ({figure(low, 'm²', is_us)} to {figure(high, 'm²', is_us)}); best "
        f"there: {grid[row][column] or nobody}.\n"
        f"With walls of that size, by jobs a month: {along}.\n"
        f"With that many jobs, by area of a wall: {up}."
    )


def _stretches(places, names, nobody, said):
    """Return who is best from where to where, along one line of a map."""
    parts, start = [], 0
    for name, cells in groupby(names):
        stop = start + len(list(cells)) - 1
        ends = said(places[start]), said(places[stop])
        span = ends[0] if start == stop else f"{ends[0]} to {ends[1]}"
        parts.append(f"{span} {name or nobody}")
        start = stop + 1
    return ", ".join(parts)
