"""The answer in a few words as HTML."""

from html import escape

WAIT = "Looking at what your rigs and new ones leave together …"


def answer_bar_html(short, supposed=""):
    """Return a ShortAnswer as HTML, under it what is supposed; None is waited for."""
    note = f'<p class="note">{escape(supposed)}</p>' if supposed else ""
    if short is None:
        body = f"<p>{WAIT}</p>"
    else:
        facts = _spans(short.put_in, short.back, short.needs)
        body = (
            f'<p class="what"><b>{escape(short.what)}</b>{_spans(short.often)}'
            f'{_lacks(short.lacks)}</p><p class="facts">{facts}</p>'
        )
    about = 'class="answer" role="region" aria-label="the answer"'
    return f"<div {about}>{body}{note}</div>"


def _spans(*sentences):
    return "".join(f"<span>{escape(each)}</span>" for each in sentences if each)


def _lacks(lacks):
    return f'<span class="lacks">⚠ {escape(lacks)}</span>' if lacks else ""
