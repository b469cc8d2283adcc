"""What the tests of drawings share."""

import socket
import threading

import pytest


@pytest.fixture
def heard():
    """Yield (address, list of who called there)."""
    calls = []
    with socket.create_server(("127.0.0.1", 0)) as server:

        def listen():
            while True:
                try:
                    called, _ = server.accept()
                except OSError:
                    return
                with called:
                    calls.append(called.recv(300))
                    called.sendall(
                        b"HTTP/1.1 404 Not Found\r\nContent-Length: 0\r\n\r\n"
                    )

        threading.Thread(target=listen, daemon=True).start()
        yield f"127.0.0.1:{server.getsockname()[1]}", calls
