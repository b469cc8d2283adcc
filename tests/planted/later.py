"""Faults planted in picked pairs, visits, the bank's case, other ways, cases, words."""

from tests.planted.fault import Fault

PICKS, PLAN = "decision/picked_pairs.py", "decision/visit_plan.py"
LENDER, BANK = "model/months/lender.py", "questions/bank_case.py"
WAITING, WAYS = "decision/waiting.py", "questions/other_ways.py"
CASE, SHORT = "inputs/case/", "words/short_answer.py"
FAULTS = (
    Fault(
        "the second picked taken as the first",
        PICKS,
        "SECOND: ((-1.0, 1.0),),",
        "SECOND: ((1.0, 1.0),),",
    ),
    Fault(
        "about the same only if exactly the same",
        PICKS,
        "SAME: ((1.0, 1.0 - ALIKE), (-1.0, 1.0 + ALIKE)),",
        "SAME: ((1.0, 1.0), (-1.0, 1.0)),",
    ),
    Fault(
        "regret of the machine that is best on average told as the safest's",
        PICKS,
        "regret=float(at_most[safest]),",
        "regret=float(at_most[best]),",
    ),
    Fault(
        "a level above 1 offered as 1",
        PICKS,
        "yield Offer(other, one, _stepped(1 / level))",
        "yield Offer(one, other, _stepped(1 / level))",
    ),
    Fault(
        "tests of a visit by worth, not by worth a minute",
        PLAN,
        "if adds / took > by_rate[0] + 1e-12:\n"
        "                by_rate = (adds / took, adds, tests)",
        "if adds > by_rate[0] + 1e-12:\n                by_rate = (adds, adds, tests)",
    ),
    Fault(
        "a test that costs more than it tells",
        PLAN,
        "net = known(frozenset(bundle)) - float(costs[list(bundle)].sum())",
        "net = known(frozenset(bundle))",
    ),
    Fault(
        "a visit longer than there is time",
        PLAN,
        "if minutes[list(bundle)].sum() <= available + 1e-9:",
        "if minutes[list(bundle)].max() <= available + 1e-9:",
    ),
    Fault(
        "sellers opened beyond their worth",
        "decision/search.py",
        "goes_on = best < values[box]",
        "goes_on = best < np.inf",
    ),
    Fault(
        "drawings left out of what a lender counts",
        BANK,
        "operating = earned + lender.by_year(months.drawings)",
        "operating = earned + 0 * lender.by_year(months.drawings)",
    ),
    Fault(
        "other debts forgotten in the cover",
        BANK,
        "paid = months.interest + months.principal + months.other_debts",
        "paid = months.interest + months.principal",
    ),
    Fault(
        "enquiries counted as sold",
        BANK,
        'counted = by_basis["sold"] + won * by_basis["enquiries"]',
        'counted = by_basis["sold"] + by_basis["enquiries"]',
    ),
    Fault(
        "the loan's lowest cover is its mean",
        LENDER,
        "return np.where(np.isnan(ratios), np.inf, ratios).min(axis=-1)",
        "return np.where(np.isnan(ratios), np.inf, ratios).max(axis=-1)",
    ),
    Fault(
        "interest on the balance after the instalment",
        LENDER,
        "before = still_owed(payment, np.maximum(since - 1, 0))",
        "before = still_owed(payment, np.maximum(since, 0))",
    ),
    Fault(
        "tax before interest",
        LENDER,
        "return tax_share * np.maximum(earned - interest, 0.0)",
        "return tax_share * np.maximum(earned + 0 * interest, 0.0)",
    ),
    Fault(
        "what the owner draws lowers the tax",
        BANK,
        "tax = lender.tax_set_aside(earned, interest, share)",
        "tax = lender.tax_set_aside(operating, interest, share)",
    ),
    Fault(
        "the stress of all at once leaves prices as they are",
        BANK,
        '"all": [*times_work(evaluation, FEWER * UP), *prices, *late],',
        '"all": [*times_work(evaluation, FEWER * UP), *late],',
    ),
    Fault(
        "jobs seen forgotten in what is believed of demand",
        WAITING,
        "return a + n_jobs, b + n_months",
        "return a + n_months, b + n_months",
    ),
    Fault(
        "buying later costs what it costs today",
        WAITING,
        "cost = own.cost * (1 + own.trend) ** (month / 12)",
        "cost = own.cost * (1 + own.trend) ** (0 * month)",
    ),
    Fault(
        "rented days that a stoppage takes are paid",
        WAYS,
        "np.ceil(max(float(work.days - work.down_days), 1e-9) - 1e-9)",
        "np.ceil(max(float(work.days), 1e-9) - 1e-9)",
    ),
    Fault(
        "a used machine stops no oftener",
        WAYS,
        "return [Change(key, times=1 / often)] if key in alone.evidence else []",
        "return [Change(key, times=often)] if key in alone.evidence else []",
    ),
    Fault(
        "what rent includes is not saved",
        WAYS,
        "left = float(work.price - work.cost) + saved - day * _days_out(work)",
        "left = float(work.price - work.cost) - day * _days_out(work)",
    ),
    Fault(
        "less work asked at the brief's own weights",
        "questions/fleet/less_work.py",
        "found.append((share, choices(reweighed(again, evaluation))))",
        "found.append((share, choices(again)))",
    ),
    Fault(
        "less work asked of all the work",
        "questions/fleet/less_work.py",
        "times_work(evaluation, share))",
        "times_work(evaluation, 1.0))",
    ),
    Fault(
        "undo brings back the oldest version",
        f"{CASE}folder.py",
        "case, _ = unzipped(found[-1])",
        "case, _ = unzipped(found[0])",
    ),
    Fault(
        "an eleventh version is kept",
        f"{CASE}folder.py",
        "for path in found[: max(0, len(found) + 1 - MOST_VERSIONS)]:",
        "for path in found[: max(0, len(found) - MOST_VERSIONS)]:",
    ),
    Fault(
        "files that a case has no more stay in its folder",
        f"{CASE}folder.py",
        "            path.unlink(missing_ok=True)\n\n\ndef versions",
        "            pass\n\n\ndef versions",
    ),
    Fault(
        "sheets that take no part come back from a zip",
        f"{CASE}zipped.py",
        "retired |= {leaf} if folder == RETIRED else set()",
        "retired |= set()",
    ),
    Fault(
        "a link in a zip is followed",
        f"{CASE}zipped.py",
        "if stat.S_ISLNK(entry.external_attr >> 16):",
        "if stat.S_ISLNK(entry.external_attr):",
    ),
    Fault(
        "the second's share of first places told as the leader's",
        SHORT,
        'return f"first in {in_100(float(share[found.k]))} draws"',
        'return f"first in {in_100(float(share[found.k - 1]))} draws"',
    ),
    Fault(
        "back at half the work told as at all of it",
        SHORT,
        'then = _month(half, k) or "never"',
        'then = _month(told, k) or "never"',
    ),
    Fault(
        "jobs needed and jobs there are swapped",
        SHORT,
        'return f"takes {number(needed, 1)} jobs a month; you have {today}"',
        'return f"takes {today} jobs a month; you have {number(needed, 1)}"',
    ),
    Fault(
        "a doubtful job told as done",
        "words/can_do.py",
        "if chance < 1 - DOUBT:",
        "if chance < DOUBT:",
    ),
    Fault(
        "declined told as what cannot be done",
        "words/can_do.py",
        "return CanDo(NOT_TAKEN, NOT_TAKEN, not_served(evaluation, k, j, is_us))",
        "return CanDo(CANNOT, CANNOT, not_served(evaluation, k, j, is_us))",
    ),
    Fault(
        "many weights told as the first two",
        "words/what_if.py",
        "if len(labels) > 2:",
        "if len(labels) > 3:",
    ),
)
