"""A pooled figure that is far off its claim is told where logs are pooled."""

from click.testing import CliRunner

from scoring.commands import main
from tests import cases

QUOTED = "assembly_time: {value: 20 min, basis: quoted}"


def test_a_pooled_figure_far_off_is_told(tmp_path):
    """Builds of 2,400 min where 20 are claimed: 120 times, beside what is learnt."""
    (tmp_path / "machines").mkdir()
    text = cases.MACHINE.format(**cases.FIGURES)
    sheet = cases.edited(text, [("assembly_time: 20 min", QUOTED)])
    (tmp_path / "machines" / "alder.yaml").write_text(sheet, "utf-8")
    rows = [f"2026-0{k + 3}-02,hall,2400" for k in range(3)]
    log = tmp_path / "log.csv"
    log.write_text("\n".join(["day,kind,build", *rows]) + "\n", "utf-8")
    folder = ["--machines", str(tmp_path / "machines")]
    asked = ["log", "--pool", str(log), "--machine", "Alder", *folder]
    outcome = CliRunner().invoke(main, asked)
    assert outcome.exit_code == 0, outcome.output
    said = "Alder, assembly_time: 120 times what the seller claims, counted as 50 times"
    assert said in outcome.stderr and said not in outcome.stdout
