"""Small faults planted one by one: do the tests see them?

    python -m tests.planted                 all of them, each against its own tests
    python -m tests.planted --only price    those whose words or file hold "price"
    python -m tests.planted --whole         each against the whole suite
    python -m tests.planted --list          run nothing, say which no longer match

Nothing is changed here: each fault is planted in a copy of the tree. A text that is no
longer found, or found twice, is said, so that the list does not rot.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[1]
COPIED = ("scoring", "tests", "profiles", "app.py", "README.md", ".pytest.ini")
COPIED += ("DEVELOPERS.md", ".streamlit")
ENOUGH = 0.9  # of the faults must be caught
PATIENCE_S = 300
PATIENCE_WITHOUT_S = 1800


class Fault(NamedTuple):
    """A wrong text in place of the right one, and the tests that should see it."""

    words: str
    file: str  # below scoring/
    right: str
    wrong: str
    tests: str  # below tests/, apart by spaces


JOB, MONEY, MONTHS = "model/job/", "model/money/", "model/months/"
FAULTS = (
    Fault(
        "the day margin missing on the drive of jobs that share a day",
        f"{JOB}site_time.py",
        "drive = travel_minutes(jobs, business) * (1 - business.day_margin)",
        "drive = travel_minutes(jobs, business)",
        "answer/test_by_hand.py",
    ),
    Fault(
        "hired vehicle missing in spoilt prints",
        f"{MONEY}job_money.py",
        "a_day = machines.purge_ml * machines.ink_price_per_ml + loaded.hire_per_day",
        "a_day = machines.purge_ml * machines.ink_price_per_ml",
        "answer/test_by_hand.py model/money",
    ),
    Fault(
        "survey visit free",
        f"{MONEY}job_money.py",
        "-(travel + jobs.survey_visits * per_drive)",
        "-travel",
        "answer/test_by_hand.py",
    ),
    Fault(
        "a lodged crew drives daily in own hours",
        f"{MONEY}job_money.py",
        "road = (site.drives + jobs.survey_visits) * travel_minutes(jobs, business)",
        "road = (site.days + jobs.survey_visits) * travel_minutes(jobs, business)",
        "answer/test_by_hand.py model/money",
    ),
    Fault(
        "breakdown days counted as worked",
        f"{MONTHS}cash.py",
        "days = days + step.taught - step.jobs * work.down_days",
        "days = days + step.taught",
        "answer/test_by_hand.py model/months",
    ),
    Fault(
        "pairwise mirrors held to a scale of their own",
        "decision/pairwise.py",
        "abs(judgements * mirrored - 1)",
        "abs(judgements * mirrored - 1) / judgements",
        "decision/test_weights.py",
    ),
    Fault(
        "an untold resale that turns out bad taken from the better side",
        "evidence/sheet_figures.py",
        'Field("resale", "resale", HIGH)',
        'Field("resale", "resale", LOW)',
        "evidence questions/test_firmness.py",
    ),
    Fault(
        "cash by the month rules out who owns a rig",
        "answer/limits.py",
        "if tells_timing(brief) and not brief.owned:",
        "if tells_timing(brief):",
        "answer/test_limits_by_hand.py",
    ),
    Fault(
        "a machine that is left out comes back in the draws",
        "answer/run.py",
        "scores[again.is_ruled_out | is_left_out] = np.nan",
        "scores[again.is_ruled_out | (is_left_out & False)] = np.nan",
        "answer/test_limits_by_hand.py",
    ),
    Fault(
        "money before must-haves in choosing a plan",
        "answer/plans.py",
        "(meets[k], round(result[k], 6), -fee[k])",
        "(round(result[k], 6), meets[k], -fee[k])",
        "answer/test_limits_by_hand.py",
    ),
    Fault(
        "the low point told for what cash lacks",
        "records/money.py",
        "funds_gap=plain(found.funds_gap[k])",
        "funds_gap=plain(-worth.low_point)",
        "records",
    ),
    Fault(
        "import tax comes back a month late",
        f"{MONTHS}payment.py",
        "tax_back=since == back,",
        "tax_back=since == back + 1,",
        "words/test_money_content.py model/months",
    ),
    Fault(
        "support's steps lose the parts",
        "words/workings/criteria.py",
        '("parts arrive", machines.parts_days, "support.parts_lead_time")',
        '("parts arrive", machines.response_days, "support.parts_lead_time")',
        "words",
    ),
    Fault(
        "what goes wrong is told of the machine as it stands",
        "questions/years.py",
        "return years(supposed(evaluation, changes))",
        "return years(evaluation)",
        "questions/test_years.py",
    ),
    Fault(
        "no star at a figure that is not told",
        "charts/contributions.py",
        '("*" if (k, c) in stars else "")',
        '("*" if (k, c) in () else "")',
        "charts/test_contributions_content.py",
    ),
    Fault(
        "a sheet shows its lowest figure as the likely one",
        "page/machines.py",
        "text.amount(evidence.low, evidence.likely, evidence.high, unit, is_us)",
        "text.amount(evidence.low, evidence.low, evidence.high, unit, is_us)",
        "page/test_machines.py",
    ),
    Fault(
        "trust ignored",
        "inputs/quantity.py",
        "shares = shares if told is None else told",
        "shares = shares",
        "inputs",
    ),
    Fault(
        "who comes before whom, transposed on screen",
        "page/firm/places.py",
        "figure(firm.before[k, n]",
        "figure(firm.before[n, k]",
        "page/firm",
    ),
    Fault(
        "who comes before whom, transposed in the engine",
        "decision/acceptability.py",
        "(counts + (n_draws - counts.T))",
        "(counts.T + (n_draws - counts))",
        "decision",
    ),
    Fault(
        "bars not weighted",
        "charts/contributions.py",
        "adds = score * evaluation.weights[c]",
        "adds = score / len(evaluation.weights)",
        "charts/test_contributions_content.py",
    ),
    Fault(
        "a build-up ends at the last line alone",
        "charts/build_up.py",
        "rows.append((total, len(rows), 0.0, at,",
        "rows.append((total, len(rows), 0.0, amount,",
        "charts/test_money_content.py",
    ),
    Fault(
        "a build-up's bars all start at zero",
        "charts/build_up.py",
        "rows.append((name, place, at, at + amount, kind",
        "rows.append((name, place, 0.0, amount, kind",
        "charts/test_money_content.py",
    ),
    Fault(
        "sign of the low point",
        "words/money.py",
        "low, month = -float(worth.low_point), int(worth.low_month)\n"
        '    said = f"{name} is deepest',
        "low, month = float(worth.low_point), int(worth.low_month)\n"
        '    said = f"{name} is deepest',
        "words/test_money_content.py",
    ),
    Fault(
        "payback marked a month late on the curve",
        "charts/cash.py",
        "bool(month == back), about",
        "bool(month == back + 1), about",
        "charts/test_money_content.py",
    ),
    Fault(
        "good and bad years swapped",
        "charts/years.py",
        "rows.append((name, place, low, middle, high, said))",
        "rows.append((name, place, high, middle, low, said))",
        "charts/test_money_content.py",
    ),
    Fault(
        "a change's worth drawn over shares of today's work",
        "charts/change.py",
        "(at * today, npv, today,",
        "(at, npv, today,",
        "charts/test_money_content.py",
    ),
    Fault(
        "draws of places told in the wrong row",
        "charts/places.py",
        "shares = firm.acceptability[k]",
        "shares = firm.acceptability[:, k]",
        "charts",
    ),
    Fault(
        "the swing's smaller end on the right",
        "charts/swings.py",
        "ends.sort(key=lambda end: end[0])",
        "ends.sort(key=lambda end: -end[0])",
        "charts",
    ),
    Fault(
        "contribution told without its weight",
        "records/ranking.py",
        "plain(score * weight)",
        "plain(score)",
        "records",
    ),
    Fault(
        "status of a machine that is out told as ranked",
        "records/ranking.py",
        "status=evaluation.status(k)",
        'status="ranked"',
        "records",
    ),
    Fault(
        "shares of places printed for the wrong machine",
        "records/firmness.py",
        "firm.acceptability[evaluation.index(name), places]",
        "firm.acceptability[-1 - evaluation.index(name), places]",
        "text",
    ),
    Fault(
        "ruled out missing in the printed shares",
        "text/firmness.py",
        'figure(out, "share")]',
        'figure(1 - out, "share")]',
        "text",
    ),
    Fault(
        "gap over a limit told the wrong way round",
        "words/ruled_out.py",
        "return figure(asked - allowed, limit.unit, is_us)",
        "return figure(allowed - asked, limit.unit, is_us)",
        "words answer",
    ),
    Fault(
        "a lead of the second told as the leader's",
        "words/verdict.py",
        "lead = evaluation.weighted_sum[leader] - evaluation.weighted_sum[second]",
        "lead = evaluation.weighted_sum[second] - evaluation.weighted_sum[leader]",
        "words answer",
    ),
    Fault(
        "better and worse swapped in the verdict",
        "words/verdict.py",
        "parts = evaluation.weights * (evaluation.scores[leader] - "
        "evaluation.scores[second])",
        "parts = evaluation.weights * (evaluation.scores[second] - "
        "evaluation.scores[leader])",
        "words answer",
    ),
    Fault(
        "a quote printed at what it is reckoned at",
        "questions/best_price.py",
        'ask = {"known": price} if is_untold else {"likely": price}',
        'ask = {"known": price}',
        "questions/test_firmness.py",
    ),
    Fault(
        "more work scales walls twice on the map",
        "questions/best_map.py",
        '"width": area**0.5,',
        '"width": area,',
        "questions charts",
    ),
    Fault(
        "a replaced rig's loan forgotten in the need of cash",
        "questions/fleet/choices.py",
        "need = choice.added_upfront + choice.settled",
        "need = choice.added_upfront",
        "questions/fleet",
    ),
    Fault(
        "a lead comes whatever its share",
        "inputs/leads.py",
        "comes = uniform[..., 1] < probability[taken]",
        "comes = uniform[..., 1] < 1 + 0 * probability[taken]",
        "inputs",
    ),
    Fault(
        "the demo-day sheet asks the slow things first",
        "report/demo_day.py",
        'return turn, not getattr(place, "is_quick", True), first.get(place, last)',
        'return turn, getattr(place, "is_quick", True), first.get(place, last)',
        "report",
    ),
    Fault(
        "the draw that is as told counted among the draws",
        "answer/expected.py",
        "return array.reshape(n_alternatives, n_rows, *array.shape[1:])[:, 0]",
        "return array.reshape(n_alternatives, n_rows, *array.shape[1:])[:, -1]",
        "answer",
    ),
    Fault(
        "a doubt begins at half",
        "answer/expected.py",
        "DOUBT = 0.05",
        "DOUBT = 0.5",
        "answer words",
    ),
    Fault(
        "a change told without the draws it is compared with",
        "questions/changed.py",
        "moved = then - now + at_full",
        "moved = then - now",
        "questions",
    ),
    Fault(
        "what is guessed of a price stays when the price changes",
        "questions/changed.py",
        "[_with_shares(evaluation, changes) for changes in alternatives]",
        "[list(changes) for changes in alternatives]",
        "questions",
    ),
    Fault(
        "buy, though cash fails",
        "questions/advice.py",
        "fails = _chance(evaluation, k, FUNDS)",
        "fails = 0.0 * _chance(evaluation, k, FUNDS)",
        "questions/test_advice.py",
    ),
    Fault(
        "a bed for each day instead of each night",
        f"{JOB}site_time.py",
        "nights=is_lodged * (days + np.maximum(on_road - 1, 0)),",
        "nights=is_lodged * (days + 1 + np.maximum(on_road - 1, 0)),",
        "model answer/test_by_hand.py",
    ),
    Fault(
        "lodged where it leaves less",
        f"{MONEY}lodging.py",
        "((gain >= -SLACK) & (saved >= -SLACK) & (gain + saved > SLACK))",
        "((gain <= -SLACK) & (saved >= -SLACK) & (gain + saved > SLACK))",
        "model/money answer",
    ),
    Fault(
        "the survey's drive left out of own hours",
        f"{MONEY}job_money.py",
        "road = (site.drives + jobs.survey_visits) * travel_minutes(jobs, business)",
        "road = site.drives * travel_minutes(jobs, business)",
        "answer/test_by_hand.py model/money",
    ),
    Fault(
        "loading once a job instead of once a drive",
        f"{MONEY}job_money.py",
        "loading = site.drives * loading_minutes(machines, business)",
        "loading = loading_minutes(machines, business)",
        "answer/test_by_hand.py model/money",
    ),
    Fault(
        "jobs that take a year of days are done",
        f"{JOB}site_time.py",
        "days = np.where((window > 0) & (days <= MOST_DAYS), days, np.nan)",
        "days = np.where((window > 0) & np.isfinite(days), days, np.nan)",
        "model/job",
    ),
    Fault(
        "lines of money of other draws than their sum",
        f"{MONEY}job_money.py",
        "none - lodging,",
        "-lodging,",
        "model/money/test_job_money.py",
    ),
    Fault(
        "faults after the fiftieth lost without a word",
        "errors.py",
        "return told + ([more_faults(last.file, last.line, n_more)] if n_more else [])",
        "return told",
        "inputs",
    ),
    Fault(
        "a cell run as a formula behind a semicolon",
        "inputs/formulas.py",
        'STARTS = re.compile(r"(^|[;,|])',
        'STARTS = re.compile(r"(^|[,|])',
        "inputs",
    ),
    Fault(
        "another brief's sliders stay",
        "page/state/work.py",
        "    _move_again(base)\n    if",
        "    if",
        "page/test_keeping.py",
    ),
    Fault(
        "an answer kept for whoever asks of another machine",
        "page/state/shared.py",
        "key = (*map(id, objects), values)",
        "key = (values,)",
        "page/test_shared.py",
    ),
    Fault(
        "a case read from wherever its id leads",
        "page/state/kept.py",
        "if place is None or not ID.fullmatch(case):",
        "if place is None or not case:",
        "page/test_keeping.py",
    ),
    Fault(
        "the draw as told counts in the means",
        "answer/expected.py",
        "return rows[:, 1:] if n_rows > 1 else rows",
        "return rows",
        "answer",
    ),
    Fault(
        "draws without a figure count as 0 in its mean",
        "answer/expected.py",
        "n_told = (~is_nan).sum(axis=1)",
        "n_told = (is_nan | ~is_nan).sum(axis=1)",
        "answer",
    ),
    Fault(
        "half of the draws rule out what is within limits as told",
        "answer/expected.py",
        "broken_mostly = (chance_in < HALF) & ~is_in_as_told",
        "broken_mostly = chance_in < HALF",
        "answer words",
    ),
    Fault(
        "as many days as told are told as more",
        "answer/expected.py",
        "rows > rows[:, :1]",
        "rows >= rows[:, :1]",
        "answer words",
    ),
    Fault(
        "the buyer's own surety ignored",
        "answer/expected.py",
        "broken_mostly | (chance_in < sure)",
        "broken_mostly",
        "answer words",
    ),
    Fault(
        "a range moves by a sum, not in proportion",
        "questions/changed.py",
        "return change.likely / now, change.later, None",
        "return 1.0, change.likely - now, None",
        "questions/test_changed.py",
    ),
    Fault(
        "a change of one machine lands on another",
        "questions/changed.py",
        "again[:, k : k + 1] = own",
        "again[:, -1 - k :][:, :1] = own",
        "questions/test_changed.py questions/test_firmness.py",
    ),
    Fault(
        "a rival that earns nothing makes it close",
        "questions/advice.py",
        "        and evaluation.expected.npv[0, other] > 0\n",
        "",
        "questions words",
    ),
    Fault(
        "guessed work counted by kinds, not by money",
        "questions/advice.py",
        "float(paid[is_guess].sum() / paid.sum())",
        "float(is_guess.mean())",
        "questions words",
    ),
    Fault(
        "the jobs needed are told as a multiple of the work",
        "questions/from_jobs.py",
        "return today * crossing(MULTIPLES, again.npv[:, 0])",
        "return crossing(MULTIPLES, again.npv[:, 0])",
        "questions words",
    ),
    Fault(
        "what cannot be done told as how often it can",
        "words/expected.py",
        'f"in {in_100(lost)} draws {why}',
        'f"in {in_100(1 - lost)} draws {why}',
        "words",
    ),
    Fault(
        "a tenth of what to expect, not of what is told",
        "words/expected.py",
        "> TELLING * abs(told)",
        "> TELLING * abs(value)",
        "words test_doctests.py",
    ),
    Fault(
        "told and average swapped in a doubt about money",
        "words/doubt.py",
        "({told} if all is as told, {counted} on average",
        "({counted} if all is as told, {told} on average",
        "words",
    ),
    Fault(
        "a seller's lift told as the sheet's",
        "words/doubt.py",
        '"the seller says" if basis == "quoted"',
        '"the seller says" if basis == "measured"',
        "words",
    ),
    Fault(
        "what is broken least often comes first",
        "answer/evaluation.py",
        "key=lambda limit: -limit.chance[0, k]",
        "key=lambda limit: limit.chance[0, k]",
        "answer words",
    ),
    Fault(
        "beds free in choosing where to sleep",
        f"{MONEY}lodging.py",
        "left = np.where(able, sum(of_job), 0.0)",
        "left = np.where(able, sum(of_job) - of_job.lodging, 0.0)",
        "model/money",
    ),
    Fault(
        "days saved count nothing in choosing where to sleep",
        f"{MONEY}lodging.py",
        "saved = np.where(is_open, by_day.load - lodged.load, 0.0)",
        "saved = 0 * gain",
        "model/money",
    ),
    Fault(
        "must-serve work takes no days from the rest",
        f"{MONEY}served.py",
        "left = days - over_jobs(must, load)",
        "left = days - 0 * over_jobs(must, load)",
        "model answer/test_by_hand.py",
    ),
    Fault(
        "a breakdown costs calendar days",
        f"{MONEY}served.py",
        "machines.days_down * worked * business.bookable_share",
        "machines.days_down * business.bookable_share",
        "answer/test_by_hand.py",
    ),
    Fault(
        "must-serve work is declined where it loses money",
        f"{MONEY}worth_serving.py",
        "poor = can_do & ~jobs.is_must & ~(left > 0)",
        "poor = can_do & ~(left > 0)",
        "model/money answer",
    ),
    Fault(
        "of the plans of a year the poorer is taken",
        f"{MONEY}worth_serving.py",
        "is_better = again > result + SLACK",
        "is_better = again < result - SLACK",
        "model/money",
    ),
    Fault(
        "ink that is never used grows too old",
        f"{MONEY}year_lines.py",
        "np.where(used_ml > 0, np.maximum(least_ml(machines) - used_ml, 0.0), 0.0)",
        "np.maximum(least_ml(machines) - used_ml, 0.0)",
        "model/money",
    ),
    Fault(
        "spoilt prints use up no ink of an order",
        f"{MONEY}year_lines.py",
        "printed_m2 = area_m2 * (1 + machines.spoilt_share)",
        "printed_m2 = area_m2",
        "model/money",
    ),
    Fault(
        "heads age as if none were worn",
        f"{MONEY}year_lines.py",
        "np.maximum(12 / months - area_m2 / life_m2, 0)",
        "12 / months",
        "model/money",
    ),
    Fault(
        "first jobs' discount on all of a month's",
        f"{MONTHS}steps.py",
        "cheaper = np.minimum(np.maximum(left, 0.0), now.jobs)",
        "cheaper = now.jobs",
        "model/months",
    ),
    Fault(
        "what is still out at the end is lost",
        f"{MONTHS}steps.py",
        "shares = _all_from(shares, len(owed))",
        "shares = dict(shares)",
        "model/months",
    ),
    Fault(
        "training takes no days from jobs",
        f"{MONTHS}steps.py",
        "to_teach, room = to_teach - taught, room - taught",
        "to_teach, room = to_teach - taught, room",
        "model/months",
    ),
    Fault(
        "a season shifted by a month",
        f"{MONTHS}learning.py",
        "(trade.first_month + month - 1) % 12",
        "(trade.first_month + month) % 12",
        "model/months",
    ),
    Fault(
        "the brief's own guess ignored",
        "evidence/unknowns.py",
        "for table in (brief.guesses, guesses()):",
        "for table in (guesses(), brief.guesses):",
        "evidence",
    ),
    Fault(
        "a share of the price is one of its low end",
        "evidence/unknowns.py",
        "ends = [each * price.likely for",
        "ends = [each * price.low for",
        "evidence",
    ),
    Fault(
        "a guess that silence pays for",
        "inputs/guesses.yaml",
        "heaviest_lift: 18..45..80 kg",
        "heaviest_lift: 10..11..12 kg",
        "evidence inputs",
    ),
    Fault(
        "place then told as the place now",
        "page/firm/turning.py",
        "_place(found.bad_ranks[k]),",
        "_place(evaluation.rank_weighted_sum[k] + 0),",
        "page/firm",
    ),
    Fault(
        "yes told as no of what ties to the seller",
        "page/money/seller.py",
        'return "yes" if told else "no"',
        'return "no" if told else "yes"',
        "page/money",
    ),
    Fault(
        "the slider of all work moves nothing",
        "page/state/work.py",
        "share = choice.work_share / WHOLE",
        "share = 1",
        "page/test_second.py",
    ),
    Fault(
        "interest typed in per cent counted as a share",
        "page/state/work.py",
        "Change(key, known=choice.rate / 100)",
        "Change(key, known=choice.rate)",
        "page/money",
    ),
    Fault(
        "a stage that moves through an answer",
        "workshop/answers.py",
        """room = room_at(store, connection, seat.room_id, lock="share")
        seat""",
        """room = room_at(store, connection, seat.room_id)
        seat""",
        "workshop/test_answers.py",
    ),
    Fault(
        "names shown before the trainer shows them",
        "workshop/session.py",
        'if not (is_trainer or "names" in room.shown):',
        'if not (is_trainer or "answers" in room.shown):',
        "workshop/test_session.py",
    ),
    Fault(
        "a nickname that a spreadsheet runs",
        "report/cells.py",
        'cell.data_type = "s"',
        'cell.data_type = cell.data_type or "s"',
        "workshop/test_papers.py",
    ),
    Fault(
        "who is ruled out may lead",
        "workshop/solved.py",
        "totals = np.where(is_out, -np.inf, totals)",
        "totals = np.where(is_out, 0.0, totals)",
        "workshop/test_pack.py",
    ),
    Fault(
        "a cause's share from its own first draws",
        "decision/shares.py",
        "each = ((of_b - mean) * (mixed - of_a))",
        "each = ((of_a - mean) * (mixed - of_a))",
        "decision/test_shares.py",
    ),
)


def main():
    """Plant each fault, run its tests, print what was caught; exit 1 if too few."""
    options = read_options()
    chosen = [
        fault for fault in FAULTS if options.only in f"{fault.words} {fault.file}"
    ]
    if options.list:
        listed(chosen)
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        for name in COPIED:
            source = ROOT / name
            copied = shutil.copytree if source.is_dir() else shutil.copy
            copied(source, copy / name)
        check_without(copy, chosen, options.whole)
        caught = [told(copy, fault, options.whole) for fault in chosen]
    print(f"{sum(caught)} of {len(caught)} caught")
    sys.exit(sum(caught) < ENOUGH * len(caught))


def read_options():
    """Return the options of the command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--only", default="", metavar="WORD")
    parser.add_argument("--whole", action="store_true", help="against the whole suite")
    parser.add_argument("--list", action="store_true", help="run no tests")
    return parser.parse_args()


def listed(faults):
    """Print each fault and whether its text is still found; exit 1 if one is not."""
    stale = [fault for fault in faults if not matches(fault)]
    for fault in faults:
        state = "STALE  " if fault in stale else "matches"
        print(f"  {state} {fault.words} ({fault.file})")
    print(f"{len(faults) - len(stale)} of {len(faults)} match")
    sys.exit(bool(stale))


def matches(fault, root=ROOT):
    """Return whether a fault's right text stands once in its file."""
    file = root / "scoring" / fault.file
    return file.exists() and file.read_text(encoding="utf-8").count(fault.right) == 1


def check_without(copy, faults, is_whole):
    """End with a sentence if a test fails without any fault: it would catch all."""
    tests = sorted({test for fault in faults for test in fault.tests.split()})
    if faults and fails(copy, [] if is_whole else tests, PATIENCE_WITHOUT_S):
        sys.exit("a test fails in the copy without any fault; mend that first")


def told(copy, fault, is_whole):
    """Return whether a fault is caught, and print it."""
    if not matches(fault, copy):
        print(f"  STALE    {fault.words} ({fault.file})", flush=True)
        return False
    file = copy / "scoring" / fault.file
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace(fault.right, fault.wrong), encoding="utf-8")
    try:
        is_caught = fails(copy, [] if is_whole else fault.tests.split())
    finally:
        file.write_text(text, encoding="utf-8")
    print(f"  {'caught  ' if is_caught else 'SURVIVED'} {fault.words}", flush=True)
    return is_caught


def fails(copy, tests, patience_s=PATIENCE_S):
    """Return whether a test of these fails in the copy of the tree.

    Tests that find no end are no proof: they are said, and count as passed.
    """
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-n", "0"]
    command += ["-p", "no:cacheprovider", *(f"tests/{test}" for test in tests)]
    try:
        run = subprocess.run(
            command,
            cwd=copy,
            env=os.environ | {"PYTHONDONTWRITEBYTECODE": "1"},
            capture_output=True,
            text=True,
            timeout=patience_s,
        )
    except subprocess.TimeoutExpired:
        print(f"no end after {patience_s} s", flush=True)
        return False
    if run.returncode not in (0, 1):
        print(run.stdout[-2000:], run.stderr[-2000:])
    return run.returncode == 1


if __name__ == "__main__":
    main()
