"""The work on postings in numpy: what the compiled kernels do, for where no compiler is."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from baylore_kb.recall.layout import (
    BLOCK,
    COLUMN,
    MOST_IMPACT,
    MOST_PART,
    Bytes,
    Ints,
    Longs,
    Rows,
    Sample,
    Segment,
    kinds,
)  # fmt: skip
from baylore_kb.together import crowding

Floats = npt.NDArray[np.float64]
Hits = tuple[Ints, Ints]
Weights = tuple[Ints, float]
# Sums of weight times impact are whole numbers of 32 bits, so that any order of adding gives the same.
MOST_SUM, MOST_WEIGHT = 2**31 - 1, 2**20
# So many sums are looked through only where the most of them may be among the best.
_STRETCH, _ADDED_AT_ONCE = 1024, 1 << 16
_NONE, _NO_BYTES = np.zeros(0, dtype=np.int32), np.zeros(0, dtype=np.uint8)


def distinct(flat: Ints, ends: Longs, terms: int) -> tuple[Ints, Bytes, Longs]:
    """The distinct terms of each document with how often each comes (at most 255), and where each ends.

    `flat` are term numbers below `terms`, one document after the other; negative ones are passed over.
    """
    owner = np.repeat(np.arange(len(ends)), np.diff(ends, prepend=0))
    told = flat >= 0
    keys, counts = np.unique(owner[told] * np.int64(max(terms, 1)) + flat[told], return_counts=True)
    owners, numbers = np.divmod(keys, max(terms, 1))
    places = np.searchsorted(owners, np.arange(len(ends)), side="right")
    return numbers.astype(np.int32), np.minimum(counts, 255).astype(np.uint8), places.astype(np.int64)


def lay(rows: Rows, terms: int) -> Segment:
    """The segment of documents given as rows of term numbers below `terms`."""
    size = len(rows.ends)
    documents = np.repeat(np.arange(size, dtype=np.int32), np.diff(rows.ends, prepend=0))
    order = np.argsort(rows.terms, kind="stable")
    numbers, documents, impact = rows.terms[order], documents[order], rows.impact[order]
    count = np.bincount(numbers, minlength=terms).astype(np.int32)
    kind = kinds(count, size)
    of = kind[numbers]
    rare, near, column = of == -1, of >= 0, of <= COLUMN
    return Segment(
        _starts(count, kind),
        count,
        kind,
        (documents[near] % BLOCK).astype(np.uint16),
        impact[near],
        documents[rare],
        impact[rare],
        _table(of[near], documents[near], count, kind),
        _columns(COLUMN - of[column], documents[column], impact[column], kind=kind, size=size),
        rows.lengths,
    )


def _starts(count: Ints, kind: Ints) -> Longs:
    start = np.zeros(len(count), dtype=np.int64)
    for mine in (kind == -1, kind >= 0):
        start[mine] = np.cumsum(count[mine], dtype=np.int64) - count[mine]
    return start


def _table(rows: Ints, documents: Ints, count: Ints, kind: Ints) -> npt.NDArray[np.uint32]:
    blocks = int(documents.max(initial=-1)) // BLOCK + 1
    held = np.zeros((np.count_nonzero(kind >= 0), blocks + 1), dtype=np.uint32)
    np.add.at(held, (rows, documents // BLOCK + 1), 1)
    return np.cumsum(held, axis=1, dtype=np.uint32)


def _columns(rows: Ints, documents: Ints, impact: Bytes, *, kind: Ints, size: int) -> Bytes:
    columns = np.zeros((np.count_nonzero(kind <= COLUMN), size), dtype=np.uint8)
    columns[rows, documents] = impact
    return columns


def postings(segment: Segment, term: int) -> tuple[Ints, Bytes]:
    """The documents of a term, ascending, with their impacts; none for a term it does not know."""
    if term >= len(segment.count):
        return _NONE, _NO_BYTES
    kind = int(segment.kind[term])
    if kind <= COLUMN:
        column = segment.columns[COLUMN - kind]
        documents = np.flatnonzero(column).astype(np.int32)
        return documents, column[documents]
    place = slice(int(segment.start[term]), int(segment.start[term]) + int(segment.count[term]))
    if kind < 0:
        return segment.rare[place], segment.rare_impact[place]
    held = np.diff(segment.table[kind].astype(np.int64))
    bases = np.repeat(np.arange(len(held), dtype=np.int32) * np.int32(BLOCK), held)
    return segment.near[place].astype(np.int32) + bases, segment.near_impact[place]


def best(segment: Segment, alive: Bytes, asked: tuple[Ints, Ints], k: int) -> Hits:
    """The `k` living documents of the highest sums of weight times impact, best first, ties by number.

    `asked` are term numbers and their weights. Sums are whole numbers, so that every order of adding gives
    the same; documents of sum 0 stay out.
    """
    if k <= 0:
        return _NONE, _NONE
    sums = np.zeros(-(-segment.size // _STRETCH) * _STRETCH, dtype=np.int32)
    for term, weight in zip(*asked, strict=True):
        _add(sums, segment, int(term), weight)
    if not alive.all():
        sums[: segment.size] *= alive
    found = _promising(sums, k)
    chosen = found[np.lexsort((found, -sums[found]))][:k]
    return chosen.astype(np.int32), sums[chosen]


def _add(sums: Ints, segment: Segment, term: int, weight: np.int32) -> None:
    if term >= len(segment.count) or segment.kind[term] > COLUMN:
        documents, impact = postings(segment, term)
        np.add.at(sums, documents, impact * weight)
        return
    column = segment.columns[COLUMN - segment.kind[term]]
    for a in range(0, len(column), _ADDED_AT_ONCE):
        run = column[a : a + _ADDED_AT_ONCE]
        sums[a : a + len(run)] += np.multiply(run, weight, dtype=np.int32)


def _promising(sums: Ints, k: int) -> Longs:
    """The documents among which are the `k` best: no stretch whose most is below the k-th most holds one."""
    stretches = sums.reshape(-1, _STRETCH)
    most = stretches.max(axis=1)
    least = np.partition(most, len(most) - k)[len(most) - k] if len(most) > k else np.int32(1)
    near = np.flatnonzero(most >= max(least, 1))
    rows, at = np.nonzero(stretches[near] >= max(least, 1))
    found = near[rows] * _STRETCH + at
    if len(found) > k:
        least = np.partition(sums[found], len(found) - k)[len(found) - k]
        found = found[sums[found] >= least]
    return found


def rows_of(segment: Segment, alive: Bytes) -> Rows:
    """The living documents of a segment as rows, in their order."""
    place = np.cumsum(alive, dtype=np.int32) - 1
    numbers, owners, impact = [_NONE], [_NONE], [_NO_BYTES]
    for term in np.flatnonzero(segment.count):
        documents, held = postings(segment, int(term))
        lives = alive[documents] > 0
        owners.append(place[documents[lives]])
        impact.append(held[lives])
        numbers.append(np.full(len(owners[-1]), term, dtype=np.int32))
    owner = np.concatenate(owners)
    order = np.argsort(owner, kind="stable")
    lengths = segment.lengths[alive > 0]
    ends = np.searchsorted(owner[order], np.arange(len(lengths)), side="right").astype(np.int64)
    return Rows(np.concatenate(numbers)[order], np.concatenate(impact)[order], ends, lengths)


def weigh(terms: Ints, uses: Floats, held: tuple[Ints, Ints], *, living: int, sample: Sample) -> Weights:
    """What each term of a question says, as whole numbers, and what one of them is worth in a score.

    That is its use times idf, divided by the company it keeps. `held` counts the documents of each term
    number, and for each term of the question (or for none) the further ones.

    idf is ln(1 + (N - df + 0.5) / (df + 0.5)) over `living` documents (Robertson & Zaragoza 2009); company
    is `baylore_kb.together.crowding` over the sample. A term of no document gets 0.
    """
    laid, further = held
    count = _at(laid, terms).astype(np.float64)
    if len(further):
        count += further
    idf = np.log1p((np.maximum(living, count) - count + 0.5) / (count + 0.5))
    row = _at(sample.row_of, terms)
    present = np.unpackbits(sample.bits[row].view(np.uint8), axis=1, bitorder="little")[:, : sample.size]
    weights = np.where(count > 0, uses * idf, 0.0) / crowding(present.astype(np.float32), uses)
    return whole(weights)


def _at(values: Ints, terms: Ints) -> Ints:
    """The values of terms, 0 for those that came later."""
    if not len(values):
        return np.zeros(len(terms), dtype=np.int32)
    return np.where(terms < len(values), values[np.minimum(terms, len(values) - 1)], np.int32(0))


def whole(weights: Floats) -> Weights:
    """Weights as whole numbers, as fine as sums of 32 bits allow, and what one is worth in a score."""
    most = float(weights.max(initial=0.0))
    if most <= 0.0:
        return np.zeros(len(weights), dtype=np.int32), 0.0
    finest = min(MOST_SUM / (MOST_IMPACT * len(weights)) - 1.0, MOST_WEIGHT)
    return np.rint(weights / most * finest).astype(np.int32), MOST_PART / MOST_IMPACT / finest * most
