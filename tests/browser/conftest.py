"""The page, served once, and Chromium to look at it."""

import pytest

from tests.browser import driving


@pytest.fixture(scope="session")
def browser():
    """A headless Chromium."""
    with driving.chromium() as chromium:
        yield chromium


@pytest.fixture(scope="session")
def address():
    """Where the page is served on the demo."""
    with driving.served() as address:
        yield address


@pytest.fixture
def opened(browser):
    """A function (width, **context) → blank page, closed after the test."""
    pages = []

    def open_page(width=1400, **context):
        pages.append(driving.open_page(browser, width, **context))
        return pages[-1]

    yield open_page
    for page in pages:
        page.context.close()


@pytest.fixture
def page(opened, address):
    """The page at 1400 px, opened and settled."""
    page = opened(1400)
    driving.visit(page, address)
    return page


@pytest.fixture
def narrow(opened, address):
    """The page at 390 px, as on a telephone, opened and settled."""
    page = opened(390)
    driving.visit(page, address)
    return page
