"""What choosing among many cases needs of each, in a few hundred bytes: none is read whole for it.

Each term is a mark of 32 bits with its weight. Two terms with one mark count as one: of a thousand cases and
a question of forty terms that happens about once in a thousand questions, and only lets a case in that is
then compared like any other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from zlib import crc32

import numpy as np
import numpy.typing as npt

from baylore_kb.afar.written import spelt_out
from baylore_kb.casedoc import CaseDoc, Reader
from baylore_kb.scoring import of_uses, scaled

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

_ENTRY = np.dtype([("mark", "<u4"), ("weight", "<f4")])
# Marks are first told apart by so many of their bits.
_BITS = 16


@dataclass(frozen=True, slots=True)
class Brief:
    """A case as it is chosen by: `length` in terms as `CaseDoc` has it, `marks` as of `brief_of`."""

    id: str
    length: float
    marks: bytes


def brief_of(doc: CaseDoc, reader: Reader) -> bytes:
    """The marks of a case that this reader has read, its terms and behind them its facets."""
    terms, weights = spelt_out(doc, reader)
    entries = np.zeros(len(terms) + len(doc.facets), dtype=_ENTRY)
    entries["mark"] = _marks([*terms, *map(facet_term, sorted(doc.facets))])
    entries["weight"][: len(terms)] = weights
    return entries.tobytes()


def facet_term(facet: str) -> str:
    """A facet as it stands among the terms of a case: none of them begins with a blank."""
    return f" {facet}"


def _marks(terms: Iterable[str]) -> list[int]:
    return [crc32(term.encode()) for term in terms]


def promise(
    found: Sequence[Brief], terms: Mapping[str, float], facets: Mapping[str, float], *, mean_length: float
) -> Floats:
    """What each case promises: its BM25 against the best of them, and beside it its facets' worth.

    `terms` and `facets` give each what it is worth, `mean_length` > 0 is that of all cases. None gives none.
    """
    if not found or not (terms or facets):
        return np.zeros(len(found))
    worth = np.array([*terms.values(), *facets.values()])
    asked = _marks([*terms, *map(facet_term, facets)])
    owners, places, weights = _shared([each.marks for each in found], np.array(asked, dtype=np.uint32))
    lengths = np.array([each.length for each in found])
    said = places < len(terms)
    of = owners[said]
    uses = of_uses(worth[places[said]], weights[said], lengths[of], mean_length=mean_length)
    words = np.bincount(of, uses, minlength=len(found)).astype(np.float64, copy=False)
    beside = np.bincount(owners[~said], worth[places[~said]], minlength=len(found))
    return np.asarray(scaled(words) + beside, dtype=np.float64)


def _shared(kept: Sequence[bytes], asked: npt.NDArray[np.uint32]) -> tuple[Ints, Ints, Floats]:
    """Each mark that a case shares with those asked: whose it is, which of them, and its weight there."""
    sizes = np.array([len(marks) // _ENTRY.itemsize for marks in kept], dtype=np.int64)
    entries = np.frombuffer(b"".join(kept), dtype=_ENTRY)
    marks = np.ascontiguousarray(entries["mark"])
    likely = np.zeros(1 << _BITS, dtype=np.bool_)
    likely[asked >> (32 - _BITS)] = True
    at = np.flatnonzero(likely[marks >> (32 - _BITS)])
    order = np.argsort(asked)
    places = order[np.searchsorted(asked[order], marks[at]).clip(max=len(asked) - 1)]
    same = asked[places] == marks[at]
    at, places = at[same], places[same]
    owners = np.searchsorted(np.cumsum(sizes), at, side="right")
    return owners, places, entries["weight"][at].astype(np.float64)


def best(
    found: Sequence[Brief], promised: Floats, *, limit: int, leave_out: frozenset[str] = frozenset()
) -> list[str]:
    """Ids of the cases that promise most, at most `limit`, ties by id; those left out are not among them."""
    ranked = sorted(zip(np.round(-promised, 9).tolist(), (each.id for each in found), strict=True))
    return [id for worth, id in ranked if worth < 0.0 and id not in leave_out][:limit]
