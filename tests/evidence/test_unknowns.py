"""What nobody tells counts as a wide guess, whatever other sheets are loaded."""

import numpy as np
import pytest

from scoring import evaluate, load_brief
from scoring.errors import InputFaults
from scoring.evidence.sheet_figures import FIELDS
from scoring.inputs.guesses import guesses
from scoring.inputs.machine_folder import read_machine
from tests import cases
from tests.cases import PROFILES, brief, demo_machines, machine

RESALE = "resale: 0 EUR"


def test_an_untold_resale_is_a_share_of_the_price():
    """0..12..30 % of 10 000 and of 20 000, alone or beside another sheet."""
    for price, ends in ((10000, (0, 1200, 3000)), (20000, (0, 2400, 6000))):
        silent = machine((RESALE, "resale: unknown"), name="Cedar", price=price)
        for others in ([], [machine(name="Alder")]):
            found = evaluate(brief(), [*others, silent]).evidence["Cedar", "resale"]
            assert (found.low, found.likely, found.high) == pytest.approx(ends)
            assert found.is_unknown and "of the price" in found.note


def test_a_brief_may_guess_otherwise():
    """A guess of the brief replaces the table's; one that cannot be read is a fault."""
    silent = machine(("response: 1 day", "response: unknown"), name="Cedar")
    asked = brief(more="guesses: {support.response: 2..3..10 day}\n")
    found = evaluate(asked, [silent]).evidence["Cedar", "support.response"]
    assert (found.low, found.likely, found.high) == (2, 3, 10)
    wrong = brief(more="guesses: {support.response: 3 kg}\n")
    with pytest.raises(InputFaults) as caught:
        evaluate(wrong, [silent])
    (fault,) = caught.value.faults
    assert fault.key == "guesses.support.response"
    assert "guesses" in wrong.text.splitlines()[fault.line - 1]


def test_every_optional_figure_has_a_guess():
    """Each figure a sheet may leave out has a guess, or a reason to have none."""
    no_guess = {
        "rail_length": "none means unlimited",
        "carriage.strip_width": "without it, printing goes by the area rate",
        "carriage.head_speed": "as above",
        "carriage.turnaround": "as above",
    }
    known = set(guesses()) | {"odour.preparing", "odour.printing"}
    assert {f.path for f in FIELDS} - known == set(no_guess)


N_DRAWS = 200
SILENT = (
    *("vehicle", "surfaces", "pieces", "resale", "upkeep", "max_print_height"),
    *("lowest_print_height", "side_clearance", "head_gap", "spoilt_share"),
    *("reliability", "support", "landed_cost", "ink", "wear"),
)


@pytest.mark.parametrize("name", ["new-entrant", "workshop", "second-rig"])
def test_silence_never_helps(name):
    """Leaving a key out of a sheet of the demo never raises its year or its score.

    But for surfaces, of which silence leaves a doubt where a list would exclude. All
    machines are silent on one key at a time, on the scale of all as they are: no other
    sheet moves a machine's figures.
    """
    brief_file = PROFILES / "briefs" / f"{name}.yaml"
    base = evaluate(load_brief(brief_file), demo_machines(), n_draws=N_DRAWS)
    before = base.outcome.year.result[0, :, 0]
    points = base.scores @ base.weights
    for key in SILENT:
        if key == "surfaces":
            continue
        fewer = [silent_on(machine_, key) for machine_ in base.machines]
        found = evaluate(base.brief, fewer, scale=base.scale, n_draws=N_DRAWS)
        year = found.outcome.year.result[0, :, 0]
        # other streams of chance: a thousandth
        helped = year > before + 1e-3 * abs(before)
        helped |= found.scores @ base.weights > points + 1e-3
        assert not helped.any(), (key, np.array(base.names)[helped])


def silent_on(machine_, key):
    """Return a machine without a key that its sheet holds."""
    if key not in machine_.model_fields_set:
        return machine_
    return machine_.model_copy(update={key: DEFAULTS[key]})


def test_a_machine_alone_is_as_among_all():
    """On the scale of all, one machine's figures do not move when it stands alone."""
    base = cases.demo("workshop")
    for machine_ in demo_machines()[:3]:
        k = base.index(machine_.name)
        alone = evaluate(base.brief, [machine_], scale=base.scale)
        assert alone.scores[0] == pytest.approx(base.scores[k])
        assert alone.expected.npv[0, 0] == pytest.approx(base.expected.npv[0, k])
        year = alone.outcome.year.result[0, 0, 0]
        assert year == pytest.approx(base.outcome.year.result[0, k, 0])


def bare():
    """Return a sheet that tells no more than it has to."""
    text = (PROFILES / "machines" / "thrumble-lite.yaml").read_text(encoding="utf-8")
    must = ("name", "price", "speed", "assembly_time", "pack_down_time", "prime_time")
    must += ("move_time", "heaviest_lift", "odour", "subscription_fees")
    kept, is_kept = [], False
    for line in text.splitlines():
        if line and not line.startswith((" ", "#")):
            is_kept = line.split(":")[0] in must
        if is_kept:
            kept.append(line)
    return read_machine(("bare.yaml", "\n".join(kept).encode()))


DEFAULTS = {key: getattr(bare(), key) for key in SILENT}
