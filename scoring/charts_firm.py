"""Firmness → charts: constant Vega-Lite specs, the rows that they draw, and words."""

from itertools import groupby

from scoring.charts import INK, PALETTE
from scoring.questions.find_out import what_of
from scoring.questions.swings import leader
from scoring.tables import plain
from scoring.words.figures import figure, in_units, joined
from scoring.words.turning import value_of

# The name stands above the bar, so that a telephone's width is left to the bar.
NAME_ABOVE = {
    "domain": False,
    "ticks": False,
    "labelAlign": "left",
    "labelPadding": 0,
    "labelOffset": -19,
    "labelLimit": 310,
    "labelFontSize": 13,
    "zindex": 1,
}

SCHEMA = "https://vega.github.io/schema/vega-lite/v6.4.1.json"
DOWN = 8  # pixels from the middle of a band to its bar
SEAM = 0.05  # of a cell of the map
BAND = 44  # pixels for each bar with its name above it
N_PLACES = 5  # places with a colour of their own
OUT = "ruled out"
TOP_SWINGS = 12
STAYS, TURNS = "the same machine leads", "another leads, or none"
NOBODY = "none within your limits"
ORDINALS = {1: "st", 2: "nd", 3: "rd"}
BLUE, ORANGE, SKY, VERMILION = PALETTE[0], PALETTE[1], PALETTE[4], PALETTE[5]
# From the first place on paler and paler, the last ones light grey, so that they do not
# outshine the first on a dark page; what is ruled out is dark grey.
GREY = "#777777"
RAMP = (BLUE, "#3B95CC", "#7DBCE3", "#B0D6EF", "#D6E8F4", "#CFCFCF", GREY)


def ordinal(place):
    """Return a place as people write it.

    Examples
    --------
    >>> ordinal(1), ordinal(3), ordinal(12), ordinal(22)
    ('1st', '3rd', '12th', '22nd')
    """
    is_teen = place // 10 % 10 == 1
    return f"{place}{'th' if is_teen else ORDINALS.get(place % 10, 'th')}"


STANDINGS = (
    *(ordinal(place) for place in range(1, N_PLACES + 1)),
    f"{ordinal(N_PLACES + 1)} or later",
    OUT,
)


def _field(name, kind="quantitative", **more):
    """Return an encoding of a column of the rows."""
    return {"field": name, "type": kind, **more}


def _bars(column):
    """Return the y of bars with their names above them, in the order of the rows."""
    return _field(
        column,
        "nominal",
        title=None,
        sort={"field": "place", "op": "min"},
        scale={"paddingInner": 0, "paddingOuter": 0},
        axis={**NAME_ABOVE, "labelOffset": -11, "labelFontSize": 12},
    )


def _spec(layer, height=None):
    """Return a whole spec of some layers, as wide as there is room."""
    return {
        "$schema": SCHEMA,
        "layer": layer,
        "width": "container",
        "height": height or {"step": BAND},
    }


def _legend(**more):
    return {"orient": "bottom", "labelLimit": 200, "symbolStrokeWidth": 0.6, **more}


# --- how often each place ------------------------------------------------------------

PLACE_COLUMNS = ("machine", "line", "place", "standing", "standing_place", "share")


def by_first_place(firm):
    """Return the machines considered, those most often first before the others."""
    evaluation = firm.evaluation
    return sorted(evaluation.order, key=lambda k: -firm.acceptability[k, 0])


def standings(firm, k):
    """Return the shares of draws with machine k at each of the STANDINGS."""
    shares = firm.acceptability[k]
    later = float(shares[N_PLACES:].sum())
    first = [float(share) for share in shares[:N_PLACES]]
    first += [0.0] * (N_PLACES - len(first))
    return [*first, later, float(firm.ruled_out[k])]


def place_rows(firm):
    """Return a data frame with a row for each machine and standing that it has."""
    import pandas as pd

    names = firm.evaluation.names
    rows = [
        (
            names[k],
            f"{names[k]}: {_often_first(firm, k)}",
            n,
            STANDINGS[place],
            place,
            share,
        )
        for n, k in enumerate(by_first_place(firm))
        for place, share in enumerate(standings(firm, k))
        if share > 0
    ]
    return pd.DataFrame(rows, columns=PLACE_COLUMNS)


def _often_first(firm, k):
    share = firm.acceptability[k, 0]
    if share == 0:
        return "never first" if firm.ruled_out[k] < 1 else "always ruled out"
    return f"first in {figure(share, 'share') if share >= 0.005 else 'under 1 %'}"


def places_spec():
    """Return the spec of how often each machine has each place, without data."""
    bars = {
        "mark": {"type": "bar", "size": 18, "yOffset": DOWN, "stroke": INK}
        | {"strokeWidth": 0.6},
        "encoding": {
            "x": _field(
                "share",
                title="share of the draws",
                stack="zero",
                scale={"domain": [0, 1]},
                axis={"format": ".0%", "values": [0, 0.25, 0.5, 0.75, 1]},
            ),
            "y": _bars("line"),
            "color": _field(
                "standing",
                "ordinal",
                title=None,
                scale={"domain": list(STANDINGS), "range": list(RAMP)},
                legend=_legend(columns=4, symbolType="square", symbolStrokeColor=INK),
            ),
            "order": _field("standing_place"),
            "tooltip": [
                _field("machine", "nominal"),
                _field("standing", "nominal", title="place"),
                _field("share", title="share of draws", format=".1%"),
            ],
        },
    }
    return _spec([bars])


def places_in_words(firm):
    """Return how often each machine has each place, a line for each."""
    lines = []
    for k in by_first_place(firm):
        said = [
            f"{standing} in {figure(share, 'share')}"
            for standing, share in zip(STANDINGS, standings(firm, k), strict=True)
            if share >= 0.005
        ]
        lines.append(f"{firm.evaluation.names[k]}: {joined(said)} of the draws.")
    return "\n".join(lines)


# --- what would turn it --------------------------------------------------------------

SWING_COLUMNS = ("what", "place", "side", "at", "lead", "other", "leader", "standing")
SWING_COLUMNS += ("now",)


def swing_rows(evaluation, swings, now, is_us=False):
    """Return a data frame with a row for each end of the widest swings.

    Left is the end of a figure's range at which the lead is smaller; `other` is the
    lead at the other end, `now` that of `whatif.present_lead`.
    """
    import pandas as pd

    rows = [
        (what_of(evaluation, swing.owner, swing.path), place, *end, now)
        for place, swing in enumerate(swings[:TOP_SWINGS])
        for end in _ends(swing, is_us)
    ]
    return pd.DataFrame(rows, columns=SWING_COLUMNS)


def _ends(swing, is_us):
    """Return the columns of both ends, the smaller lead first."""
    ends = [
        (swing.lead_low, value_of(swing, swing.low, is_us), swing.leader_low),
        (swing.lead_high, value_of(swing, swing.high, is_us), swing.leader_high),
    ]
    ends.sort(key=lambda end: end[0])
    others = [end[0] for end in reversed(ends)]
    return [
        (side, at, lead, other, then or NOBODY, STAYS if then and lead >= 0 else TURNS)
        for side, (lead, at, then), other in zip(
            ("left", "right"), ends, others, strict=True
        )
    ]


SWING_X = {
    "title": "points ahead of the best other; left of 0 another leads",
    "scale": {"padding": 62, "nice": False, "zero": True},
    "axis": {"format": ".2f", "tickCount": 5, "grid": False},
}


def swings_spec():
    """Return the spec of what moves the lead how far, without data."""
    bars = {
        "transform": [{"filter": "datum.side == 'left'"}],
        "mark": {"type": "bar", "size": 10, "yOffset": DOWN, "color": SKY}
        | {"opacity": 0.6},
        "encoding": {
            "x": _field("lead", **SWING_X),
            "x2": {"field": "other"},
            "y": _bars("what"),
        },
    }
    level = {
        "mark": {"type": "rule", "color": VERMILION, "strokeDash": [4, 3]},
        "encoding": {"x": {"datum": 0}},
    }
    now = {
        "mark": {"type": "rule", "color": INK, "strokeWidth": 1.5},
        "encoding": {"x": _field("now", aggregate="max")},
    }
    by_standing = {"title": None, "legend": _legend(columns=2)}
    points = {
        "mark": {"type": "point", "filled": True, "size": 80, "opacity": 1}
        | {"yOffset": DOWN, "stroke": INK, "strokeWidth": 0.6},
        "encoding": {
            "x": _field("lead", **SWING_X),
            "y": _bars("what"),
            "color": _field(
                "standing",
                "nominal",
                scale={"domain": [STAYS, TURNS], "range": [BLUE, VERMILION]},
                **by_standing,
            ),
            "shape": _field(
                "standing",
                "nominal",
                scale={"domain": [STAYS, TURNS], "range": ["circle", "diamond"]},
                **by_standing,
            ),
            "tooltip": [
                _field("what", "nominal"),
                _field("at", "nominal"),
                _field("lead", title="lead in points", format=".3f"),
                _field("leader", "nominal", title="then first"),
            ],
        },
    }
    return _spec([level, now, bars, points, *_values("lead", "at", SWING_X, "what")])


def _values(x, words, axis, y):
    """Return the layers that write the value beside either end of the bars."""
    return [
        {
            "transform": [{"filter": f"datum.side == '{side}'"}],
            "mark": {"type": "text", "align": align, "dx": dx, "color": INK}
            | {"yOffset": DOWN, "fontSize": 11},
            "encoding": {
                "x": _field(x, **axis),
                "y": _bars(y),
                "text": _field(words, "nominal"),
            },
        }
        for side, align, dx in (("left", "right", -9), ("right", "left", 9))
    ]


def swings_in_words(evaluation, swings, is_us=False):
    """Return what the swings show, a line for each of the widest."""
    first = evaluation.names[leader(evaluation)] if swings else ""
    lines = []
    for swing in swings[:TOP_SWINGS]:
        said = [_end_in_words(*end) for end in _ends(swing, is_us)]
        what = what_of(evaluation, swing.owner, swing.path)
        lines.append(f"{what}: lead of {first} {joined(said)}.")
    return "\n".join(lines)


def _end_in_words(_, at, lead, __, then, standing):
    is_lost = standing == TURNS
    return f"{figure(lead)} points at {at}{f' ({then})' if is_lost else ''}"


# --- how far a weight may move -------------------------------------------------------

WEIGHT_COLUMNS = ("criterion", "place", "side", "end", "other", "at", "now")


def weight_rows(evaluation, stability):
    """Return a data frame with a row for each end of a weight's range, heaviest first.

    `stability` is that of `tables.firm_record`: {criterion: [low, high]}.
    """
    import pandas as pd

    rows = []
    for place, c in enumerate(_by_weight(evaluation)):
        low, high = stability[evaluation.criteria[c].id]
        now = plain(evaluation.weights[c])
        for side, end, other in (("left", low, high), ("right", high, low)):
            label = evaluation.criteria[c].label
            rows.append((label, place, side, end, other, figure(end, "share"), now))
    return pd.DataFrame(rows, columns=WEIGHT_COLUMNS)


def _by_weight(evaluation):
    criteria = range(len(evaluation.criteria))
    return sorted(criteria, key=lambda c: -evaluation.weights[c])


WEIGHT_X = {
    "title": "weight: bar, where the lead holds; diamond, where it is now",
    "scale": {"domain": [0, 1], "padding": 36, "nice": False},
    "axis": {"format": ".0%", "values": [0, 0.25, 0.5, 0.75, 1], "grid": False},
}


def weights_spec():
    """Return the spec of how far each weight may move, without data."""
    left = [{"filter": "datum.side == 'left'"}]
    shared = {
        "y": _bars("criterion"),
        "tooltip": [
            _field("criterion", "nominal", title="what matters"),
            _field("now", title="it weighs", format=".1%"),
            _field("end", title="the lead holds from", format=".1%"),
            _field("other", title="to", format=".1%"),
        ],
    }
    bars = {
        "transform": left,
        "mark": {"type": "bar", "size": 10, "yOffset": DOWN, "color": SKY}
        | {"opacity": 0.6},
        "encoding": {"x": _field("end", **WEIGHT_X), "x2": {"field": "other"}} | shared,
    }
    now = {
        "transform": left,
        "mark": {"type": "point", "shape": "diamond", "filled": True, "size": 90}
        | {"color": ORANGE, "opacity": 1, "yOffset": DOWN}
        | {"stroke": INK, "strokeWidth": 0.6},
        "encoding": {"x": _field("now", **WEIGHT_X)} | shared,
    }
    return _spec([bars, now, *_values("end", "at", WEIGHT_X, "criterion")])


def weights_in_words(evaluation, stability):
    """Return how far each weight may move, a line for each criterion."""
    lines = []
    for c in _by_weight(evaluation):
        criterion = evaluation.criteria[c]
        low, high = (figure(end, "share") for end in stability[criterion.id])
        now = figure(evaluation.weights[c], "share")
        lines.append(
            f"{criterion.label}: now {now}; the lead holds from {low} to {high}."
        )
    return "\n".join(lines)


# --- the best machine over jobs a month and wall area --------------------------------

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


def map_spec(names, nobody=NOBODY, is_us=False):
    """Return the spec of a map, without data; the same for the same machines.

    Each machine keeps its colour on both maps; where none is best the ground is grey.
    """
    unit = in_units(1, "m²", is_us)[1]
    ground = {"nice": False, "zero": False}
    x = {"title": "jobs a month", "scale": ground, "axis": {"grid": False}}
    y = {"title": f"mean area of a wall, {unit}", "scale": ground}
    y["axis"] = {"grid": False}
    colours = [PALETTE[n % len(PALETTE)] for n in range(len(names))]
    cells = {
        "transform": [{"filter": "datum.kind == 'cell'"}],
        "mark": {"type": "rect", "strokeWidth": 0},
        "encoding": {
            "x": _field("left", **x),
            "x2": {"field": "right"},
            "y": _field("low", **y),
            "y2": {"field": "high"},
            "color": _field(
                "best",
                "nominal",
                title=None,
                scale={"domain": [*names, nobody], "range": [*colours, GREY]},
                legend=_legend(columns=2, symbolType="square"),
            ),
            "tooltip": [
                _field("best", "nominal", title="best"),
                _field("jobs", title="jobs a month", format=".1f"),
                _field("wall", title=f"area of a wall, {unit}", format=".1f"),
            ],
        },
    }
    own = {"filter": "datum.kind == 'own'"}
    across = {
        "x": _field("left", **x),
        "x2": {"field": "right"},
        "y": _field("wall", **y),
    }
    upwards = {
        "x": _field("jobs", **x),
        "y": _field("low", **y),
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
            "x": _field("jobs", **x),
            "y": _field("wall", **y),
            "tooltip": [
                _field("said", "nominal", title="here"),
                _field("jobs", title="jobs a month", format=".1f"),
                _field("left", title="from", format=".1f"),
                _field("right", title="to", format=".1f"),
                _field("wall", title=f"area of a wall, {unit}", format=".1f"),
                _field("low", title="area from", format=".1f"),
                _field("high", title="area to", format=".1f"),
            ],
        },
    }
    return _spec([cells, *cross, point], height=430)


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
