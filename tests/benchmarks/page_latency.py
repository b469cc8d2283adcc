"""How long a slider's key press takes until everything it changes is redrawn, and how
long a first load of the page.

Measures the page and a floor page (one slider, one bar chart) in turns, in one run and
one browser, so that both meet the same load: what lasts is the ratio.

    .venv/bin/python tests/benchmarks/page_latency.py
"""

import argparse
import os
import platform
import sys
import time
from importlib.metadata import version
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.browser import driving  # noqa: E402

FLOOR = Path(__file__).with_name("floor_page.py")
VERDICT, CHART, BAR = ".st-key-verdict", ".st-key-ranking_chart", ".st-key-answer_bar"
ECHO = "[data-echo]"

# Started by the key itself, in the capture phase. Every change of text, mark or echo
# inside a wanted part is noted with its time; 150 ms after the last one the press is
# over. Its latency is the time to the first animation frame after the last change.
ARM = """
(wanted) => {
  window.pressed = new Promise((resolve, reject) => {
    window.addEventListener("keydown", () => {
      const start = performance.now();
      const echo = () => document.querySelector("[data-echo]")?.dataset.echo;
      const before = echo();
      const changed = new Set();
      let frame = null;
      const watch = new MutationObserver((records) => {
        let seen = false;
        for (const record of records) {
          const at = record.target;
          const element = at.nodeType === 1 ? at : at.parentElement;
          for (const part of wanted)
            if (element?.closest(part) || element?.querySelector(part)) {
              changed.add(part);
              seen = true;
            }
        }
        if (seen) requestAnimationFrame(() => { frame = performance.now(); });
      });
      watch.observe(document.body, {
        subtree: true, childList: true, characterData: true, attributes: true,
        attributeFilter: ["d", "transform", "aria-label", "data-echo"],
      });
      const look = () => {
        const now = performance.now();
        if (echo() !== before && frame !== null && now - frame >= 150) {
          watch.disconnect();
          resolve({ms: frame - start, changed: [...changed]});
        } else if (now - start > 10000) {
          watch.disconnect();
          reject(new Error(`after 10 s only these changed: ${[...changed]}`));
        } else setTimeout(look, 10);
      };
      look();
    }, {capture: true, once: true});
  });
}
"""


class Subject:
    """A page with the slider that is pressed and the parts that must change."""

    def __init__(self, name, page, key, wanted):
        self.name, self.page, self.wanted = name, page, wanted
        self.thumb = page.locator(f".st-key-{key} input[type=range]")
        self.times, self.changes = [], dict.fromkeys(wanted, 0)
        self.step = "ArrowRight"

    def press(self, is_counted):
        """Press the slider's key once, back and forth within its range."""
        self.page.bring_to_front()
        self.thumb.focus()
        value, top = self.thumb.evaluate("thumb => [+thumb.value, +thumb.max]")
        if value >= 0.9 * top:
            self.step = "ArrowLeft"
        elif value <= 0.1 * top:
            self.step = "ArrowRight"
        self.page.evaluate(ARM, self.wanted)
        self.page.keyboard.press(self.step)
        outcome = self.page.evaluate("window.pressed")
        if is_counted:
            self.times.append(outcome["ms"])
            for part in outcome["changed"]:
                self.changes[part] += 1
        driving.settled(self.page)


def main():
    """Measure both pages in turns and print their latencies and ratios."""
    options = read_options()
    with (
        driving.served(FLOOR) as floor_address,
        driving.served(options.app) as app_address,
        driving.chromium() as browser,
    ):
        floor_page, app_page = (driving.open_page(browser) for _ in range(2))
        driving.visit(floor_page, floor_address)
        driving.visit(app_page, f"{app_address}/why")
        key = options.slider or "weight_year_result"
        floor = Subject("floor", floor_page, "weight_floor", [CHART, ECHO])
        wanted = [BAR, CHART, VERDICT, ECHO]
        app = Subject("page", app_page, key, wanted)
        for number in range(options.warm_up + options.presses):
            for subject in (floor, app):
                subject.press(is_counted=number >= options.warm_up)
        report(floor, app, key, browser.version)
    report_starts(options.app, options.starts)


def first_load(script):
    """Return seconds to a settled page: from the server's start, once it answers.

    The browser is new, too; the first visit pays for what the script imports.
    """
    with driving.chromium() as browser:
        page = driving.open_page(browser)
        started = time.monotonic()
        with driving.served(script) as address:
            answers = time.monotonic()
            shown = driving.visit(page, address)["changed"] / 1000
    return [answers - started + shown, shown]


def report_starts(app, n_starts):
    """Print p50 of the first load of both pages, in turns, and their ratios."""
    taken = [[first_load(script) for script in (FLOOR, app)] for _ in range(n_starts)]
    floor, page = np.median(taken, axis=0)
    for what, k in (("server start included", 0), ("server start excluded", 1)):
        ratio = page[k] / floor[k]
        print(f"first load, {what}: {floor[k]:.2f} s, {page[k]:.2f} s, {ratio:.2f}")


def read_options():
    """Return the options of the command line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--app", default=driving.APP, help="the page (app.py)")
    parser.add_argument("--slider", help="widget key; default the first weight")
    parser.add_argument("--presses", type=int, default=60)
    parser.add_argument("--warm-up", type=int, default=10)
    parser.add_argument("--starts", type=int, default=5, help="first loads of each")
    return parser.parse_args()


def report(floor, app, key, chromium):
    """Print the computer, p50 and p95 of both pages, their ratios, what changed."""
    libraries = ", ".join(f"{name} {version(name)}" for name in ("streamlit", "altair"))
    print(
        f"{os.cpu_count()} cores, Python {platform.python_version()}, {libraries}, "
        f"Chromium {chromium}; {len(app.times)} presses of {key}, in turns with floor"
    )
    print(f"{'ms':8}{'p50':>8}{'p95':>8}")
    both = [np.percentile(subject.times, [50, 95]) for subject in (floor, app)]
    for name, (middle, high) in zip(("floor", "page"), both, strict=True):
        print(f"{name:8}{middle:8.1f}{high:8.1f}")
    middle, high = both[1] / both[0]
    print(f"{'ratio':8}{middle:8.2f}{high:8.2f}")
    for part, times in app.changes.items():
        print(f"{part} changed in {times} of {len(app.times)} presses")


if __name__ == "__main__":
    main()
