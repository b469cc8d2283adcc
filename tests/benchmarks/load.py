"""Many people at once: WebSocket sessions that each move a slider every two seconds.

Speaks the page's own protocol, without browsers, so that the server alone is measured:
errors, how long until everything a move changes has arrived, memory before and after.

    .venv/bin/python -m tests.benchmarks.load --sessions 25 --seconds 60
    .venv/bin/python -m tests.benchmarks.load --moves 500   # of one session
    .venv/bin/python -m tests.benchmarks.load --firm 25     # open “How firm” at once
"""

import argparse
import asyncio
import html
import os
import random
import tempfile
import time

import numpy as np

from tests.benchmarks.visitor import Visitor, connected, set_slider
from tests.browser import driving

WEIGHTS = ("weight_odour", "weight_upfront", "weight_year_result", "weight_support")
ECHO = "data-echo="  # what the page says it has drawn
EVERY_S = 2.0


class Session(Visitor):
    """One visitor: the sliders it was sent, and where they stand."""

    def __init__(self, connection):
        super().__init__(connection)
        self.sliders, self.fragments, self.stands, self.echo = {}, {}, {}, ""

    def ask(self, state):
        for key, value in self.stands.items():
            set_slider(state, self.sliders[key], value)

    def note(self, element, fragment):
        if element.WhichOneof("type") == "html" and ECHO in element.html.body:
            self.echo = html.unescape(element.html.body.rpartition(ECHO)[2])
        if element.WhichOneof("type") == "slider":
            for key in WEIGHTS:
                if element.slider.id.endswith(key):
                    self.sliders[key] = element.slider.id
                    self.fragments[key] = fragment
                    self.stands.setdefault(key, element.slider.default[0])

    async def move(self, chance):
        """Move one slider by a step or more; return how long it took."""
        key = chance.choice(list(self.sliders))
        self.stands[key] = float(chance.randrange(5, 100))
        took = await self.run(self.fragments[key])
        if f'"{key}": {self.stands[key]}' not in self.echo:
            raise RuntimeError(f"the page did not take {key} up")
        return took


async def opened(port):
    """Return a Session that has drawn the first screen."""
    session = Session(await connected(port))
    first = await session.run()
    return session, first


async def one_visitor(port, seconds, seed):
    """Return (seconds of each move, errors) of a visitor who moves now and then."""
    chance, took, errors = random.Random(seed), [], 0
    await asyncio.sleep(chance.random() * EVERY_S)
    try:
        session, _ = await opened(port)
        until = time.perf_counter() + seconds
        while time.perf_counter() < until:
            lasted = await session.move(chance)
            took.append(lasted)
            await asyncio.sleep(max(0.0, EVERY_S - lasted))
        await session.connection.close()
    except Exception as error:  # every kind is what is counted here
        print(f"  {type(error).__name__}: {error}")
        errors = 1
    return took, errors


async def crowd(port, n, seconds):
    """Print what n visitors at once meet."""
    found = await asyncio.gather(
        *(one_visitor(port, seconds, seed) for seed in range(n))
    )
    took = np.concatenate([np.array(times) for times, _ in found])
    errors = sum(wrong for _, wrong in found)
    p50, p95 = np.percentile(took, [50, 95])
    said = f"p50 {p50:.2f} s, p95 {p95:.2f} s, {errors} errors"
    print(f"{n} sessions: {len(took)} moves, {said}")


async def patient(port, n_moves):
    """Print memory while one visitor makes many moves."""
    session, _ = await opened(port)
    chance = random.Random(1)
    for n in range(n_moves + 1):
        if n % max(1, n_moves // 5) == 0:
            print(f"after {n} moves: {megabytes(port):.0f} MB")
        await session.move(chance)


async def all_at(port, n, screen):
    """Print how long it takes until all of n visitors see a screen."""
    sessions = [session for session, _ in [await opened(port) for _ in range(n)]]
    begun = time.perf_counter()
    took = await asyncio.gather(
        *(session.run(page=session.scripts[screen]) for session in sessions)
    )
    whole = time.perf_counter() - begun
    first = min(took)
    print(f"{n} open “{screen}” at once: all after {whole:.1f} s, first {first:.1f} s")


def process(port):
    """Return the id of the server's process on a port, by Linux's /proc."""
    for pid in filter(str.isdigit, os.listdir("/proc")):
        try:
            with open(f"/proc/{pid}/cmdline", "rb") as file:
                line = file.read().decode(errors="replace")
        except OSError:
            continue
        if "streamlit" in line and str(port) in line:
            return int(pid)
    raise LookupError(f"no server on port {port}")


def megabytes(port):
    """Return the resident memory of the server on a port."""
    with open(f"/proc/{process(port)}/status", encoding="utf-8") as file:
        told = dict(row.split(":", 1) for row in file if ":" in row)
    return int(told["VmRSS"].split()[0]) / 1024


def main():
    """Start the page, let people in, say what they met."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--sessions", type=int, default=25)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--moves", type=int)
    parser.add_argument("--firm", type=int)
    asked = parser.parse_args()
    folder = tempfile.mkdtemp(prefix="mural-")
    with driving.served(env={"MURAL_DATA": folder}) as address:
        port = int(address.rsplit(":", 1)[1].split("/")[0])
        print(f"server at first: {megabytes(port):.0f} MB")
        if asked.moves:
            asyncio.run(patient(port, asked.moves))
        elif asked.firm:
            asyncio.run(all_at(port, asked.firm, "firm"))
        else:
            asyncio.run(crowd(port, asked.sessions, asked.seconds))
        print(f"server at last: {megabytes(port):.0f} MB")


if __name__ == "__main__":
    main()
