"""What a visit to a seller tries: how each test is done, and its boxes.

What it settles, takes and tells stands in `inputs/visit_tests.yaml`, by its title.
"""

from typing import NamedTuple

from scoring.inputs.visit import INTENSITIES
from scoring.inputs.visit_tests import trial_of


class Test(NamedTuple):
    """One thing to do on the visit, and the boxes to fill in."""

    title: str
    how: str
    is_quick: bool
    head: tuple[str, ...]  # over the boxes, the first one over their names
    boxes: tuple[str, ...]

    @property
    def settles(self):
        """The keys that it settles, or their first parts."""
        return trial_of(self.title).settles

    @property
    def cautions(self):
        """Names of what can hurt."""
        return trial_of(self.title).cautions


RUNS = ("minutes", "run 1", "run 2", "run 3")
NOTED = ("", "note")
TESTS = (
    Test(
        "Weigh the heaviest piece",
        "Bring a scale and a tape. Weigh each piece as it is carried, then lift the "
        "heaviest with the people who will carry it; measure the longest for your van.",
        True,
        ("kg or lb (say which)", "weight", "who lifted it"),
        ("heaviest piece", "second piece", "third piece", "longest piece: length"),
    ),
    Test(
        "Smell it, three noses",
        "Three people, each for themselves and before they talk: while the wall is "
        "prepared and while it prints, at once, after an hour, after a day. "
        + "; ".join(f"{n} {word}" for n, word in enumerate(INTENSITIES))
        + " (the words of VDI 3882).",
        True,
        ("0 to 6", "nose 1", "nose 2", "nose 3"),
        tuple(
            f"{what}, {when}"
            for what in ("preparing", "printing")
            for when in ("at once", "after an hour", "after a day")
        ),
    ),
    Test(
        "Print on your own sample boards",
        "Bring boards that are painted, textured, dark and white; look from arm's "
        "length and from across the room, with two others who do not see your marks.",
        True,
        ("1 poor to 5 very good", "you", "second", "third"),
        ("painted", "textured", "dark", "white"),
    ),
    Test(
        "Carry it to your own vehicle",
        "Take it down yourself, carry it out through the door you have at work, load "
        "and lash it, and measure the rail and the longest piece.",
        True,
        ("", "measured"),
        ("rail, length", "longest piece", "minutes to load", "fits with the seats up"),
    ),
    Test(
        "Print to the floor, into a corner, up to the top",
        "Measure the strips left bare, the greatest height, and the widest gap from "
        "head to wall at which it still prints sharp.",
        True,
        ("m, mm, ft or in", "measured"),
        ("strip left at the floor", "strip left in a corner", "height", "widest gap"),
    ),
    Test(
        "Ring two owners",
        "Owners whom you found, not only those whom the seller names. Ask how many "
        "prints went wrong and why, how often and how long it stood still, how long "
        "heads and lamps lasted, and whether they would buy it again.",
        True,
        ("", "owner 1", "owner 2"),
        (
            "prints spoilt, of how many",
            "jobs between stoppages",
            "days it stood still",
            "a head lasted (m², months)",
            "a lamp lasted (m², months)",
            "would buy it again",
        ),
    ),
    Test(
        "Three builds, timed by one person",
        "From the closed cases to ready to print, by the one who will do it, three "
        "times; then take it down and pack it. Time purge, nozzle check and head gap "
        "apart, with and without what a plan unlocks.",
        False,
        RUNS,
        (
            "build",
            "pack down",
            "purge, nozzle check, gap",
            "with what a plan unlocks",
        ),
    ),
    Test(
        "The same image, in the same pass mode",
        "Your own file, loaded by you. Use the same image, size and pass mode at every "
        "seller's; "
        "time from the first stroke to the last, then at a second height. Once with "
        "and once without white underneath. Weigh the ink before and after. Rate "
        "how easy the software was, 1 to 5.",
        False,
        RUNS,
        (
            "image, width × height, passes",
            "print",
            "second height",
            "with white",
            "ink used, colour",
            "ink used, white",
            "software, 1 to 5",
        ),
    ),
    Test(
        "A second wall",
        "Time the move from the last stroke on one wall to the first on the next, and "
        "one shift along the same wall.",
        False,
        RUNS,
        ("move to a second wall", "shift along the wall"),
    ),
    Test(
        "An uneven floor",
        "Lay a board under one end of the rail. How long to level it, and are straight "
        "lines still straight?",
        False,
        NOTED,
        ("minutes to level", "lines straight"),
    ),
    Test(
        "Power off in mid-print, and resume",
        "Ask the seller to switch off at the socket half-way. Does it go on where it "
        "stopped? Look for the seam.",
        False,
        NOTED,
        ("minutes to resume", "seam seen from"),
    ),
    Test(
        "Scratch and tape rub, after a day",
        "Take a printed board home. After a day scratch it with a coin, press tape on "
        "it and pull it off, rub it with a damp cloth.",
        False,
        NOTED,
        ("scratch", "tape", "damp rub"),
    ),
    Test(
        "Three idle days, then a nozzle check",
        "Ask for a nozzle check on the day before a pause and on the day after three "
        "idle days. Weigh the ink that purging and idle care take, and ask how often "
        "idle care is due.",
        False,
        ("", "before", "after"),
        ("nozzles missing", "ink to purge", "ink for idle care, every … days"),
    ),
)
