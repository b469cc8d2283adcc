"""How often each machine takes each place."""

from scoring.charts.base import (
    BLUE,
    DOWN,
    GREY,
    INK,
    bars_named,
    encoded,
    legend_below,
    whole_spec,
)
from scoring.words.figures import figure, joined

N_PLACES = 5  # places with a colour of their own
OUT = "ruled out"
ORDINALS = {1: "st", 2: "nd", 3: "rd"}
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
            "x": encoded(
                "share",
                title="share of the draws",
                stack="zero",
                scale={"domain": [0, 1]},
                axis={"format": ".0%", "values": [0, 0.25, 0.5, 0.75, 1]},
            ),
            "y": bars_named("line"),
            "color": encoded(
                "standing",
                "ordinal",
                title=None,
                scale={"domain": list(STANDINGS), "range": list(RAMP)},
                legend=legend_below(
                    columns=4, symbolType="square", symbolStrokeColor=INK
                ),
            ),
            "order": encoded("standing_place"),
            "tooltip": [
                encoded("machine", "nominal"),
                encoded("standing", "nominal", title="place"),
                encoded("share", title="share of draws", format=".1%"),
            ],
        },
    }
    return whole_spec([bars])


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
