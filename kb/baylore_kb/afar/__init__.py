"""A memory whose cases lie elsewhere: what is counted over them is here, the few worth comparing are fetched.

Scores, likeness and chances are reckoned from the same counts by the same code as with all cases at hand;
only which cases are looked at is another's choice, and of those the best are chosen here (`brief`).
"""

from baylore_kb.afar.brief import Brief, brief_of, facet_term
from baylore_kb.afar.counts import pack_counts, unpack_counts
from baylore_kb.afar.snapshot import FarSnapshot, News
from baylore_kb.afar.source import Choose, Sought, Source
from baylore_kb.afar.written import read, spelt_out, write

__all__ = [
    "Brief",
    "Choose",
    "FarSnapshot",
    "News",
    "Sought",
    "Source",
    "brief_of",
    "facet_term",
    "pack_counts",
    "read",
    "spelt_out",
    "unpack_counts",
    "write",
]
