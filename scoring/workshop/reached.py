"""Whether a device other than this computer has reached the server; kept in memory."""

import time

_since = []  # when the first came; no address is kept


def note(address):
    """Note that somebody came from an address; None and loopback are this computer."""
    if address and not address.startswith("127.") and address != "::1" and not _since:
        from scoring.workshop.address import network_address

        if address != network_address():
            _since.append(time.time())


def since():
    """Return when the first other device came, None if none has."""
    return _since[0] if _since else None
