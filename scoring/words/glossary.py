"""Terms of the trade and of the method: each in a sentence, with an example.

Written for this project from common usage; the sources of the methods stand in the
README.
"""

from typing import NamedTuple


class Term(NamedTuple):
    """A term, what it means, and an example."""

    word: str
    meaning: str
    example: str


ON_SITE = (
    Term(
        "pass",
        "One sweep of the head over the same strip; more passes print slower and "
        "smoother.",
        "Twice the passes takes about twice the time a square metre.",
    ),
    Term(
        "strip",
        "The band that one sweep prints, as wide as the head.",
        "A wall of 2 m in strips of 5 cm takes 40 of them at one pass.",
    ),
    Term(
        "build and pack down",
        "From the van's door to ready to print, and back into the van.",
        "25 min to build and 15 min to pack down leave less of a short day.",
    ),
    Term(
        "priming",
        "Pushing ink through the head until every nozzle prints; the ink is lost.",
        "9 min and 6 ml before each job.",
    ),
    Term(
        "rail position",
        "One place of the rail on the floor; a wider wall takes several.",
        "A 5 m wall with a 2 m rail takes three.",
    ),
    Term(
        "head gap",
        "How far the head may stand off the wall; what stands out more is touched.",
        "3 mm of plaster relief needs a head gap of more than 3 mm.",
    ),
    Term(
        "white underneath",
        "White ink printed first, so that colours show on a dark or clear ground.",
        "On glass, colours without white underneath look washed out.",
    ),
    Term(
        "heaviest lift",
        "The heaviest piece that somebody has to carry by hand.",
        "A base of 38 kg on stairs takes two people or another machine.",
    ),
    Term(
        "spoilt work",
        "Prints that have to be done again at one's own cost.",
        "6 of 100 walls, and more in the first weeks.",
    ),
    Term(
        "uncured ink",
        "Ink that the lamp has not hardened; it can sensitise the skin for good.",
        "Gloves on while cleaning heads.",
    ),
)
MONEY = (
    Term(
        "to your door (landed cost)",
        "The price with freight, insurance, duty, tax, training and kit.",
        "12,900 asked becomes 14,800 to your door.",
    ),
    Term(
        "earned back (payback)",
        "The month from which all money in exceeds all money out for good.",
        "Back in month 33, never at half the work.",
    ),
    Term(
        "present value (NPV)",
        "All later money counted back to today at your interest.",
        "At 9 % a year, 109 next year is 100 today.",
    ),
    Term(
        "deepest in the red (low point)",
        "The lowest cash between signing and being back.",
        "18,900 in month 4: so much cash or credit it takes.",
    ),
    Term(
        "own pay",
        "What an hour of yours is worth; without it, free work looks like profit.",
        "17 an hour for 30 hours a month are 6,120 a year.",
    ),
    Term(
        "resale",
        "What the machine brings when it is sold at the end of the years looked at.",
        "A quarter of the price after five years.",
    ),
    Term(
        "fee (plan)",
        "What the maker asks each year for software or service.",
        "600 a year buys the white ink's profile.",
    ),
)
METHOD = (
    Term(
        "what to expect (mean)",
        "The average over all draws, not the result at average figures.",
        "A job that fits a day just so takes a second day in half of the draws.",
    ),
    Term(
        "draw",
        "One value of every uncertain figure, taken through the whole reckoning.",
        "First in 92 of 100 draws.",
    ),
    Term(
        "weight",
        "How much a full swing of a thing, worst to best, counts beside the others.",
        "26 % on cost: as much as a quarter of the answer.",
    ),
    Term(
        "score (weighted sum)",
        "Each figure from 0, worst, to 1, best, times its weight, added up.",
        "0.54 against 0.51: barely ahead.",
    ),
    Term(
        "nearness (TOPSIS)",
        "Closeness to the best of everything and distance from the worst.",
        "A machine with one very weak point falls behind by nearness.",
    ),
    Term(
        "outdone (not on the Pareto front)",
        "Another machine is at least as good in all that counts, and better in one.",
        "Dearer, heavier and slower: outdone.",
    ),
    Term(
        "in doubt",
        "A limit that may not hold: it breaks in some draws and holds in others.",
        "In 8 of 100 draws its smell is too strong for the waiting room.",
    ),
    Term(
        "worth of finding out",
        "How much better you would choose, on average, if you knew this alone.",
        "A timed print worth 290 a year is worth an hour's drive.",
    ),
    Term(
        "basis",
        "Who says a figure: measured, quoted by the seller, estimated, or not told.",
        "A quoted build time is taken as somewhat too short.",
    ),
)
GROUPS = (("On the wall", ON_SITE), ("Money", MONEY), ("How it is reckoned", METHOD))
