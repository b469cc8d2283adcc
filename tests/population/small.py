"""A small template, invented, for tests of many buyers."""

from scoring.inputs.machine_folder import read_machine
from tests import cases

BUYERS = """\
buyers:
  differ:
    - {name: cash, key: money.cash, between: 9000..20000..60000 EUR}
    - {name: work, key: work.*.per_month, times: 0.3..1..3}
    - {name: lifting, key: crew.lift_limit, between: 10..20..40 kg, evenly: true}
    - name: crew
      key: crew.people
      one_of: [{value: 1, share: 60 %, called: alone}, {value: 2, share: 40 %}]
  together: [{of: [cash, work], correlation: 0.5}]
"""


def template_text(buyers=BUYERS, edits=()):
    """Return the YAML of a small template."""
    crew = ", wage: 10 EUR/h"
    text = cases.brief_text(crew=crew, closed="[-0.2, 0, 0.2]", more=buyers)
    return cases.edited(text, edits)


def write_case(folder):
    """Write a template and two machine sheets; return the template's path."""
    (folder / "machines").mkdir()
    for name, figures in {
        "Alder": {"price": 9000, "lift": 22, "speed": "4: 3 m²/h"},
        "Birch": {"price": 24000, "lift": 30, "speed": "4: 9 m²/h", "quality": 5},
    }.items():
        text = cases.MACHINE.format(**{**cases.FIGURES, "name": name, **figures})
        path = folder / "machines" / f"{name.lower()}.yaml"
        path.write_text(text, "utf-8")
        read_machine(path)
    path = folder / "many.yaml"
    path.write_text(template_text(), "utf-8")
    return path
