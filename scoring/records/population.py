"""Many buyers as a JSON-ready record."""

from dataclasses import asdict

from scoring.population.buyers import NONE
from scoring.population.shown import TIMES
from scoring.population.tree import Leaf
from scoring.records.plain import plain


def population_record(shown):
    """Return the record of what is Shown."""
    population = shown.population

    def name(k):
        return None if k is None or k == NONE else population.names[k]

    def middles(figures):
        pairs = zip(population.differs, figures, strict=True)
        return {differs.name: figure for differs, figure in pairs}

    def node(here):
        if isinstance(here, Leaf):
            return asdict(here) | {"machine": name(here.machine)}
        differs = population.differs[here.differs]
        asks = {"differs": differs.name}
        if here.choice is None:
            asks |= {"below": here.threshold, "unit": differs.unit}
        else:
            asks |= {"is": differs.choices[here.choice]}
        return asks | {"yes": node(here.yes), "no": node(here.no)}

    told = asdict(shown.advice) | {"root": node(shown.advice.root)}
    told["commonest"] = name(shown.advice.commonest)
    told["importance"] = middles(shown.advice.importance)
    drawn = asdict(shown.crowd_map)
    drawn["cells"] = [
        cell | {"machine": name(cell["machine"])} for cell in drawn["cells"]
    ]
    record = {
        "title": population.title,
        "currency": population.currency,
        "buyers": len(population),
        "buyers_asked": population.n_asked,
        "draws": population.n_draws,
        "seed": population.seed,
        "machine": name(shown.machine),
        "times": shown.times,
        "machines": [
            {
                "name": name(each.machine),
                "share": each.share,
                "middle": middles(each.middles),
                "costs_if_all": each.lost,
                "ruled_out": each.out,
                "share_by_price": dict(
                    zip(map(str, TIMES), each.by_price, strict=True)
                ),
            }
            for each in shown.for_whom
        ],
        "none_within_limits": shown.none,
        "middle": middles(shown.middles),
        "map": drawn,
        "tree": told,
    }
    return _json_ready(record)


def _json_ready(part):
    if isinstance(part, dict):
        return {name: _json_ready(each) for name, each in part.items()}
    if isinstance(part, list | tuple):
        return [_json_ready(each) for each in part]
    return plain(part)
