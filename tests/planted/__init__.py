"""Small faults planted one by one: do the tests see them?"""

from tests.planted import (
    answer,
    crowd,
    engine,
    jobs_done,
    lately,
    later,
    model,
    page,
    said,
)
from tests.planted.fault import ROOT, Fault, matches

FAULTS = model.FAULTS + engine.FAULTS + answer.FAULTS + said.FAULTS + page.FAULTS
FAULTS += jobs_done.FAULTS + crowd.FAULTS + later.FAULTS + lately.FAULTS

__all__ = ["FAULTS", "ROOT", "Fault", "matches"]
