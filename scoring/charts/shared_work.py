"""Which rig of a choice does how many of which jobs, as stacked bars."""

from scoring.charts.base import (
    DOWN,
    GREY,
    bars_named,
    colours,
    encoded,
    legend_below,
    whole_spec,
)
from scoring.words.figures import number

NOBODY = "not done"
HARDLY = 1e-9  # jobs a month
COLUMNS = ("job", "place", "rig", "layer", "jobs", "said")


def shared_work_rows(found, choice):
    """Return a row for each kind of job and rig that does some, then what nobody does.

    Of each kind the bars of all rigs, and of what is not done, sum to what is wanted.
    """
    import pandas as pd

    wanted = found.evaluation.figures.jobs.per_month[0, 0]
    rigs = [rig.name for rig in choice.rigs]
    rows = []
    for place, (job, done) in enumerate(choice.assignment.items()):
        line = f"{job} · {number(float(wanted[place]), 1)} wanted"
        left = float(wanted[place]) - sum(done.values())
        parts = [(rig, done.get(rig, 0.0)) for rig in rigs] + [(NOBODY, left)]
        rows += [
            (line, place, rig, layer, jobs, f"{number(jobs, 1)} a month")
            for layer, (rig, jobs) in enumerate(parts)
            if jobs > HARDLY
        ]
    return pd.DataFrame(rows, columns=list(COLUMNS))


def shared_work_spec(found, choice):
    """Return the spec: a bar a kind of job, its parts in the colours of the machines.

    Two rigs of one machine are told apart by how strong the colour is.
    """
    colour = colours(found.evaluation.names)
    rigs = [rig.name for rig in choice.rigs]
    shades = [colour[rig.machine] for rig in choice.rigs]
    alike = [shades.index(shade) < n for n, shade in enumerate(shades)]
    named = [*rigs, NOBODY]
    scale = {"domain": named, "range": [*shades, GREY]}
    faint = {"domain": named, "range": [*(0.45 if a else 1.0 for a in alike), 0.5]}
    bar = {
        "mark": {"type": "bar", "size": 12, "yOffset": DOWN},
        "encoding": {
            "y": bars_named("job"),
            "x": encoded("jobs", title="jobs a month", stack="zero"),
            "color": encoded(
                "rig", "nominal", title=None, scale=scale, legend=legend_below()
            ),
            "opacity": encoded("rig", "nominal", scale=faint, legend=None),
            "order": encoded("layer"),
            "tooltip": [
                encoded("job", "nominal"),
                encoded("rig", "nominal"),
                encoded("said", "nominal", title="jobs"),
            ],
        },
    }
    return whole_spec([bar])
