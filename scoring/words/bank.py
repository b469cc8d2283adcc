"""The case for the bank → sentences."""

import math

from scoring.questions.bank_case import AIM, STRESSES
from scoring.words.figures import about, figure, number

DRAFT = (
    "A draft to take to an adviser, not advice and no offer. Before tax advice: what "
    "is set aside for tax is a plain share. An accountant, an insurer and the lender "
    "check it; the lender's own terms and local law decide."
)
UNPAID = (
    "No pay for the owner is in these figures: the brief tells neither an hour's worth "
    "(own_hour) nor a living (living). Cover is told too well by as much as you draw."
)
USES = {"vehicle": "a larger vehicle", "aids": "lifting aids"}


def asked_for(case):
    """Return what is asked for, as the first sentence of the case."""
    currency = case.whole.brief.currency
    total = about(sum(case.uses.values()), currency)
    own = case.sources["own cash"] / max(sum(case.sources.values()), 1e-9)
    share = figure(own, "share")
    said = f"{case.name}: {total} in all, of which {share} is the owner's."
    if case.borrowed >= 1:
        terms = f"over {case.n_instalments} months"
        if case.rate_per_month > 0:
            terms += f" at {figure(12 * case.rate_per_month, 'share')} a year"
        way = "lease" if case.whole.brief.payment.way == "lease" else "loan"
        said += f" A {way} of {about(case.borrowed, currency)} {terms}."
    else:
        said += " By the brief nothing is borrowed."
    if "not yet found" in case.sources:
        lacks = about(case.sources["not yet found"], currency)
        said += f" {lacks} is not yet found: more cash, or a loan, is needed."
    return said


def loan_size(case):
    """Return how large a loan is needed, and how large a one the work carries."""
    currency, terms = case.whole.brief.currency, case.whole.brief.payment
    needed = case.borrowed + case.lacking
    rate = figure(terms.loan_rate.likely, "share")
    carried = (
        f"at {rate} a year over {terms.loan_months} months the work carries "
        f"{about(case.carries, currency)} with a cover of {AIM} each year"
    )
    if needed < 1:
        return f"No loan is needed by these figures; {carried}."
    verdict = "which is enough" if case.carries >= needed else "which is too little"
    return f"A loan of {about(needed, currency)} is needed; {carried}, {verdict}."


def ratio(value):
    """Return a cover ratio in words.

    Examples
    --------
    >>> ratio(1.254), ratio(float("inf")), ratio(None)
    ('1.25', 'no debt', 'cannot tell')
    """
    if value is None:
        return "cannot tell"
    return number(value, 2) if math.isfinite(value) else "no debt"


def cover(case):
    """Return how well the work covers what falls due."""
    if not math.isfinite(case.lowest):
        return "No instalment falls due: no cover to tell."
    chance = figure(case.chance_below, "share")
    return (
        f"What the work leaves after drawings and tax is {ratio(case.lowest)} times "
        f"what falls due in the leanest twelve months; in {chance} of the draws it is "
        f"below {AIM} in some year."
    )


def jobs_needed(case):
    """Return the break-even against the jobs that there is evidence for."""
    found = case.evidenced
    told = (
        f"{number(found.sold, 1)} sold, {number(found.enquiries, 1)} by enquiries, "
        f"{number(found.hoped, 1)} hoped for"
    )
    if not math.isfinite(case.break_even):
        return f"A job leaves nothing: no number of jobs pays this ({told} a month)."
    won = figure(case.whole.brief.bank.enquiries_won.likely, "share")
    is_enough = found.counted >= case.break_even
    verdict = "which covers it" if is_enough else "which does not cover it"
    return (
        f"From {number(case.break_even, 1)} jobs a month on, pay and instalment are "
        f"covered. A full month holds {number(case.full_month, 1)}: {told}. Sold jobs "
        f"and {won} of the enquiries make {number(found.counted, 1)}, {verdict}."
    )


def security(case):
    """Return how the loan stands against a forced sale."""
    currency = case.whole.brief.currency
    if case.borrowed < 1:
        return "Nothing is owed on the machine."
    if case.uncovered < 1:
        return "A forced sale would cover what is owed in every month."
    return (
        f"What is owed stands above a forced sale by {about(case.uncovered, currency)} "
        f"at most, in month {case.uncovered_month}: that needs other security."
    )


def who_else(case):
    """Return what is told of insurance and of a second person."""
    terms, brief = case.whole.brief.bank, case.whole.brief
    insured = terms.insured_by or (
        "a premium is in the costs, an insurer is not named"
        if brief.money.insurance is not None
        else "not told: ask an insurer before signing"
    )
    other = terms.stand_in or (
        "not told: nobody is named who could run it in the owner's place"
    )
    return [("Insurance", insured), ("Who else can run it", other)]


def stress_rows(case):
    """Return (what happens, lowest ratio, lowest own cash, present value) in words."""
    currency = case.whole.brief.currency
    return [
        (
            STRESSES[each.name],
            ratio(each.lowest_ratio),
            about(each.lowest_cash, currency),
            about(each.npv, currency),
        )
        for each in case.stresses
    ]


def use_words(name):
    return USES.get(name, name)
