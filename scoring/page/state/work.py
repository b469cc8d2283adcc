"""What is supposed on any screen, and the Evaluation that all screens show then.

Weights, crew, jobs a month, all work, prices and interest: each stands in the session
under a key of its own, shared by all screens, and follows the brief until it is moved.
"""

import os
import re
from typing import NamedTuple

import streamlit as st

from scoring.answer.evaluation import FEWEST_DRAWS, MOST_DRAWS, N_DRAWS, evaluate
from scoring.answer.ranking import reweigh
from scoring.errors import ScoringError, shown
from scoring.page import text
from scoring.page.state.jobs import jobs_of, mean_jobs, shown_jobs
from scoring.page.state.moved import NOTHING, moves_of, note_moves
from scoring.page.state.shared import shared
from scoring.page.state.weights import (
    TOLD,
    brief_points,
    points,
    points_at,
    reset_weights,
    shown_points,
    way_of,
)
from scoring.questions.changed import Change, supposed

DRAWS = "MURAL_DRAWS"  # the environment's, where a computer is slow
MORE_JOBS = 10  # jobs a month that a slider always reaches
WHOLE = 100  # per cent of the work there is
MOST_WORK = 200  # per cent


class Chosen(NamedTuple):
    """What stands other than the brief says, but for weights; None where it does not.

    `jobs` holds a number for each kind of job, `prices` (machine, price) pairs.
    """

    people: int
    jobs: tuple[float, ...]
    work_share: int  # per cent
    prices: tuple[tuple[str, float], ...]
    rate: float | None  # per cent a year


def left_out(files):
    """Return the names of the loaded machines that the buyer does not consider."""
    names = {machine.name for machine in files.machines}
    return frozenset(st.session_state.get("left_out", frozenset()) & names)


def baseline(files, brief):
    """Return the Evaluation of the brief as it is written; it sets the scale.

    Raises
    ------
    ScoringError
        For what brief and machines say only together.
    """
    out, n_draws = left_out(files), draws()
    return shared(
        "evaluation",
        (brief, *files.machines),
        (out, n_draws),
        lambda: evaluate(brief, files.machines, left_out=out, n_draws=n_draws),
    )


def ranked(files, brief):
    """Return the baseline; None, with a sentence on the screen, where there is none."""
    if brief is None or not files.machines:
        return None
    try:
        return baseline(files, brief)
    except ScoringError as error:
        text.faults("These machines cannot be ranked for this work.", error)
        return None


def draws():
    """Return the draws whose mean is what to expect, those that MURAL_DRAWS says.

    Raises
    ------
    ScoringError
        If it says none that `evaluate` takes.
    """
    told = os.environ.get(DRAWS) or str(N_DRAWS)
    if re.fullmatch("[0-9]{1,9}", told) and FEWEST_DRAWS <= int(told) <= MOST_DRAWS:
        return int(told)
    raise ScoringError(f"{DRAWS}: {shown(told)}; {FEWEST_DRAWS} to {MOST_DRAWS}")


def asked(files, brief):
    """Return the Evaluation of all that is supposed, under the brief's own weights.

    Raises
    ------
    ScoringError
        For what brief and machines say only together.
    """
    base = baseline(files, brief)
    seed(base)
    return changed(base, chosen(base))


def answered(files, brief):
    """Return the Evaluation of all that is supposed, under the weights as they stand.

    Raises
    ------
    ScoringError
        As `asked`, and where nothing weighs anything.
    """
    model = asked(files, brief)
    return weighed(model)


def weighed(model):
    """Return an Evaluation under the weights as they stand, the same one each time."""
    values = tuple(points(model).items())
    return shared("weighed", (model,), values, lambda: reweigh(model, dict(values)))


def changed(base, choice):
    """Return the Evaluation of what is Chosen.

    It keeps the scale of the brief as written, so that weights keep their meaning.
    """
    changes = changes_of(base, choice)
    if choice.people == base.brief.crew.people and not changes:
        return base
    return shared(
        "evaluation", (base,), choice, lambda: supposed(base, changes, choice.people)
    )


def changes_of(base, choice):
    """Return the Changes that are Chosen; the crew is not one."""
    share = choice.work_share / WHOLE
    changes = [
        _jobs_asked(base.brief, n, per_month, share)
        for n, per_month in enumerate(choice.jobs)
        if share != 1 or per_month != shown_jobs(base.brief.work[n])
    ]
    changes += [Change((name, "price"), likely=price) for name, price in choice.prices]
    if choice.rate is not None:
        key = ("brief", "money.discount_rate")
        changes.append(Change(key, known=choice.rate / 100))
    return changes


def _jobs_asked(brief, n, per_month, share):
    """Return the Change to so many jobs a month on average, the range in proportion."""
    key, mean = ("brief", f"work.{n}.per_month"), mean_jobs(brief.work[n])
    if per_month == shown_jobs(brief.work[n]):
        return Change(key, times=share)
    if not mean:
        return Change(key, known=per_month * share)
    return Change(key, times=per_month / mean * share)


def chosen(base):
    """Return what is Chosen as the controls stand."""
    state, brief = st.session_state, base.brief
    jobs = (state[f"jobs_{n}"] for n, _ in enumerate(brief.work))
    prices, rate = state.get("prices_asked", {}), state["rate"]
    return _chosen(base, state["crew"], jobs, state["work_share"], prices, rate)


def chosen_of(base, moves):
    """Return what is Chosen where what was moved is as `moved.moves_of` tells."""
    moves, brief = NOTHING | moves, base.brief
    jobs = (
        clip(moves["jobs"].get(job.name, usual), 0.0, most_jobs(job))
        for job, usual in zip(brief.work, jobs_of(brief), strict=True)
    )
    people = moves["crew"] if moves["crew"] in crews_of(brief) else brief.crew.people
    share = WHOLE if moves["work_share"] is None else moves["work_share"]
    rate = interest(base) if moves["rate"] is None else moves["rate"]
    rate = clip(rate, *rates(base))
    return _chosen(base, people, jobs, clip(share, 0, MOST_WORK), moves["prices"], rate)


def _chosen(base, people, jobs, share, prices, rate):
    names = set(base.names)
    return Chosen(
        people=int(people),
        jobs=tuple(map(float, jobs)),
        work_share=int(share),
        prices=tuple(sorted((k, v) for k, v in prices.items() if k in names)),
        rate=None if float(rate) == interest(base) else float(rate),
    )


def weights_of(base, moves):
    """Return ({criterion: points}, way) where weights were moved so."""
    moves, usual = NOTHING | moves, brief_points(base)
    moved = {k: v for k, v in moves["weights"].items() if k in usual}
    stands = {name: shown_points(x) for name, x in usual.items()} | moved
    told = moves["told"]
    told = told if told and set(told["points"]) == set(usual) else None
    return points_at(base, stands, told), way_of(stands, told)


def as_moved(base, moves):
    """Return the Evaluation of what is supposed so, under its weights."""
    model = changed(base, chosen_of(base, moves))
    return reweigh(model, weights_of(base, moves)[0])


def seed(base):
    """Set all that may be supposed to the brief's when it is shown, and what was moved.

    A brief that is shown again, or got leads or artwork, keeps what was moved.
    """
    last = st.session_state.get("seeded_for")
    if last is not None and last.brief is base.brief:
        return
    if last is not None:
        note_moves(last)
    st.session_state["seeded_for"] = base
    reset_weights(base)
    reset_work(base.brief)
    reset_money(base)
    _move_again(base)
    if last is None or last.brief.source != base.brief.source:
        st.session_state["show_machine"] = base.names[base.order[0]]


def _move_again(base):
    """Set what was moved away from this brief, where it still fits."""
    moves, state = moves_of(base.brief), st.session_state
    for criterion in base.criteria:
        points = moves["weights"].get(criterion.id)
        if points is not None:
            state[f"weight_{criterion.id}"] = clip(points, 0.0, 100.0)
    ids = {criterion.id for criterion in base.criteria}
    if moves["told"] and ids == set(moves["told"]["points"]):
        state[TOLD] = moves["told"]
    for n, job in enumerate(base.brief.work):
        per_month = moves["jobs"].get(job.name)
        if per_month is not None:
            state[f"jobs_{n}"] = clip(per_month, 0.0, most_jobs(job))
    if moves["crew"] in crews_of(base.brief):
        state["crew"] = moves["crew"]
    if moves["work_share"] is not None:
        state["work_share"] = int(clip(moves["work_share"], 0, MOST_WORK))
    if moves["rate"] is not None:
        state["rate"] = clip(moves["rate"], *rates(base))
    prices = moves["prices"].items()
    state["prices_asked"] = {k: v for k, v in prices if k in base.names and v > 0}


def clip(value, low, high):
    """Return a kept value as a slider takes it."""
    return min(max(float(value), low), high)


def most_jobs(job):
    """Return how far the slider of a kind of job reaches."""
    return float(max(MORE_JOBS, 2 * shown_jobs(job)))


def crews_of(brief):
    """Return the crews that can be chosen: alone, and with whom there is."""
    return sorted({1, max(2, brief.crew.people)})


def interest(base):
    """Return the brief's discount rate in per cent, as its slider shows it."""
    return round(100 * float(base.figures.buyer.discount_rate[0, 0, 0]), 1)


def rates(base):
    """Return the ends of the interest's slider, in per cent."""
    return min(0.0, interest(base)), max(30.0, interest(base))


def reset_work(brief):
    """Set crew and jobs a month back to the brief's."""
    st.session_state["crew"] = brief.crew.people
    st.session_state["work_share"] = WHOLE
    for n, per_month in enumerate(jobs_of(brief)):
        st.session_state[f"jobs_{n}"] = per_month


def reset_money(base):
    """Set prices and interest back to the sheets' and the brief's."""
    st.session_state["prices_asked"] = {}
    st.session_state["price_of"] = None
    st.session_state["rate"] = interest(base)
