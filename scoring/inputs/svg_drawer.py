"""A checked drawing → pixels, in a process of its own with little memory and time."""

import os
import subprocess
import sys
import threading

PATIENCE_S = 10  # for a drawing; more is a drawing that never ends
MOST_MB = 512  # of addresses; a picture of 2000 × 2000 pixels takes 16 MB
# Whatever many people send at once, only so many drawings are on the way.
TURNS = threading.Semaphore(2)

# Limits are set where the system knows them; Windows knows none, and there the time
# alone is limited. Without letters no font is read: then no file can be opened at all.
DRAWER = """
import sys
patience, megabytes, has_text = map(int, sys.argv[1:])
import vl_convert
text = sys.stdin.buffer.read().decode()
try:
    import ctypes
    user, network = 0x10000000, 0x40000000
    ctypes.CDLL(None).unshare(user | network)
except Exception:
    pass
try:
    import resource
except ImportError:
    resource = None
def limit(what, most):
    try:
        resource.setrlimit(getattr(resource, what), (most, most))
    except Exception:
        pass
limit("RLIMIT_AS", megabytes * 1_000_000)
limit("RLIMIT_CPU", patience)
limit("RLIMIT_CORE", 0)
limit("RLIMIT_FSIZE", 0)
if not has_text:
    vl_convert.svg_to_png(
        '<svg xmlns="http://www.w3.org/2000/svg" width="1" height="1"/>'
    )
    limit("RLIMIT_NOFILE", 0)
sys.stdout.buffer.write(vl_convert.svg_to_png(text, scale=1))
"""


class NotDrawn(ValueError):
    """A drawing that takes too much time or memory, or cannot be drawn at all."""


def drawn(drawing):
    """Return a Drawing as PNG; NotDrawn where it cannot be, within the limits."""
    limits = [PATIENCE_S, MOST_MB, int(drawing.has_text)]
    with TURNS:
        try:
            done = subprocess.run(
                [sys.executable, "-P", "-c", DRAWER, *map(str, limits)],
                input=drawing.text.encode(),
                capture_output=True,
                timeout=PATIENCE_S,
                check=True,
                env=_environment(),
            )
        except (OSError, subprocess.SubprocessError):
            raise NotDrawn from None
    return done.stdout


def _environment():
    """Return the environment without ways out to other computers."""
    return {k: v for k, v in os.environ.items() if not k.lower().endswith("_proxy")}
