"""Starts the page, drives it in Chromium, and tells when it has settled."""

import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from contextlib import contextmanager
from pathlib import Path
from urllib.error import URLError
from urllib.parse import urlsplit
from urllib.request import urlopen

ROOT = Path(__file__).parents[2]
APP = ROOT / "app.py"
CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
HERE = "127.0.0.1"
HOSTILE = (
    "<script>",
    "**bold**",
    "$x$",
    ":red[x]",
    "![x](http://192.0.2.1/a.png)",
    "N" * 300,
)

# Idle: the script does not run, nothing is stale or a placeholder, and every chart is
# drawn. Settled: idle, the echo holds the wanted inputs, and 150 ms passed in which the
# DOM did not change.
SETTLED = """
([wanted, limit]) => new Promise((resolve, reject) => {
  const started = performance.now();
  let changed = started;
  const watch = new MutationObserver(() => { changed = performance.now(); });
  watch.observe(document, {
    subtree: true, childList: true, attributes: true, characterData: true,
  });
  const echo = () => {
    const at = document.querySelector("[data-echo]");
    return at ? JSON.parse(at.dataset.echo) : null;
  };
  const missing = () => {
    const app = document.querySelector("[data-testid=stApp]");
    if (!app) return "there is no page yet";
    if (app.dataset.testScriptState !== "notRunning") return "the script still runs";
    if (document.querySelector("[data-testid=stSkeleton], [data-stale=true]"))
      return "something is stale or a placeholder";
    for (const chart of document.querySelectorAll("[data-testid=stVegaLiteChart]"))
      if (!chart.querySelector("svg.marks, canvas.marks"))
        return "a chart is not drawn";
    const shown = echo();
    if (!shown) return "there is no echo";
    for (const [key, value] of Object.entries(wanted)) {
      const near = typeof value === "number" && Math.abs(shown[key] - value) < 1e-6;
      if (!near && shown[key] !== value)
        return `the echo of ${key} is ${shown[key]}, not ${value}`;
    }
    return "";
  };
  const look = () => {
    const now = performance.now();
    const lacking = missing();
    if (!lacking && now - changed >= 150) {
      watch.disconnect();
      resolve({changed, echo: echo()});
    } else if (now - started > limit) {
      watch.disconnect();
      reject(new Error("not settled: " + (lacking || "the DOM keeps changing")));
    } else setTimeout(look, 20);
  };
  look();
})
"""


@contextmanager
def served(script=APP, env=None, cwd=ROOT):
    """Yield the address of a page in a process group of its own, ended afterwards."""
    port = free_port()
    command = [sys.executable, "-m", "streamlit", "run", str(script)]
    options = {
        "--server.port": port,
        "--server.address": HERE,
        "--server.headless": "true",
        "--browser.gatherUsageStats": "false",
        "--server.fileWatcherType": "none",
    }
    server = subprocess.Popen(
        [*command, *(str(part) for pair in options.items() for part in pair)],
        cwd=cwd,
        env={**os.environ, **(env or {})},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        start_new_session=True,
    )
    try:
        wait_for_health(server, port)
        yield f"http://{HERE}:{port}"
    finally:
        end(server)


def free_port():
    """Return a port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind((HERE, 0))
        return probe.getsockname()[1]


def wait_for_health(server, port, limit_s=30):
    """Return when the server answers; RuntimeError if it ends or stays silent."""
    deadline = time.monotonic() + limit_s
    while time.monotonic() < deadline:
        if server.poll() is not None:
            raise RuntimeError(f"the page's server ended with code {server.returncode}")
        try:
            with urlopen(f"http://{HERE}:{port}/_stcore/health", timeout=1):
                return
        except (URLError, OSError):
            time.sleep(0.02)
    raise RuntimeError(f"the page's server was silent for {limit_s} s")


def end(server):
    """End the server's process group, by its id."""
    for how in (signal.SIGTERM, signal.SIGKILL):
        try:
            os.killpg(server.pid, how)
        except ProcessLookupError:
            pass
        try:
            server.wait(timeout=5)
            return
        except subprocess.TimeoutExpired:
            continue


@contextmanager
def chromium():
    """Yield a headless Chromium; RuntimeError where none is installed."""
    from playwright.sync_api import sync_playwright  # not needed by the other tests

    path = shutil.which("chromium") or shutil.which("chromium-browser")
    if path is None:
        raise RuntimeError("Chromium is not installed; `apt-get install chromium`")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=CHROMIUM_FLAGS)
        try:
            yield browser
        finally:
            browser.close()


def open_page(browser, width=1400, height=1000, **context):
    """Return a blank page in a context of its own; `.outside` notes other hosts."""
    size = {"width": width, "height": height}
    page = browser.new_context(viewport=size, **context).new_page()
    page.outside = []
    page.context.on("request", lambda request: note(page, request.url))
    page.on("websocket", lambda socket: note(page, socket.url))
    return page


def note(page, url):
    """Remember an address that is not of this computer."""
    address = urlsplit(url)
    if address.scheme not in ("data", "blob", "about") and address.hostname != HERE:
        page.outside.append(url)


def settled(page, limit_s=20, **wanted):
    """Return {changed, echo} once the page is idle and shows the wanted inputs.

    `wanted` are the inputs by widget key; `changed` is when the DOM last changed, in ms
    since the page was asked for, `echo` the inputs that were rendered.
    """
    return page.evaluate(SETTLED, [wanted, 1000 * limit_s])


def visit(page, address):
    """Go to an address and return what `settled` returns."""
    page.goto(address)
    page.wait_for_selector("[data-echo]", state="attached", timeout=30_000)
    return settled(page)


def move(page, key, press, times=1):
    """Press a key on a slider; return the echo once it shows the new value."""
    thumb = page.locator(f".st-key-{key} input[type=range]")
    thumb.focus()
    for _ in range(times):
        page.keyboard.press(press)
    return settled(page, **{key: float(thumb.input_value())})["echo"]


def at(address, screen):
    """Return the address of a screen by its name in the address; the first has none."""
    return address if screen == "answer" else f"{address}/{screen}"


def drawing(page, key):
    """Return what a chart or a piece of HTML holds, to tell whether it changed."""
    part = page.locator(f".st-key-{key}")
    marks = part.locator("svg.marks")
    return (marks if marks.count() else part).inner_html()


def overflow(page):
    """Return by how many pixels the page or its main part is wider than shown."""
    return page.evaluate(
        """() => Math.max(...[
          document.scrollingElement, document.querySelector("[data-testid=stMain]"),
        ].map(part => part.scrollWidth - part.clientWidth))"""
    )


def exceptions(page):
    """Return the texts of tracebacks on screen."""
    return page.locator("[data-testid=stException]").all_inner_texts()


def interpreted(page):
    """Return the elements that Markdown made out of the names in HOSTILE."""
    made = {
        "strong": "bold",
        ".katex": "",
        ".stMarkdownColoredText": "x",
        "img[src*='192.0.2.1']": "",
        "a[href*='192.0.2.1']": "",
    }
    return [
        selector
        for selector, text in made.items()
        if page.locator(selector).filter(has_text=text).count()
    ]


def keep(page, name):
    """Save a screenshot, from top to bottom, in the folder SCREENSHOTS if it is set."""
    folder = os.environ.get("SCREENSHOTS")
    if not folder:
        return
    Path(folder).mkdir(parents=True, exist_ok=True)
    size = page.viewport_size
    inside = "document.querySelector('[data-testid=stMain]').scrollHeight"
    height = max(size["height"], page.evaluate(inside))  # the main part scrolls inside
    page.set_viewport_size({**size, "height": height})
    settled(page)
    page.screenshot(path=Path(folder) / f"{name}.png")
    page.set_viewport_size(size)
