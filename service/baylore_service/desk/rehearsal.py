"""A first question of a shop, asked before anybody waits for the answer."""

from __future__ import annotations

from baylore_kb.advice import advise
from baylore_kb.plan.part_ways import part_ways
from baylore_kb.values import Complaint, Terms, Vehicle
from baylore_service.index_host import Mind

# Touches every table that is made when first needed: words, cars, codes, causes and tests.
_ASKED = Complaint(
    "engine cranks but will not start when cold", Vehicle(2009, "any", "car"), codes=("P0301",)
)


def rehearse(mind: Mind, terms: Terms) -> None:
    """Make the tables that the questions of a shop share, and what its cases tell of each part."""
    advise(_ASKED, mind.snapshot, terms=terms, tuning=mind.tuning)
    part_ways(mind.snapshot, mind.snapshot.trade.components, terms=terms)
