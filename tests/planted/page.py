"""Faults planted in the page and in the exercise with a room."""

from tests.planted.fault import Fault

FAULTS = (
    Fault(
        "a sheet shows its lowest figure as the likely one",
        "page/machines.py",
        "text.amount(evidence.low, evidence.likely, evidence.high, unit, is_us)",
        "text.amount(evidence.low, evidence.low, evidence.high, unit, is_us)",
        "page/test_machines.py",
    ),
    Fault(
        "who comes before whom, transposed on screen",
        "page/firm/places.py",
        "figure(firm.before[k, n]",
        "figure(firm.before[n, k]",
        "page/firm",
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
        'token, PARTICIPANT, lock="share")',
        "token, PARTICIPANT)",
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
        "who is ruled out may lead",
        "workshop/solved.py",
        "totals = np.where(is_out, -np.inf, totals)",
        "totals = np.where(is_out, 0.0, totals)",
        "workshop/test_pack.py",
    ),
)
