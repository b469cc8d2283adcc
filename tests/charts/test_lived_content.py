"""The chart of predicted against lived shows what the figures say."""

from scoring.charts.lived import MOST, lived_rows_data, lived_spec
from scoring.inputs.prediction import PredictionFile
from scoring.questions.lived import Lived, Scored


def scored(lived, is_inside, part="build", p50=20.0):
    return Scored(
        *(part, "", "min", 9, 15.0, p50, 30.0),
        lived=lived,
        unsure=1.0,
        is_inside=is_inside,
        place=0.5,
        crps=1.0,
        crps_share=0.05,
        mean=21.0,
        spread=4.0,
    )


def found(*figures):
    return Lived(PredictionFile.model_construct(), 9, figures, ())


def test_each_figure_is_a_share_of_its_middle():
    """15..20..30 and 25 lived stand at 75 %, 100 %, 150 % and 125 %."""
    (row,) = lived_rows_data(found(scored(25.0, True)))
    shares = [row[name] for name in ("low", "middle", "high", "lived")]
    assert shares == [0.75, 1.0, 1.5, 1.25]
    assert row["standing"] == "within"


def test_what_lies_far_off_stands_at_the_edge_and_a_middle_of_0_has_no_share():
    """Ten times the middle does not squeeze all others; nothing is divided by 0."""
    far = scored(200.0, False)
    rows = lived_rows_data(found(far, scored(1.0, True, "move", p50=0.0)))
    assert [row["lived"] for row in rows] == [MOST]
    assert rows[0]["standing"] == "outside"
    assert lived_spec(found(far))["data"]["values"] == rows
