"""The screen "Jobs done": fields before they are taken over, predictions afterwards."""

from pathlib import Path

import pytest

from scoring.inputs.job_log import load_job_log
from scoring.inputs.prediction import prediction_text
from scoring.questions.lived import freeze
from scoring.words.lived import verdict
from tests.page.pages import ROOT, echo, half_of, opened, shown

pytestmark = pytest.mark.usefixtures("half")
NAME = "Lindqvar Plain"
LOG = Path(ROOT / "profiles/logs/corrandale-frame.csv").read_bytes()


def sent(page, data=LOG, name="jobs.csv"):
    page.selectbox(key="job_log_machine").set_value(NAME).run()
    page.file_uploader(key="upload_job_log").upload(name, data, "text/csv").run()
    assert not page.exception, page.exception[0].stack_trace
    return page


def test_each_field_is_shown_before_it_is_taken_over():
    """What stands there and what the log says; the case is as it was."""
    page = sent(opened("log"))
    text = shown(page)
    assert "16 jobs, 2026-05-04 to 2026-10-16" in text
    assert "(the sheet says 19" in text
    assert "24.6..26.6..28.7 min" in text and "19 min, measured" in text
    assert echo(page)["job_log"] == 19
    assert "with jobs done" not in echo(page)["brief"]


def test_taking_over_changes_what_all_screens_use_but_for_what_is_left():
    """The sheet's build is measured by the log; days to pay stay as they were."""
    page = sent(opened("log"))
    leave = page.multiselect(key="job_log_leave")
    leave.set_value(["brief trade.days_to_pay"]).run()
    page.button(key="job_log_take").click().run()
    assert not page.exception, page.exception[0].stack_trace
    machine = page.session_state["sent"]["machine"][NAME]
    minutes = [r.build for r in load_job_log(("log.csv", LOG)).rows if r.is_won]
    mean = sum(minutes) / len(minutes)
    assert machine.assembly_time.likely == pytest.approx(mean, rel=0.01)
    (brief,) = page.session_state["sent"]["brief"].values()
    assert brief.trade == half_of().brief.trade
    assert brief.work[0].basis == "sold"
    assert "All screens now use what the log says." in shown(page)
    assert "with jobs done" in echo(page)["brief"]


def test_faults_of_a_log_are_told_by_row():
    """A table with faults leaves what was read before."""
    page = sent(opened("log"), b"day,kind\n2026-02-30,hall\n")
    assert "jobs.csv:2: day: '2026-02-30' is no day" in shown(page)
    assert echo(page)["job_log"] is None


def test_a_prediction_is_compared_with_the_log():
    """The sentence is the engine's, and the chart is there."""
    from scoring.inputs.prediction import load_prediction
    from scoring.questions.lived import lived, report_card

    data = prediction_text(freeze(half_of(), NAME, "2026-04-20")).encode()
    page = sent(opened("log", folds=("lived", "freeze")))
    upload = page.file_uploader(key="upload_prediction")
    upload.upload("frozen.yaml", data, "application/yaml").run()
    assert not page.exception, page.exception[0].stack_trace
    record = load_prediction(("frozen.yaml", data))
    card = report_card([lived(record, load_job_log(("log.csv", LOG)))])
    assert verdict(card).split(":")[1][:20] in shown(page)


def test_many_predictions_make_a_report_card():
    """Each goes with the log of its name; one left alone is told of."""
    data = prediction_text(freeze(half_of(), NAME, "2026-04-20")).encode()
    page = opened("log", folds=("many_lived",))
    pairs = [
        (f"{name}{end}", what, kind)
        for name in ("ash", "birch")
        for end, what, kind in (
            (".yaml", data, "application/yaml"),
            (".csv", LOG, "text/csv"),
        )
    ]
    upload = page.file_uploader(key="upload_many_lived")
    upload.set_value(pairs).run()
    assert not page.exception, page.exception[0].stack_trace
    assert "2 predictions, " in shown(page)
    page.file_uploader(key="upload_many_lived").set_value(pairs[:3]).run()
    assert "birch: one without the other; a prediction and its log" in shown(page)
