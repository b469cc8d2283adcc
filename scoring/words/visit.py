"""The plan for a visit → sentences."""

from scoring.words.figures import about, figure, number

NOT_WORTH = "not worth the way: what the tests tell leaves less than the visit costs"


def plan_in_words(found):
    """Return the plan of one seller's visit, a sentence a line, the verdict first."""
    currency, plan = found.evaluation.brief.currency, found.plan
    net = plan.worth - plan.cost
    if not plan.steps:
        return [f"{found.name}: no test that fits is worth what it takes."]
    worth = (
        f"the tests are worth {about(net, currency)} together today, the visit costs "
        f"{about(found.visit_cost, currency)}"
    )
    verdict = worth if found.is_worth_it else f"{NOT_WORTH} ({worth})"
    lines = [f"{found.name}: {verdict}."]
    for n, step in enumerate(plan.steps, start=1):
        trial = found.tests[step.test]
        took, until = (figure(x, "min") for x in (trial.minutes, step.minutes))
        lines.append(f"{number(n)}. {trial.title}, {took} (until {until}).")
    lines.append(
        "Stop here: what is left is worth less than it takes, or does not fit."
    )
    return lines
