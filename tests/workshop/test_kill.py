"""Nothing that was acknowledged is lost, however the server ends."""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from sqlalchemy import func, select

from scoring.workshop import tables
from scoring.workshop.answers import give, own_answers
from scoring.workshop.people import join
from scoring.workshop.rooms import move, open_room
from scoring.workshop.store import open_store, reading
from tests.workshop.clients import QUESTION, STAGE, client_key, value
from tests.workshop.packs import own_pack

ROOT = Path(__file__).parents[2]
N_CLIENTS = 40


@pytest.fixture
def tokens(url):
    """Forty people in a room that is at the first guess."""
    store = open_store(url)
    room = open_room(store, own_pack())
    found = [
        join(store, room.code, f"P{n}", 1 + n % 5, "phones").token
        for n in range(N_CLIENTS)
    ]
    move(store, room.token, "first_guess")
    store.engine.dispose()
    return found


def killed(url, tokens, first, after_s):
    """Return {client: [sent, acknowledged]} of a server that is killed midway."""
    told = {"cwd": ROOT, "env": os.environ | {"PYTHONPATH": str(ROOT)}}
    told |= {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    command = [sys.executable, "-m", "tests.workshop.clients", url]
    with subprocess.Popen(command, **told) as server:
        server.stdin.write("\n".join(tokens).encode())
        server.stdin.close()
        said = b""
        while said.count(b"!") < first:  # it is in the middle of its work
            said += os.read(server.stdout.fileno(), 65_536)
        time.sleep(after_s)
        server.send_signal(signal.SIGKILL)
        said += server.stdout.read()
    assert server.returncode == -signal.SIGKILL
    last = {n: [-1, -1] for n in range(len(tokens))}
    for line in said.decode().splitlines():
        sign, n, k = line.split()
        last[int(n)]["?!".index(sign)] = int(k)
    return last


def check_kept(url, tokens, last):
    """Every acknowledged answer is there, none twice, none that was not sent."""
    store = open_store(url)
    n_kept = 0
    for n, (sent, acknowledged) in last.items():
        found = own_answers(store, tokens[n])
        assert len(found) <= 1
        if acknowledged >= 0:
            assert found[0].value in {value(acknowledged), value(sent)}
        for k in range(acknowledged + 1):  # sent again, none of them is new
            if k > acknowledged - 3:
                key = client_key(n, k)
                assert not give(store, tokens[n], STAGE, QUESTION, value(k), key)
        give(store, tokens[n], STAGE, QUESTION, value(sent), client_key(n, sent))
        (found,) = own_answers(store, tokens[n])
        assert found.value == value(sent)
        n_kept += sent + 1
    with reading(store) as connection:
        query = select(func.count()).select_from(tables.receipts)
        assert connection.execute(query).scalar() == n_kept
        query = select(func.count()).select_from(tables.answers)
        assert connection.execute(query).scalar() == len(tokens)
    store.engine.dispose()


def check_a_kill(url, tokens, seed):
    """Kill at a moment by chance, once every client has begun."""
    chance = random.Random(seed)
    last = killed(url, tokens, 2 * N_CLIENTS, chance.uniform(0, 0.3))
    assert sum(acknowledged >= 0 for _, acknowledged in last.values()) > 10
    assert any(sent > acknowledged for sent, acknowledged in last.values())
    check_kept(url, tokens, last)


def test_a_kill_loses_nothing_that_was_acknowledged(url, tokens):
    """SIGKILL amid 40 clients' answers: what was acknowledged is there, none twice."""
    check_a_kill(url, tokens, 0)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(1, 21))
def test_twenty_kills_lose_nothing(url, tokens, seed):
    """The same, twenty times more, at other moments."""
    check_a_kill(url, tokens, seed)
