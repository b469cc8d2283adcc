"""Machines against jobs as HTML: scores as bars, days as figures, reasons folded."""

from html import escape

from scoring.words.can_do import DOES

CLASSES = {"does": "", "doubt": "doubt", "not taken": "not-taken", "no": "cannot"}


def grid_html(jobs, rows):
    """Return the grid of machines and jobs.

    Parameters
    ----------
    jobs : names of the kinds of job
    rows : sequence of (name, score 0–1, colour, [CanDo]) in order of rank
    """
    head = "".join(f'<th scope="col">{escape(job)}</th>' for job in jobs)
    body = "".join(_row(n, *row) for n, row in enumerate(rows, 1))
    return (
        '<div class="scroll grid" tabindex="0" role="region" '
        'aria-label="which machine does which job, in days"><table><thead><tr>'
        f'<th scope="col">place, machine, score</th>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table></div>"
    )


def _row(place, name, score, colour, cells):
    looks = f"--part:{colour};--size:{100 * score:.1f}%"
    bar = f'<span class="score" style="{looks}"></span>'
    first = f'{place}. {escape(name)}<span class="points">{score:.2f}</span>{bar}'
    return f'<tr><th scope="row">{first}</th>{"".join(map(_cell, cells))}</tr>'


def _cell(cell):
    said = escape(cell.said)
    if cell.kind == DOES or not cell.why:
        return f"<td>{said}</td>"
    told = f"<details><summary>{said}</summary>{escape(cell.why)}</details>"
    return f'<td class="{CLASSES[cell.kind]}">{told}</td>'
