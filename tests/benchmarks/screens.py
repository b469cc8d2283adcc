"""How much stands on each screen before a fold, on each demo brief, at both widths.

    .venv/bin/python -m tests.benchmarks.screens

Prints words and screens (of 1,000 px at 1400 px width, of 844 px at 390 px), the most
columns of a table before a fold, and pixels beyond the right edge.
"""

import argparse

from tests.browser import driving

SCREENS = ("answer", "why", "how-sure", "money", "second-rig", "visit", "bank")
SCREENS += (
    "start",
    "work",
    "machines",
    "keep",
    "workshop",
    "crowd",
    "words",
    "jobs-done",
)
BRIEFS = ("new-entrant.yaml", "second-rig.yaml", "workshop.yaml")
HEIGHTS = {1400: 1000, 390: 844}
# Text that is rendered and not within something that is closed.
SEEN = """
() => {
  const main = document.querySelector("[data-testid=stMain]");
  const shut = element => {
    const fold = element.closest("details:not([open])");
    return fold && !element.closest("summary");
  };
  const skipped = "style, svg, .echo, [hidden]";
  const walk = document.createTreeWalker(main, NodeFilter.SHOW_TEXT);
  let words = 0;
  while (walk.nextNode()) {
    const at = walk.currentNode.parentElement;
    if (at.closest(skipped) || shut(at) || !at.checkVisibility()) continue;
    const found = walk.currentNode.data.split(/\\s+/);
    words += found.filter(word => /\\w/.test(word)).length;
  }
  const tables = [...main.querySelectorAll("table")].filter(
    table => table.checkVisibility() && !table.closest("details:not([open])"));
  const columns = Math.max(0, ...tables.map(
    table => table.rows.length ? table.rows[0].cells.length : 0));
  return {words, columns, height: main.scrollHeight};
}
"""


def main():
    """Print a row for each screen, brief and width."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--briefs", nargs="*", default=BRIEFS)
    briefs = parser.parse_args().briefs
    head = ("screen", "brief", "width", "words", "screens", "columns", "beyond")
    print("{:12}{:20}{:>6}{:>7}{:>9}{:>9}{:>8}".format(*head))
    with driving.served() as address, driving.chromium() as browser:
        for brief in briefs:
            for width, height in HEIGHTS.items():
                page = driving.open_page(browser, width, height)
                choose(page, address, brief)
                for screen in SCREENS:
                    print(row(page, address, screen, brief, width))
                page.context.close()


def choose(page, address, brief):
    """Choose a brief; the case in the address keeps it for the other screens."""
    driving.visit(page, address)
    page.get_by_role("button", name="Case and units").click()
    field = page.locator(".st-key-brief input")
    field.click()
    page.locator("[role=option]").nth(BRIEFS.index(brief)).click()
    driving.settled(page, brief=brief)


def row(page, address, screen, brief, width):
    """Return what stands on a screen, as a line."""
    case = page.url.partition("?")[2]
    driving.visit(page, f"{driving.at(address, screen)}?{case}")
    seen = page.evaluate(SEEN)
    screens = seen["height"] / HEIGHTS[width]
    return (
        f"{screen:12}{brief:20}{width:6}{seen['words']:7}{screens:9.1f}"
        f"{seen['columns']:9}{driving.overflow(page):8}"
    )


if __name__ == "__main__":
    main()
