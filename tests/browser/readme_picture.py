"""Takes the README's picture from the running page.

.venv/bin/python tests/browser/readme_picture.py
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.browser import driving  # noqa: E402

PICTURE = driving.ROOT / ".readme" / "answer.png"


def main():
    """Open the page on the demo's first brief and save what is seen first."""
    PICTURE.parent.mkdir(exist_ok=True)
    with driving.served() as address, driving.chromium() as browser:
        page = driving.open_page(browser, 1400, 1000)
        driving.visit(page, address)
        page.screenshot(path=PICTURE)


if __name__ == "__main__":
    main()
