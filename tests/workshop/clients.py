"""A process with forty clients that answer as fast as they can, to be killed.

    python -m tests.workshop.clients URL < tokens

It writes a line "token number, answer's number" for each answer that was acknowledged,
and before each is sent a line with a question mark: what a client would remember.
"""

import os
import sys
import threading

from scoring.workshop.answers import give
from scoring.workshop.store import open_store

STAGE, QUESTION = "first_guess", "sure"


def client_key(n, k):
    """Return the key of a client's answer number k."""
    return f"client-{n:03}-{k:06}"


def value(k):
    """Return what answer number k says."""
    return k % 101


def answer(store, token, n):
    """Answer for ever; each line is one write, which a kill cannot cut."""
    k = 0
    while True:
        os.write(1, f"? {n} {k}\n".encode())
        give(store, token, STAGE, QUESTION, value(k), client_key(n, k))
        os.write(1, f"! {n} {k}\n".encode())
        k += 1


def main():
    store = open_store(sys.argv[1])
    tokens = sys.stdin.read().split()
    threads = [
        threading.Thread(target=answer, args=(store, token, n))
        for n, token in enumerate(tokens)
    ]
    for thread in threads:
        thread.start()


if __name__ == "__main__":
    main()
