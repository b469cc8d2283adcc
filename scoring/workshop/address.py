"""Where phones find a room: the link, its QR code, whether the server answers."""

import socket
from urllib.error import URLError
from urllib.request import ProxyHandler, build_opener

PORT = 8501
PATH = "workshop"
LOCAL = {"localhost", "127.0.0.1", "::1", "0.0.0.0"}
# RFC 5737 keeps this address for documentation: nobody answers, and nothing is sent.
NOWHERE = ("192.0.2.1", 9)
PATIENCE_S = 2


def network_address():
    """Return this computer's address on its network, None if it is on none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(NOWHERE)  # chooses the way out; a datagram socket sends none
            found = probe.getsockname()[0]
        except OSError:
            return None
    return None if found in LOCAL else found


def base_address(seen):
    """Return the address that phones should open, from that of the trainer's browser.

    Parameters
    ----------
    seen : (scheme, host, port or None) of the trainer's browser

    Examples
    --------
    >>> base_address(("https", "rooms.example", None))
    'https://rooms.example'
    """
    scheme, host, port = seen
    if host in LOCAL:
        host = network_address() or host
    return f"{scheme}://{f'[{host}]' if ':' in host else host}{f':{port}' * bool(port)}"


def join_link(base, code):
    """Return the link that opens a room's door.

    Examples
    --------
    >>> join_link("http://192.0.2.7:8501", "BCDFGH")
    'http://192.0.2.7:8501/workshop?room=BCDFGH'
    """
    return f"{base}/{PATH}?room={code}"


def answers(base):
    """Return whether the server answers under an address, asked from this computer.

    That it does shows that it listens there; a firewall may still keep phones away.
    """
    opener = build_opener(ProxyHandler({}))
    try:
        with opener.open(f"{base}/_stcore/health", timeout=PATIENCE_S) as answer:
            return answer.status == 200
    except (URLError, OSError, ValueError):
        return False


def qr_image(link):
    """Return a QR code as the address of an image: dark on light on any ground."""
    import segno  # only here

    code = segno.make(link, error="m", micro=False)
    return code.svg_data_uri(border=4, scale=10, light="#fff", dark="#000")


def qr_text(link):
    """Return a QR code as text for a terminal."""
    import io

    import segno

    out = io.StringIO()
    segno.make(link, error="l", micro=False).terminal(out, border=2, compact=True)
    return out.getvalue()
