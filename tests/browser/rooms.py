"""A room in real browsers: opens, joins, answers whatever is asked."""

from urllib.parse import urlsplit

from scoring.workshop.handouts import FORMS
from tests.browser import driving

PATIENCE_MS = 20_000


def key(name):
    """Return the selector of a widget's or container's key."""
    return f".st-key-{name}"


def press(page, name):
    """Press the button with this key, and wait until the page has settled."""
    page.locator(f"{key(name)} button").first.click()
    driving.settled(page)


def fill(page, name, written):
    """Type into the field with this key."""
    field = page.locator(f"{key(name)} input").first
    field.fill(written)
    field.press("Tab")
    driving.settled(page)


def open_room(page, address, form="hour"):
    """Open a room with our own pack; return (code, key)."""
    driving.visit(page, f"{address}/workshop")
    page.get_by_role("tab", name="Open a room").click()
    driving.settled(page)
    if form == "long":
        page.locator(f"{key('open_form')} button").nth(list(FORMS).index(form)).click()
        driving.settled(page)
    press(page, "open_go")
    page.wait_for_selector(key("room_key_shown"), timeout=60_000)
    driving.settled(page, limit_s=60)
    shown = page.locator(f"{key('room_key_shown')} code").inner_text().strip()
    tab(page, "Code and wall")
    code = page.locator(f"{key('invite')} .big").inner_text().strip()
    return code, shown


def tab(page, name):
    """Open a tab of the trainer's screen."""
    page.get_by_role("tab", name=name).click()
    driving.settled(page)


def wall_of(trainer):
    """Return the address of the wall."""
    tab(trainer, "Code and wall")
    press(trainer, "wall_make")
    link = trainer.locator(f"{key('wall_open')} a")
    address = link.get_attribute("href")
    tab(trainer, "Now")
    return address


def join(page, address, code, name, team=1):
    """Join a room by its link."""
    driving.visit(page, f"{address}/workshop?room={code}")
    fill(page, "join_name", name)
    page.locator(f"{key('join_team')} button", has_text=str(team)).first.click()
    driving.settled(page)
    press(page, "join_go")


def is_in(page):
    """Return whether this page is a participant's."""
    return page.locator(key("room_participant")).count() == 1


def at_stage(page, stage):
    """Wait until a page shows a stage; it comes by itself."""
    page.wait_for_function(
        """stage => {
          const at = document.querySelector("[data-echo]");
          return at && JSON.parse(at.dataset.echo).stage === stage;
        }""",
        arg=stage,
        timeout=PATIENCE_MS,
    )
    driving.settled(page)


def answer_all(page, most=40, on_question=None):
    """Answer all that a stage asks; return how many questions were met."""
    for n in range(most):
        driving.settled(page)
        if page.locator(key("all_sent")).count():
            return n
        if on_question:
            on_question(n)
        answer_one(page)
    raise AssertionError("the stage does not come to an end")


def answer_one(page):
    """Answer the question that is shown, by what it is answered with."""
    driving.settled(page)
    question = page.locator(key("question"))
    before = question.inner_text()
    letters = question.locator("[class*='st-key-letters_'] button")
    choices = question.locator("[class*='st-key-choices_'] button:not([disabled])")
    control = question.locator("[data-testid='stButtonGroup'] button")
    numbers = question.locator("input[type=number]")
    if letters.count():
        for letter in "DBACFEHG":
            letters.filter(has_text=letter).first.click()
            driving.settled(page)
    elif control.count():
        control.nth(3).click()
        driving.settled(page)
    elif numbers.count():
        for k in range(2):
            numbers.nth(k).fill(str(k + 1))
            numbers.nth(k).press("Tab")
            driving.settled(page)
    elif choices.count():
        choices.first.click()
        driving.settled(page)
        return
    send = question.locator("[class*='_send'] button, [class*='_next'] button")
    if send.count():
        send.first.click()
    else:
        press(page, "turn_on")
    page.wait_for_function(
        """before => {
          const at = document.querySelector(".st-key-question");
          return !at || at.innerText !== before;
        }""",
        arg=before,
        timeout=PATIENCE_MS,
    )
    driving.settled(page)


def smallest_text(page, within):
    """Return the smallest font size, in px, of text that is seen in a part."""
    return page.evaluate(
        """within => {
          let least = 1000;
          for (const part of document.querySelectorAll(within + " *")) {
            const own = [...part.childNodes].some(
              (n) => n.nodeType === 3 && n.textContent.trim());
            if (own && part.getClientRects().length)
              least = Math.min(least, parseFloat(getComputedStyle(part).fontSize));
          }
          return least;
        }""",
        within,
    )


def path(address):
    """Return the path and query of an address that may be a whole one."""
    parts = urlsplit(address)
    return f"{parts.path}?{parts.query}"
