"""What a lender asks of a buyer beyond the brief's own figures."""

from typing import Annotated

from pydantic import Field

from scoring.inputs import kinds
from scoring.inputs.dimensions import SHARE
from scoring.inputs.quantity import STATED
from scoring.inputs.records import Record


def _exactly(text):
    return Field(default_factory=lambda: SHARE.parse(text, STATED))


class BankTerms(Record):
    """For the case for the bank alone; shares are own estimates, no source."""

    tax_share: kinds.Share = _exactly("25 %")  # of what the work leaves after interest
    enquiries_won: kinds.Share = _exactly("30 %")
    forced_sale: kinds.Share = _exactly("50 %")  # of what it would fetch in good time
    debts: kinds.Money = None  # instalments a month that are there already
    debt_months: Annotated[kinds.StrictInt, Field(ge=1, le=360)] = 60
    insured_by: kinds.Text | None = None
    stand_in: kinds.Text | None = None  # who else can run it
