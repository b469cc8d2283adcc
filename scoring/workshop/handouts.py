"""A pack → hand-outs to print, and the trainer's key: HTML without outside parts."""

from functools import cache
from pathlib import Path

from scoring.words.cautions import CAUTIONS, DECIDES
from scoring.workshop.papers import (
    STAGE_WORDS,
    SWAP_WORDS,
    brief_groups,
    buyer_papers,
    envelope_worths,
    key_pages,
    sheets,
    what_decides,
)

TEMPLATES = Path(__file__).parent / "templates"
SHOWN = ("lifting", "odour", "lamp", "ink", "money")
FORMS = {"long": "The long form", "hour": "In 60 minutes"}


def handouts(pack, found, firm):
    """Return {file name: HTML}: scenario, sheets, buyers, forms, envelopes, key.

    Names from files are shown as they are written; only the key tells machines' names.

    Parameters
    ----------
    pack : Pack
    found : sequence of Solved, the pack's
    firm : Firmness of the buyer for whom the seller is visited
    """
    papers = buyer_papers(pack, found)
    worths, best = envelope_worths(pack, firm)
    told = {
        "plan": pack.plan,
        "letters": pack.letters,
        "stage_words": STAGE_WORDS,
        "forms": FORMS,
        "cautions": [CAUTIONS[name] for name in SHOWN],
        "who_decides": DECIDES,
        "currency": pack.visitor.currency,
    }
    pages = {
        "scenario": {},
        "sheets": {"sheets": sheets(pack)},
        "buyers": {"papers": papers[:-1]},
        "sixth-buyer": {"papers": papers[-1:]},
        "forms": {"swap_words": SWAP_WORDS},
        "envelopes": {
            "visitor": brief_groups(pack.visitor),
            "title": pack.visitor.title,
        },
        "key": {
            "pages": key_pages(pack, found),
            "worths": worths,
            "best": best,
            "decides": what_decides(pack, found),
        },
    }
    return {
        f"{name}.html": filled(_file(name), **told, **own)
        for name, own in pages.items()
    }


def _file(name):
    return "buyers.html" if name == "sixth-buyer" else f"{name}.html"


def filled(template, **told):
    """Return a template of this folder with what is told put in, all of it escaped."""
    return _template(template).render(**told)


@cache
def _template(name):
    """Return a page's template, which escapes all that is put into it."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined  # only here

    environment = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined
    )
    return environment.get_template(name)
