"""A room → one workbook of results, people, answers; no cell in it runs anything."""

import io

from scoring.report.cells import set_cell
from scoring.workshop.asked import in_words
from scoring.workshop.papers import STAGE_WORDS
from scoring.workshop.solved import CAUSES

HEAD_WIDTH = 24  # characters of a column


def workbook(room, pack, result, people, answers):
    """Return the bytes of an .xlsx file of a room.

    Texts are texts, whatever they look like: a nickname that begins as a formula is
    shown and not run, also after it is edited.

    Parameters
    ----------
    room : Room
    pack : Pack
    result : RoomResult
    people : sequence of Person
    answers : sequence of Answer
    """
    from openpyxl import Workbook  # only here

    book = Workbook()
    book.remove(book.active)
    for title, rows in (
        ("Room", _room_rows(room, result)),
        ("Teams", _team_rows(result)),
        ("Days", _days_rows(result)),
        ("First guess", [("letter", "points"), *sorted(result.points.items())]),
        ("People", _people_rows(people)),
        ("Answers", _answer_rows(people, answers)),
        ("Questions", _question_rows(pack.plan)),
    ):
        _fill(book.create_sheet(title), rows)
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def _fill(sheet, rows):
    """Write rows: numbers as numbers, all else as text; the first row stays in view."""
    from openpyxl.styles import Font

    for r, row in enumerate(rows, start=1):
        for c, value in enumerate(row, start=1):
            set_cell(sheet.cell(r, c), value)
            if r == 1:
                sheet.cell(r, c).font = Font(bold=True)
    for c in range(1, sheet.max_column + 1):
        sheet.column_dimensions[sheet.cell(1, c).column_letter].width = HEAD_WIDTH
    sheet.freeze_panes = "A2"


def _room_rows(room, result):
    decides = zip(CAUSES, result.decides.first.tolist(), strict=True)
    agreement = result.first_guess
    yield "what", "value", "of", "note"
    yield "exercise", room.title
    yield "room", room.code
    yield "form", room.form
    yield "stage", STAGE_WORDS[room.stage]
    yield "agreement before any buyer (W)", agreement and agreement.w
    yield "chance of as much by luck (p)", agreement and agreement.p
    for what, hits in (
        ("own buyer's leader foreseen", result.own),
        ("swaps foreseen", result.swap),
        ("sixth buyer's leader foreseen", result.sixth),
    ):
        yield what, hits.share, hits.n, f"by chance {hits.by_chance:.3g}"
        yield f"{what}: Brier score", hits.brier, hits.n, "0 is best"
    learnt = result.learnt
    yield "right before, %", learnt.before, learnt.n
    yield "right after, %", learnt.after, learnt.n
    yield "gain", learnt.gain, learnt.n, "(after − before)/(100 − before)"
    for cause, share in decides:
        yield f"who leads is decided by {cause}", share
    yield "who leads is decided only together", result.decides.together


def _team_rows(result):
    yield (
        "team",
        "buyer",
        "people",
        "order",
        "toolkit's order",
        "agreement with the toolkit (τ-b)",
        "within the team (W)",
        "p",
    )
    for team in result.teams:
        within = team.agreement
        yield (
            team.team,
            team.buyer,
            team.n_people,
            " ".join(team.order),
            " ".join(team.toolkit_order),
            team.tau,
            within and within.w,
            within and within.p,
        )


def _days_rows(result):
    yield (
        "team",
        "kind of job",
        "letter",
        "low",
        "likely",
        "high",
        "share that is disagreement",
        "toolkit",
    )
    for team in result.teams:
        for each in team.days:
            said = each.said
            ends = (said.low, said.likely, said.high, said.between)
            yield team.team, each.job, each.letter, *ends, each.toolkit


def _people_rows(people):
    yield "nickname", "team", "on paper"
    for person in people:
        yield person.nickname, person.team, "yes" if person.is_on_paper else "no"


def _answer_rows(people, answers):
    by_id = {person.id: person for person in people}
    yield "nickname", "team", "stage", "question", "answer"
    for a in answers:
        person = by_id[a.person_id]
        is_plain = isinstance(a.value, int | float)
        value = a.value if is_plain else in_words(a.value)
        yield person.nickname, person.team, a.stage, a.question, value


def _question_rows(plan):
    yield "question", "text", "right", "why"
    for question in plan.questions:
        right = question.choices[question.right - 1]
        yield question.id, question.text, right, question.why
