"""A class of made-up people that goes through all stages of the exercise."""

import numpy as np

from scoring.workshop.answers import give
from scoring.workshop.asked import CRITERIA
from scoring.workshop.pack import LETTERS
from scoring.workshop.people import join
from scoring.workshop.rooms import move, room_of

TEAMS = 5


def answer_to(question, kind, rng):
    """Return a made-up answer; tests afterwards are answered better."""
    name, _, most = kind.partition(" ")
    if name == "ranks":
        return [LETTERS[k] for k in rng.permutation(len(LETTERS))]
    if name == "percent":
        return int(rng.integers(0, 101))
    if name == "days":
        return {letter: [1, 1.5, 1 + int(rng.integers(1, 4))] for letter in "BD"}
    if name == "prices":
        return {name: int(rng.integers(0, 4000)) + 1 for name in CRITERIA}
    if name == "leader":
        return {"letter": LETTERS[rng.integers(0, 8)], "sure": int(rng.integers(101))}
    if name == "order":
        return [int(k) + 1 for k in rng.permutation(int(most))]
    return int(rng.integers(1, int(most) + 1))


def run_through(store, room, n_people=24, seed=3, names=None, until="debrief"):
    """Let a class join and answer all that is asked; return their tokens."""
    rng = np.random.default_rng(seed)
    names = names or [f"Person {n}" for n in range(n_people)]
    tokens = [
        join(store, room.code, name, 1 + n % TEAMS, f"phone {n}").token
        for n, name in enumerate(names)
    ]
    stages = room_of(store, room.token)
    for stage in stages.names[: stages.names.index(until) + 1]:
        move(store, room.token, stage)
        for n, token in enumerate(tokens):
            for question, kind in stages.asked[stage].items():
                value = answer_to(question, kind, rng)
                key = f"{n:03}-{stage}-{question}".replace(".", "-")
                give(store, token, stage, question, value, key)
    return tokens
