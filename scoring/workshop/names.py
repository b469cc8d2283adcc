"""Nicknames: what people may call themselves, whatever they type."""

import unicodedata

from scoring.errors import ScoringError, shown

LONGEST = 60
# What is not seen and turns what is: controls, marks of direction, halves of signs.
UNSEEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


def nickname_of(written):
    """Return a nickname as it is kept: one line of 1 to 60 seen characters.

    Nothing else is forbidden: what a name may do is decided where it is shown.

    Raises
    ------
    ScoringError
        If it is empty, too long, or no text.

    Examples
    --------
    >>> nickname_of("  Ash\\u202e  Grove ")
    'Ash Grove'
    """
    if not isinstance(written, str):
        raise ScoringError(f"nickname: {shown(written)} is no text; 1 to 60 characters")
    if len(written) > 20 * LONGEST:
        raise ScoringError(f"nickname: {len(written)} characters; {LONGEST} or fewer")
    seen = (
        sign if unicodedata.category(sign) not in UNSEEN else " " * sign.isspace()
        for sign in unicodedata.normalize("NFC", written)
    )
    name = " ".join("".join(seen).split())
    if not name:
        raise ScoringError("nickname: is empty; 1 to 60 characters")
    if len(name) > LONGEST:
        raise ScoringError(f"nickname: {len(name)} characters; {LONGEST} or fewer")
    return name


def folded(nickname):
    """Return a nickname as it is compared: two that look alike to many are the same.

    Examples
    --------
    >>> folded("ASH") == folded("ash")
    True
    """
    return unicodedata.normalize("NFKC", nickname).casefold()[:200]
