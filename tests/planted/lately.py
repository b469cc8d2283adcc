"""Faults planted in short screens, terms, what travels with a case, shared days."""

from tests.planted.fault import Fault

MOVED, WORK_CHART = "page/state/moved.py", "charts/shared_work.py"
FAULTS = (
    Fault(
        "the van of a shared day loads itself",
        "model/job/site_time.py",
        "day = business.day_min - loading_minutes(machines, business)",
        "day = business.day_min + 0 * loading_minutes(machines, business)",
    ),
    Fault(
        "a lease's month in which nothing is due pays all the same",
        "model/months/payment.py",
        "each[..., month : month + 1] if is_some else NEVER",
        "each[..., month : month + 1] if is_some else due.balance",
    ),
    Fault(
        "what to expect told as what is told",
        "words/workings/steps.py",
        'return [Step(f"{what} to expect", mean, unit, "mean of the draws")]',
        'return [Step(f"{what} to expect", told, unit, "mean of the draws")]',
    ),
    Fault(
        "a job's money to expect left out",
        "words/workings/job_money.py",
        'return [*steps, *expected_step("left", mean, left, currency)]',
        "return steps",
    ),
    Fault(
        "a brief's silence on the way kept to itself",
        "words/evidence.py",
        "if key not in job.model_fields_set]",
        "if key in job.model_fields_set]",
    ),
    Fault(
        "what nobody does counted to the first rig",
        WORK_CHART,
        "parts = [(rig, done.get(rig, 0.0)) for rig in rigs] + [(NOBODY, left)]",
        "parts = [(rig, done.get(rig, left)) for rig in rigs]",
    ),
    Fault(
        "two rigs of one machine drawn alike",
        WORK_CHART,
        "alike = [shades.index(shade) < n for n, shade in enumerate(shades)]",
        "alike = [shades.index(shade) < 0 for n, shade in enumerate(shades)]",
    ),
    Fault(
        "the biggest work hidden behind the fold",
        "page/answer/walls.py",
        "key=lambda j: (cells[j].kind == DOES, -per_month[j])",
        "key=lambda j: (cells[j].kind == DOES, per_month[j])",
    ),
    Fault(
        "what the leader cannot do hidden behind the fold",
        "page/answer/walls.py",
        "key=lambda j: (cells[j].kind == DOES, -per_month[j])",
        "key=lambda j: (cells[j].kind != DOES, -per_month[j])",
    ),
    Fault(
        "short cash folded away",
        "words/money.py",
        "return bool(found.funds_gap[k] > 0 or _runs_out(found.evaluation, k))",
        "return bool(found.funds_gap[k] < 0)",
    ),
    Fault(
        "a term told by another term's sentence",
        "page/text/terms.py",
        'form.lower(): f"{term.word}: {term.meaning} {term.example}"',
        'form.lower(): f"{term.word}: {terms[0].meaning} {terms[0].example}"',
    ),
    Fault(
        "a term that no finger reaches",
        "page/text/terms.py",
        'class="term" tabindex="0"',
        'class="term" tabindex="-1"',
    ),
    Fault(
        "moves out of anybody's file believed",
        MOVED,
        "found = {key: moves[key] for key in NOTHING if _fits(key, moves.get(key))}",
        "found = {key: moves[key] for key in NOTHING if key in moves}",
    ),
    Fault(
        "a price stays with a machine's old name",
        MOVED,
        "prices[new] = prices.pop(old)",
        "prices[old] = prices.pop(old)",
    ),
    Fault(
        "kept weights stay supposed",
        "page/why/weights.py",
        "        st.session_state.pop(TOLD, None)  # they",
        "        pass  # they",
    ),
    Fault(
        "a typographer's minus read as plus",
        "inputs/case/fields.py",
        'entry = entry.replace(MINUS, "-")',
        'entry = entry.replace(MINUS, "")',
    ),
    Fault(
        "a guess that cannot be read is written",
        "page/own/judged.py",
        "            read_guess(name, typed)\n",
        "            pass\n",
    ),
    Fault(
        "a workbook's values not counted",
        "inputs/workbook_file.py",
        '        counts["all"] += 1\n',
        '        counts["all"] += tag not in UNCOUNTED\n',
    ),
    Fault(
        "visits in the order of their names",
        "records/visit.py",
        '"reservation_value": plain(value),',
        '"reservation_value": plain(-value),',
    ),
)
