"""A square of a hundred as HTML."""

from html import escape


def squares_html(counts):
    """Return (name, how many, colour) triples as a hundred squares and their legend."""
    cells = "".join(f'<i style="--part:{colour}"></i>' * n for _, n, colour in counts)
    said = ", ".join(f"{name} {n} of 100" for name, n, _ in counts)
    legend = "".join(
        f'<li style="--part:{colour}">{escape(name)} <b>{n}</b></li>'
        for name, n, colour in counts
    )
    return (
        f'<div class="hundred"><div role="img" aria-label="{escape(said)}">'
        f"{cells}</div><ul>{legend}</ul></div>"
    )
