"""One visitor of the page over its own protocol, without a browser."""

import asyncio
import time

import websockets
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg

PATIENCE_S = 300


class Visitor:
    """A connection and the page's hash; who moves something says what in `ask`."""

    def __init__(self, connection):
        self.connection, self.page, self.scripts, self.pulse = connection, "", {}, ""

    def ask(self, state):
        """Put into the message how the widgets stand."""
        raise NotImplementedError

    def note(self, element, fragment):
        """Take up an element that was sent."""
        raise NotImplementedError

    async def run(self, fragment="", page=""):
        """Ask for a run with the widgets as they stand; return how long it took."""
        asked = BackMsg()
        state = asked.rerun_script
        state.fragment_id, state.page_script_hash = fragment, page or self.page
        self.ask(state)
        begun = time.perf_counter()
        await self.connection.send(asked.SerializeToString())
        await asyncio.wait_for(self._until_finished(), PATIENCE_S)
        return time.perf_counter() - begun

    async def until(self, is_there):
        """Take up what comes until it is there."""
        while not is_there():
            await asyncio.wait_for(self._until_finished(), PATIENCE_S)

    async def _until_finished(self):
        while True:
            told = ForwardMsg()
            told.ParseFromString(await self.connection.recv())
            kind = told.WhichOneof("type")
            if kind == "new_session":
                self.page = told.new_session.page_script_hash
            elif kind == "navigation":
                pages = told.navigation.app_pages
                self.scripts = {p.url_pathname: p.page_script_hash for p in pages}
            elif kind == "auto_rerun":
                self.pulse = told.auto_rerun.fragment_id
            elif kind == "delta":
                self._take(told.delta)
            elif kind == "script_finished":
                return

    def _take(self, delta):
        element = delta.new_element
        if element.WhichOneof("type") == "exception":
            raise RuntimeError(element.exception.message)
        self.note(element, delta.fragment_id)


def set_slider(state, slider, value):
    """Put a slider's place into a message."""
    widget = state.widget_states.widgets.add()
    widget.id = slider
    widget.double_array_value.data.append(value)


async def connected(port):
    """Return an open connection to the page on this computer."""
    return await websockets.connect(
        f"ws://127.0.0.1:{port}/_stcore/stream",
        subprotocols=["streamlit"],
        max_size=None,
        ping_interval=None,
    )
