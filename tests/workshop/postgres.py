"""A PostgreSQL of our own for the tests: on a free port, in a folder of its own.

`SCORING_TEST_POSTGRES` names another one; its tables are dropped.
"""

import importlib.util
import os
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path

URL = os.environ.get("SCORING_TEST_POSTGRES")
OWNER = "postgres"  # the server refuses to be started by root


def programs():
    """Return the folder of initdb and postgres, None if they are not installed."""
    found = shutil.which("initdb")
    debian = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    found = Path(found).resolve() if found else (debian[-1] if debian else None)
    return found.parent if found else None


def why_not():
    """Return why there is no PostgreSQL to test with, "" if there is one."""
    if importlib.util.find_spec("psycopg") is None:
        return "psycopg is not installed (.ci/requirements.txt)"
    if not URL and programs() is None:
        return "no initdb: Debian's package postgresql is not installed"
    return ""


@contextmanager
def running():
    """Yield the URL of a server that is stopped, and its folder gone, at the end."""
    if URL:
        yield URL
        return
    folder = Path(tempfile.mkdtemp(prefix="scoring-pg-"))
    user = OWNER if os.geteuid() == 0 else None
    if user:
        shutil.chown(folder, user)
    data, bin_folder = folder / "data", programs()
    told = {"user": user, "cwd": folder, "stdout": subprocess.DEVNULL}
    initdb = [bin_folder / "initdb", "-D", data, "-A", "trust", "-U", OWNER, "-N"]
    subprocess.run(initdb, check=True, **told)
    port = _free_port()
    options = ["-k", folder, "-h", "127.0.0.1", "-p", str(port)]
    with (folder / "log").open("w") as log:
        server = subprocess.Popen(
            [bin_folder / "postgres", "-D", data, *options],
            **(told | {"stderr": log}),
        )
    try:
        url = f"postgresql://{OWNER}@127.0.0.1:{port}/postgres"
        _wait_for(server, port, folder / "log")
        yield url
    finally:
        server.send_signal(signal.SIGINT)  # without waiting for those connected
        server.wait(20)
        shutil.rmtree(folder, ignore_errors=True)


def _free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def _wait_for(server, port, log, patience_s=30):
    """Wait until the server takes queries."""
    import psycopg

    end = time.monotonic() + patience_s
    where = f"host=127.0.0.1 port={port} user={OWNER} dbname=postgres"
    while True:
        try:
            psycopg.connect(where, connect_timeout=2).close()
            return
        except psycopg.OperationalError:
            if server.poll() is not None or time.monotonic() > end:
                raise RuntimeError(log.read_text()) from None
            time.sleep(0.1)
