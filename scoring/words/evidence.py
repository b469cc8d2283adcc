"""What the answer rests on → words: leads, guesses, what sellers do not tell."""

from scoring.inputs import leads
from scoring.model.money.job_money import revenue
from scoring.model.money.landed import missing
from scoring.words.figures import figure, joined
from scoring.words.keys import in_words

BASES = {"sold": "sold work", "enquiries": "enquiries", "guess": "guesses"}


def said_of_leads(brief):
    """Return how many leads there are, and how much is sold, asked, guessed."""
    months = leads.months_spanned(brief.leads_read)
    n_leads = f"{len(brief.leads_read)} leads over {months} months"
    if not any(lead.probability for lead in brief.leads_read):
        return f"{n_leads}; none is expected to come: every chance is 0 %."
    shares = leads.rests_on(brief.leads_read)
    parts = [
        f"{figure(share, 'share')} {LEADS[basis]}" for basis, share in shares.items()
    ]
    return f"{n_leads}; of the work expected from them {joined(parts)}."


LEADS = {"sold": "sold", "enquiry": "from enquiries", "guess": "guessed"}


def revenue_by_basis(evaluation):
    """Return {basis: share} of what clients would pay for the whole mix.

    Empty where nobody pays anything.
    """
    jobs = evaluation.figures.jobs
    paid = (jobs.per_month * revenue(jobs))[0, 0]
    total = float(paid.sum())
    shares = dict.fromkeys(BASES, 0.0) if total > 0 else {}
    for job, amount in zip(evaluation.brief.work, paid, strict=True):
        if shares:
            shares[job.basis] += float(amount) / total
    return shares


def mix_rests_on(evaluation):
    """Return a sentence on how much of the revenue is sold, asked for, or guessed."""
    if evaluation.brief.leads_read:
        return said_of_leads(evaluation.brief)
    shares = revenue_by_basis(evaluation)
    if not shares:
        return "There is no work that anybody pays for."
    said = [f"{figure(shares[basis], 'share')} on {BASES[basis]}" for basis in BASES]
    return f"What clients would pay for your mix of work rests {joined(said)}."


NOTHING = {"carry": "carrying in", "distance": "the way there"}


def counted_as_nothing(brief):
    """Return what a brief leaves out that then counts as nothing; "" where it is told.

    A job without a way, a machine that carries itself and a business without insurance
    are the best there can be: who says nothing should hear so.
    """
    said = []
    for key, words in NOTHING.items():
        jobs = [job.name for job in brief.work if key not in job.model_fields_set]
        if jobs:
            whose = "every job" if len(jobs) == len(brief.work) else joined(jobs)
            said.append(f"{words} ({whose})")
    if brief.money.insurance is None:
        said.append("insurance")
    if not said:
        return ""
    return f"Not told in the brief, and counted as nothing: {joined(said)}."


def untold(evaluation, k):
    """Return what the seller of machine k leaves unknown, in words; "" for nothing."""
    machine = evaluation.machines[k]
    return joined(in_words(machine, path) for path in unknowns(evaluation, k))


def to_ask(machine):
    """Return what a quote's terms leave to the buyer and its sheet does not tell."""
    terms = machine.landed_cost.terms
    if terms is None:
        return (
            "The sheet does not say the terms of delivery (EXW to DDP): ask for them."
        )
    told = {
        name
        for name in type(machine.landed_cost).model_fields
        if name != "terms"
        and name in machine.landed_cost.model_fields_set
        and not getattr(getattr(machine.landed_cost, name), "is_unknown", False)
    }
    lacking = missing(terms, told | {"price"})
    if not lacking:
        return ""
    words = joined(name.replace("_", " ") for name in lacking)
    return f"Under {terms} the buyer pays these too, and the sheet lacks them: {words}."


def unknowns(evaluation, k):
    """Return the keys of machine k that are unknown and matter here."""
    name = evaluation.names[k]
    return [
        path
        for (owner, path), evidence in evaluation.evidence.items()
        if owner == name and evidence.is_unknown and evidence.high > evidence.low
    ]


def assumed(evaluation):
    """Return the (machine, criterion) pairs whose figure rests on what is not told."""
    places = {name: k for k, name in enumerate(evaluation.names)}
    return {
        (places[owner], c)
        for (owner, path), evidence in evaluation.evidence.items()
        if owner in places and evidence.is_unknown and evidence.high > evidence.low
        for c, criterion in enumerate(evaluation.criteria)
        for key in criterion.derived_from
        if path == key or path.startswith(f"{key}.")
    }
