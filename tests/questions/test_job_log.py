"""What a job log changes: field by field, before it is taken over."""

import pytest
import yaml

from scoring.errors import ScoringError
from scoring.inputs.brief_files import load_brief
from scoring.inputs.job_log import load_job_log
from scoring.inputs.machine_folder import read_machine
from scoring.questions.job_log import (
    BRIEF,
    SHEET,
    from_log,
)
from scoring.questions.log_claims import pooled_ratios
from scoring.questions.log_taken_over import taken_over
from tests.cases import brief, job, machine

QUOTED = (("assembly_time: 20 min", "assembly_time: {value: 20 min, basis: quoted}"),)
LOG = """\
day,kind,passes,area,build,print,paid EUR,days_to_pay,won
2026-03-02,hall,4,8,30,140,520,10,
2026-03-12,hall,4,8,32,145,500,14,
2026-03-22,Hall,4,8,28,150,540,12,
2026-03-28,hall,,,,,,,no
2026-04-01,landing,4,6,30,112,300,20,
"""


def log(text=LOG):
    return load_job_log(("log.csv", text.encode()))


def case():
    return brief(job(name="hall", price=500), job(name="attic"))


def by_path(found):
    return {(change.file, change.path): change for change in found.changes}


def test_each_field_is_told_before_and_after():
    """What stands there, what the log says, and from how many jobs."""
    found = from_log(log(), machine(*QUOTED), case())
    changes = by_path(found)
    build = changes[SHEET, "assembly_time"]
    assert (build.before, build.n) == ("20 min, quoted", 4)
    # mean 30, s = √(8/3), t(0.975, 3) = 3.182: 30 ± 2.598
    assert build.after_text == "27.4..30..32.6 min"
    # 60 · 30 m² / 547 min = 3.29 m²/h over four jobs
    assert changes[SHEET, "speed.4"].after_text.split("..")[1] == "3.29"
    price = changes[BRIEF, "work.0.price.per_job"]
    assert price.after_text.split("..")[1] == "520" and price.n == 3
    assert (BRIEF, "trade.days_to_pay") in changes
    assert changes[BRIEF, "bank.enquiries_won"].after_text.split("..")[1] == "80"
    # 3 of 4 jobs; 30 days from the first to the last are 3 of 5 gaps, so all are 50
    per_month = changes[BRIEF, "work.0.per_month"].after_text
    assert per_month.split("..")[1] == f"{3 / (50 / (365.25 / 12)):.3g}"


def test_what_is_not_changed_is_said():
    """A kind that the brief does not know, one that the log lacks, no stoppage."""
    found = from_log(log(), machine(), case())
    said = {note.path: note.why for note in found.notes}
    assert said["landing"].startswith("1 job in the log; no such kind of job")
    assert said["work.1"] == "not in the log"
    assert said["reliability.jobs_between_stoppages"] == (
        "no stoppage in 4 jobs, which shows 1 job between them at least (95 % sure)"
    )


def test_taking_over_writes_files_that_are_read_without_a_fault():
    """Sheet and brief say what the log said; what was left out stays."""
    found = from_log(log(), machine(*QUOTED), case())
    sheet = read_machine(("alder.yaml", taken_over(found, SHEET).encode()))
    assert sheet.assembly_time.basis == "measured"
    assert sheet.assembly_time.likely == pytest.approx(30)
    assert sheet.speed[4].likely == pytest.approx(3.29)
    text = taken_over(found, BRIEF, left_out=["trade.days_to_pay"])
    again = load_brief(("brief.yaml", text.encode()))
    assert again.work[0].price.per_job.likely == 520
    assert again.trade == case().trade
    assert again.trust.learnt["time"].sellers["Alder"].ratio > 1.2
    assert yaml.safe_load(text)["work"][1] == yaml.safe_load(case().text)["work"][1]


def test_learning_goes_on_from_what_the_brief_holds():
    """A second log by the same seller makes the ratio surer, not a new one."""
    first = from_log(log(), machine(*QUOTED), case())
    known = load_brief(("brief.yaml", taken_over(first, BRIEF).encode()))
    second = from_log(log(), machine(*QUOTED), known)
    assert second.claims["time"].unsure < first.claims["time"].unsure
    assert second.claims["time"].seen == 2


def test_timed_prints_of_the_sheet_go_first():
    """A log does not overrule a print that was timed as such."""
    tests = "print_tests: [{passes: 4, width: 1 m, height: 1 m, time: 15 min}]"
    found = from_log(log(), machine(more=tests), case())
    assert (SHEET, "speed.4") not in by_path(found)
    assert "speed.4" in {note.path for note in found.notes}


def test_speeds_are_told_as_if_nothing_was_skipped():
    """Where a quarter is left blank and skipped, the head ran over three quarters."""
    skips = machine(more="features: [skip_blank]")
    blank = brief(
        job(name="hall", more="    blank_share: 25 %\n"),
        job(name="landing", more="    blank_share: 25 %\n"),
    )
    found = by_path(from_log(log(), skips, blank))
    speed = float(found[SHEET, "speed.4"].after_text.split("..")[1])
    assert speed == pytest.approx(0.75 * 60 * 30 / 547, abs=0.01)
    kept = from_log(log(), skips)
    assert (SHEET, "speed.4") not in by_path(kept)


def test_pooled_logs_need_a_machine_for_each_row():
    """Rows by machines without a sheet, or by none, are told of all logs at once."""
    other = log("day,kind,machine\n2026-03-02,hall,Cedar\n")
    with pytest.raises(ScoringError) as raised:
        pooled_ratios([log(), other], {"Alder": machine()})
    assert len(str(raised.value).splitlines()) == 2
    (ratio,) = pooled_ratios([log()], {"Alder": machine(*QUOTED)}, "Alder")
    assert ratio.timed / ratio.claimed == pytest.approx(1.5)


def test_few_jobs_promise_no_more_than_they_showed():
    """The mean of each range taken over is that of the log, or on the worse side."""
    stops = LOG.replace("won\n", "won,days_down\n").replace(
        "28,150,540,12,", "28,150,540,12,,2"
    )
    changes = by_path(from_log(log(stops), machine(), case()))

    def mean(key):
        low, likely, high = (float(end) for end in changes[key].after_text.split(".."))
        return (low + 4 * likely + high) / 6

    assert mean((BRIEF, "work.0.per_month")) <= 3 / (50 / (365.25 / 12)) * 1.005
    # one stoppage in four jobs: Gamma(1.5, 4), a mean rate of 3/8
    assert mean((SHEET, "reliability.jobs_between_stoppages")) <= 8 / 3 * 1.005
    assert (SHEET, "reliability.days_down") not in changes


PARTS = """\
day,kind,area,paid EUR
2026-03-02,hall,8,{}
2026-03-12,hall,12,{}
2026-03-22,hall,20,{}
"""


@pytest.mark.parametrize("fee", [0, 90, 250])
def test_a_price_by_area_is_told_apart_from_the_fee_for_artwork(fee):
    """Rows made up as fee + 45 · area give 45 back: a straight line, exactly."""
    text = PARTS.format(*(fee + 45 * area for area in (8, 12, 20)))
    told = brief(by_area("60 EUR/m2", f"{fee} EUR"))
    change = by_path(from_log(log(text), machine(), told))
    price = change[BRIEF, "work.0.price.per_m2"]
    assert price.after_text == "45..45..45 EUR/m²" and price.n == 3


def by_area(price, fee):
    """Return a kind of job paid by area, and a fee for its artwork."""
    text = job(name="hall", price=500)
    new = f"price: {{per_m2: {price}}}\n    artwork_fee: {fee}"
    assert text.count("price: {per_job: 500 EUR}") == 1, text
    return text.replace("price: {per_job: 500 EUR}", new)


def test_bands_of_size_stay_and_it_is_said_what_they_ask():
    """4 m × 2 m is 8 m², in the second band: 8 · 50 + 90 = 490 EUR, by hand."""
    price = "60 EUR/m2}, {up_to: 10 m2, per_m2: 50 EUR/m2}, {per_m2: 40 EUR/m2}]"
    bands = f"[{{up_to: 5 m2, per_m2: {price}"
    text = by_area("60 EUR/m2", "90 EUR").replace("{per_m2: 60 EUR/m2}\n", "@\n")
    told = brief(text.replace("@", f"{{bands: {bands}}}"))
    found = from_log(log(PARTS.format(450, 630, 990)), machine(), told)
    assert not [path for _, path in by_path(found) if "price" in path]
    (why,) = [note.why for note in found.notes if note.path == "work.0.price"]
    assert "690 EUR paid a job" in why and "for its 8 m² it asks 490 EUR" in why


def test_without_areas_a_price_by_area_stays():
    """What was paid cannot be held against areas that nobody wrote."""
    text = "day,kind,paid EUR\n" + "".join(
        f"2026-03-{day},hall,450\n" for day in (10, 15, 20)
    )
    found = from_log(log(text), machine(), brief(by_area("60 EUR/m2", "0 EUR")))
    assert not [path for _, path in by_path(found) if "price" in path]
    (why,) = [note.why for note in found.notes if note.path == "work.0.price"]
    assert "no areas" in why
