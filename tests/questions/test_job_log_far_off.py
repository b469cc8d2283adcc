"""What a job log says that cannot be taken as it stands is told, not left out."""

import math

import pytest

from scoring.evidence.claims import FARTHEST, Ratio, learnt
from scoring.inputs.claims import ClaimsLearnt, claims_text, load_claims
from scoring.inputs.job_log import load_job_log
from scoring.questions.job_log import BRIEF, SHEET, from_log
from scoring.words.job_log import kept_in_words
from tests.cases import brief, job, machine

QUOTED = (("assembly_time: 20 min", "assembly_time: {value: 20 min, basis: quoted}"),)
FLAT = ClaimsLearnt(ratio=1, unsure=0.1, between_sellers=0.0, between_figures=0.1)


def log(text):
    return load_job_log(("log.csv", text.encode()))


def builds(*minutes):
    rows = [f"2026-03-{k + 2:02},hall,{took}" for k, took in enumerate(minutes)]
    return log("\n".join(["day,kind,build", *rows]) + "\n")


def test_a_figure_far_off_its_claim_is_told_and_counted_as_fifty_times():
    """Builds of 2,400 min where 20 are claimed: 120 times, most likely a wrong unit."""
    found = from_log(builds(2400, 2400, 2400), machine(*QUOTED), brief(job()))
    (note,) = [each for each in found.notes if each.path == "assembly_time"]
    assert note.file == SHEET
    said = "the log says 120 times what the seller claims, counted as 50 times off"
    assert note.why.startswith(said)
    assert any(said in line for line in kept_in_words(found))
    assert load_claims(("p.yaml", claims_text(found.claims, "1 log").encode())).learnt


@pytest.mark.parametrize(("timed", "log_of"), [(6000, 50), (0.01, 1 / 50), (30, 1.5)])
def test_beyond_fifty_times_a_timing_says_no_more(timed, log_of):
    """By hand: prior N(0, 0.1²), one log of scatter 0.1: half of the way."""
    ratio = Ratio("Alder", "time", "assembly_time", timed, 20.0, 0.0)
    found = learnt([ratio], {"time": FLAT})["time"]
    assert FARTHEST == 50  # own estimate, no source
    assert math.log(found.ratio) == pytest.approx(math.log(log_of) / 2, rel=1e-6)


def test_a_price_that_the_fee_for_artwork_eats_up_is_told():
    """Jobs paid 60, 90 and 120 with a fee of 80 in the brief: no price is left."""
    case = brief(job(name="hall", price=500, more="    artwork_fee: 80 EUR\n"))
    rows = "2026-03-02,hall,60\n2026-03-12,hall,90\n2026-03-22,hall,120\n"
    found = from_log(log("day,kind,paid EUR\n" + rows), machine(), case)
    assert not [change for change in found.changes if "price" in change.path]
    said = "90 EUR paid a job, for some no more than the brief's fee for artwork"
    assert (BRIEF, "work.0.price", said) in found.notes


def test_a_busy_week_does_not_tell_a_year():
    """Three jobs in three days would be twenty-odd a month: told, not taken over."""
    busy = "2026-03-02,hall\n2026-03-03,hall\n2026-03-04,hall\n"
    found = from_log(log("day,kind\n" + busy), machine(), brief(job(name="hall")))
    assert not [c for c in found.changes if c.path.startswith("work.0")]
    # two days between the first and the last are two of four gaps
    why = "the log stands for 4 days, too few to tell jobs a month"
    assert (BRIEF, "work.0.per_month", why) in found.notes


@pytest.mark.parametrize(("lost", "is_taken"), [(1, False), (2, True)])
def test_a_share_won_of_two_is_no_share(lost, is_taken):
    """One job won of two or of three that were asked for: three are the fewest."""
    rows = "2026-03-02,hall,yes\n" + "2026-04-02,hall,no\n" * lost
    found = from_log(log("day,kind,won\n" + rows), machine(), brief(job(name="hall")))
    taken = [c for c in found.changes if c.path == "bank.enquiries_won"]
    assert bool(taken) is is_taken
    noted = [note for note in found.notes if note.path == "bank.enquiries_won"]
    assert bool(noted) is not is_taken


def test_rows_of_a_machine_that_no_sheet_is_called_are_told():
    """A name misspelt is not lost without a word; another's rows are its own."""
    rows = "2026-03-02,hall,Alder\n2026-03-12,hall,Aldr\n2026-03-22,hall,Birch\n"
    done = log("day,kind,machine\n" + rows)
    found = from_log(done, machine(), None, None, ["Alder", "Birch"])
    assert found.seen.n_jobs == 1
    (note,) = [each for each in found.notes if each.path == "machine"]
    said = "1 row names 'Aldr', as no sheet is called, did you mean 'Alder'?"
    assert note.why == said + "; not counted"
    assert f"machine: {note.why}." in kept_in_words(found)
