"""Codes, keys and tokens: drawn from `secrets`, kept only as hashes."""

import hashlib
import hmac
import re
import secrets

# No vowels, so that no code is a word; no letter that is taken for another.
LETTERS = "BCDFGHJKMNPRTVWXY"
KEY_SIGNS = LETTERS + "346789"
CODE_LENGTH = 6
KEY_GROUPS, GROUP = 4, 4  # 23^16, some 72 bits
SCRYPT = {"n": 2**14, "r": 8, "p": 1}
CLIENT_KEY = re.compile(r"[A-Za-z0-9_-]{8,64}")


def new_code():
    """Return a room's code: six letters that nobody mistakes."""
    return "".join(secrets.choice(LETTERS) for _ in range(CODE_LENGTH))


def typed_code(written):
    """Return a code as it was meant, None if it cannot be one.

    Examples
    --------
    >>> typed_code(" bcd-fgh "), typed_code("' OR 1=1")
    ('BCDFGH', None)
    """
    code = re.sub(r"[\s-]", "", str(written)[:40]).upper()
    return code if re.fullmatch(f"[{LETTERS}]{{{CODE_LENGTH}}}", code) else None


def new_key():
    """Return a trainer's key in groups, such as BCDF-3GHJ-…; it is shown once."""
    groups = (
        "".join(secrets.choice(KEY_SIGNS) for _ in range(GROUP))
        for _ in range(KEY_GROUPS)
    )
    return "-".join(groups)


def new_salt():
    """Return a salt for `key_hash`."""
    return secrets.token_bytes(16)


def key_hash(key, salt):
    """Return the scrypt hash of a trainer's key.

    Source
    ------
    RFC 7914 (2016), The scrypt password-based key derivation function.
    """
    signs = re.sub(r"[\s-]", "", str(key)[:100]).upper()
    return hashlib.scrypt(signs.encode(), salt=salt, **SCRYPT)


def is_key(key, salt, kept):
    """Return whether a typed key is the one that was hashed, in constant time."""
    return hmac.compare_digest(key_hash(key, salt), kept)


def new_token():
    """Return what a browser shows to be let back in: 256 bits."""
    return secrets.token_urlsafe(32)


def token_hash(token):
    """Return the hash by which a token, or a caller, is known in the store."""
    return hashlib.sha256(str(token)[:500].encode("utf-8", "replace")).hexdigest()
