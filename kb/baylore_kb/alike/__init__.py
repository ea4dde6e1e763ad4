"""Records of one and the same visit: the case that was written twice."""

from baylore_kb.alike.bare import bare
from baylore_kb.alike.record import DAYS_APART
from baylore_kb.alike.twin import SAME_CAR_LIKENESS, UNSURE_LIKENESS, Twin, twin
from baylore_kb.alike.visits import Visits

__all__ = ["DAYS_APART", "SAME_CAR_LIKENESS", "UNSURE_LIKENESS", "Twin", "Visits", "bare", "twin"]
