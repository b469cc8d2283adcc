"""The answers to the present question and the last ones, each worked out when seen."""

from functools import cached_property

from scoring.charts.swings import TOP_SWINGS
from scoring.page.state.firm import firmness, questions_of, swings_of
from scoring.page.state.shared import shared
from scoring.questions.bad_unknowns import ranks_if_unknowns_turn_out_bad
from scoring.questions.best_map import best_map, own_range
from scoring.questions.best_price import best_buy_prices
from scoring.questions.swings import level_value
from scoring.questions.weight_ranges import stability_of


class Answered:
    """Everything that the screen shows of one question to the engine."""

    def __init__(self, firm):
        self.firm = firm

    @property
    def evaluation(self):
        """The Evaluation that is asked about."""
        return self.firm.evaluation

    @property
    def questions(self):
        """The OpenQuestions, the most worthwhile first."""
        return questions_of(self.firm)

    @property
    def swings(self):
        """The Swings, the widest first."""
        return swings_of(self.firm)

    @cached_property
    def levels(self):
        """{(owner, path): value at which a rival draws level}."""
        return {
            (swing.owner, swing.path): level_value(
                self.evaluation, swing.owner, swing.path
            )
            for swing in self.swings[:TOP_SWINGS]
            if swing.turns
        }

    @cached_property
    def stability(self):
        """How far each weight may move: (criterion, 2)."""
        return stability_of(self.evaluation)

    @cached_property
    def prices(self):
        """{name: highest price of a best buy, or None}."""
        return best_buy_prices(self.evaluation)

    @cached_property
    def bad_ranks(self):
        """Each machine's place if what it leaves unknown turns out bad."""
        return ranks_if_unknowns_turn_out_bad(self.evaluation)

    @cached_property
    def best_map(self):
        """Who is best as the work grows or shrinks."""
        return best_map(self.evaluation)

    @cached_property
    def own_range(self):
        """The buyer's own place on the map, as a range."""
        return own_range(self.evaluation, seed=self.firm.seed)


def answer(model):
    """Return the Answered of a model, remembered or new."""
    firm = firmness(model)
    return shared("answered", (firm,), "", lambda: Answered(firm))
