"""Records of one and the same visit: the case that was written twice."""

from baylore_kb.alike.bare import bare
from baylore_kb.alike.one_car import two_names
from baylore_kb.alike.record import DAYS_APART
from baylore_kb.alike.twin import SAME_CAR_LIKENESS, UNSURE_LIKENESS, Twin, twin, twins_among
from baylore_kb.alike.visits import Visits

__all__ = [
    "DAYS_APART",
    "SAME_CAR_LIKENESS",
    "UNSURE_LIKENESS",
    "Twin",
    "Visits",
    "bare",
    "twin",
    "twins_among",
    "two_names",
]
