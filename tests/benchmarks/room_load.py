"""A class on one server: WebSocket sessions that each answer every two seconds.

Speaks the page's own protocol, without browsers: each session joins a room, slides how
sure it is, and waits until the page has taken the answer up. Every answer counted was
committed and read back. At the end the room moves on, and all come along. The clients
yield the processor to the servers; what they use of it and the load stand beside.

    .venv/bin/python -m tests.benchmarks.room_load --sessions 60 --seconds 120
    .venv/bin/python -m tests.benchmarks.room_load --two   # servers, one PostgreSQL
"""

import argparse
import asyncio
import contextlib
import html
import json
import os
import random
import tempfile
import time
from typing import NamedTuple

import numpy as np

from scoring.workshop.answers import give, room_answers
from scoring.workshop.people import join
from scoring.workshop.rooms import move, open_room
from scoring.workshop.store import open_store
from tests.benchmarks.load import megabytes, process
from tests.benchmarks.visitor import Visitor, connected, set_slider
from tests.browser import driving
from tests.workshop import postgres
from tests.workshop.packs import own_pack

EVERY_S = 2.0
YIELDED = 5  # niceness of the clients
ECHO = 'data-echo="'  # what the page says it has drawn
SLIDER = "q_first_guess_sure_sure"


class Phone(Visitor):
    """A participant: the seat's token, the slider and its fragment, where it stands."""

    def __init__(self, connection, token):
        super().__init__(connection)
        self.token, self.slider, self.fragment, self.at = token, "", "", None
        self.stage = ""

    def ask(self, state):
        state.query_string = f"seat={self.token}"
        if self.slider and self.at is not None:
            set_slider(state, self.slider, self.at)

    def note(self, element, fragment):
        if element.WhichOneof("type") == "html" and ECHO in element.html.body:
            said = element.html.body.partition(ECHO)[2].partition('"')[0]
            self.stage = json.loads(html.unescape(said)).get("stage", "")
        is_slider = element.WhichOneof("type") == "slider"
        if is_slider and element.slider.id.endswith(SLIDER):
            self.slider, self.fragment = element.slider.id, fragment


class Met(NamedTuple):
    """What a class met, and what it took."""

    answers: list  # (seconds of each answer, the last value, errors) of each
    came: list  # seconds until each had the next stage
    spent: float  # the servers' processor seconds while they answered
    own: float  # the clients'
    grown: float  # megabytes for each


async def seated(port, token):
    """Return the Phone of a token on its first question, the slider."""
    phone = Phone(await connected(port), token)
    await phone.run()
    await phone.run(page=phone.scripts["workshop"])
    if not phone.slider:
        raise RuntimeError("the phone was not asked how sure it is")
    return phone


async def one(phone, seconds, seed):
    """Return (seconds of each answer, the last value, errors) of one participant."""
    chance, took, last = random.Random(seed), [], None
    await asyncio.sleep(EVERY_S * chance.random())
    try:
        until = time.perf_counter() + seconds
        while time.perf_counter() < until:
            phone.at = last = float(chance.choice([x for x in range(101) if x != last]))
            lasted = await phone.run(phone.fragment)
            took.append(lasted)
            await asyncio.sleep(max(0.0, EVERY_S / 2 - lasted))
            await phone.run(phone.pulse)  # “has the room moved on?”, as browsers ask
            await asyncio.sleep(EVERY_S / 2)
    except Exception as error:  # every kind is what is counted here
        print(f"  {type(error).__name__}: {error}")
        return took, last, 1
    return took, last, 0


async def follow(phone, stage, seed):
    """Return the seconds from a phone's next question for the stage to its screen."""
    await asyncio.sleep(EVERY_S * random.Random(seed).random())
    begun = time.perf_counter()
    await phone.run(phone.pulse)
    await phone.until(lambda: phone.stage == stage)
    return time.perf_counter() - begun


async def crowd(ports, tokens, seconds, move_on):
    """Return what a class Met; `move_on` brings the room to its next stage."""
    await seated(ports[0], tokens[0])  # the pack is worked out before anybody waits
    phones = []
    for n, token in enumerate(tokens):
        phones.append(await seated(ports[n % len(ports)], token))
        if len(phones) == len(tokens) // 2:  # what is kept once is kept by now
            before = sum(map(megabytes, ports))
    grown = (sum(map(megabytes, ports)) - before) / (len(tokens) - len(tokens) // 2)
    spent = sum(map(cpu_s, ports))
    own = time.process_time()
    found = await asyncio.gather(
        *(one(phone, seconds, n) for n, phone in enumerate(phones))
    )
    spent, own = sum(map(cpu_s, ports)) - spent, time.process_time() - own
    stage = move_on()
    came = await asyncio.gather(
        *(follow(phone, stage, n) for n, phone in enumerate(phones))
    )
    return Met(found, came, spent, own, grown)


def cpu_s(port):
    """Return the processor seconds that the server on a port has used."""
    with open(f"/proc/{process(port)}/stat", encoding="utf-8") as file:
        told = file.read().rpartition(")")[2].split()
    return (int(told[11]) + int(told[12])) / os.sysconf("SC_CLK_TCK")


def measured(url, n, seconds, n_servers):
    """Print what n participants on so many servers met, and what was lost."""
    store = open_store(url)
    room = open_room(store, own_pack(), "hour")
    tokens = [
        join(store, room.code, f"P{k}", 1 + k % 5, f"{k}").token for k in range(n)
    ]
    move(store, room.token, "first_guess")
    for k, token in enumerate(tokens):  # the slider comes first where the order is kept
        give(store, token, "first_guess", "ranks", list("ABCDEFGH"), f"order-{k:04}")
    env = {"MURAL_ROOMS": url, "MURAL_KEEP_NOTHING": "1"}
    with contextlib.ExitStack() as stack:
        ports = []
        for _ in range(n_servers):
            address = stack.enter_context(driving.served(env=env))
            ports.append(int(address.rsplit(":", 1)[1]))
        os.nice(YIELDED)  # the servers do not
        met = asyncio.run(
            crowd(
                ports, tokens, seconds, lambda: move(store, room.token, "buyer").stage
            )
        )
    found = met.answers
    took = 1000 * np.concatenate([np.array(times) for times, _, _ in found])
    said = room_answers(store, room.token)
    kept = {a.person_id: a.value for a in said if a.question == "sure"}
    values = [kept[person] for person in sorted(kept)]
    lost = sum(last != value for (_, last, _), value in zip(found, values, strict=True))
    p50, p95 = np.percentile(took, [50, 95])
    errors = sum(wrong for _, _, wrong in found)
    print(
        f"{n} people, {n_servers} server(s): {len(took)} answers, p50 {p50:.0f} ms, "
        f"p95 {p95:.0f} ms, {errors} errors, {lost} lost, "
        f"{met.grown:.2f} MB a session, "
        f"{1000 * met.spent / len(took):.1f} ms of a core an answer"
    )
    came = 1000 * np.array(met.came)
    print(
        f"the room moves on: p50 {np.median(came):.0f} ms, last {came.max():.0f} ms; "
        f"clients {1000 * met.own / len(took):.1f} ms of a core an answer, "
        f"load {os.getloadavg()[0]:.1f}"
    )
    store.engine.dispose()


def main():
    """Let a class answer, say what it met."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--sessions", type=int, default=60)
    parser.add_argument("--seconds", type=float, default=120.0)
    parser.add_argument("--two", action="store_true")
    asked = parser.parse_args()
    if asked.two:
        with postgres.running() as url:
            measured(url, asked.sessions, asked.seconds, 2)
        return
    folder = tempfile.mkdtemp(prefix="mural-")
    url = f"sqlite:///{os.path.join(folder, 'rooms.sqlite')}"
    measured(url, asked.sessions, asked.seconds, 1)


if __name__ == "__main__":
    main()
