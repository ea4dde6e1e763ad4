"""The work on postings, compiled: the same results as `plain`, many times faster, and without holding up
other threads. Importing it needs numba.
"""

from __future__ import annotations

import numpy as np
from numba import njit

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
from baylore_kb.recall.plain import MOST_SUM, MOST_WEIGHT, Floats, Hits, Weights
from baylore_kb.together import FEWEST, POWER

# Stretches of a block without a sum above the least kept are passed over whole.
_STRIDE = 256


@njit(cache=True, nogil=True)
def _distinct(flat, ends, terms):
    last = np.full(terms, -1, np.int32)
    place = np.empty(terms, np.int64)
    number = np.empty(len(flat), np.int32)
    count = np.empty(len(flat), np.uint8)
    places = np.empty(len(ends), np.int64)
    n = 0
    a = 0
    for d in range(len(ends)):
        for i in range(a, ends[d]):
            t = flat[i]
            if t < 0:
                continue
            if last[t] != d:
                last[t] = d
                place[t] = n
                number[n] = t
                count[n] = 1
                n += 1
            elif count[place[t]] < 255:
                count[place[t]] += 1
        a = ends[d]
        places[d] = n
    return number[:n].copy(), count[:n].copy(), places


@njit(cache=True, nogil=True)
def _counted(numbers, terms):
    count = np.zeros(terms, np.int32)
    for t in numbers:
        count[t] += 1
    return count


@njit(cache=True, nogil=True)
def _begun(count, kind):
    start = np.zeros(len(count), np.int64)
    rare = 0
    near = 0
    for t in range(len(count)):
        if kind[t] == -1:
            start[t] = rare
            rare += count[t]
        elif kind[t] >= 0:
            start[t] = near
            near += count[t]
    return start, near, rare


@njit(cache=True, nogil=True)
def _fill(rows, laid):
    numbers, impact, ends = rows
    start, _, kind, near, near_impact, rare, rare_impact, table, columns = laid
    place = start.copy()
    a = 0
    for d in range(len(ends)):
        if d % BLOCK == 0:
            for t in range(len(kind)):
                if kind[t] >= 0:
                    table[kind[t], d // BLOCK] = place[t] - start[t]
        for i in range(a, ends[d]):
            t = numbers[i]
            if kind[t] >= 0:
                near[place[t]] = d % BLOCK
                near_impact[place[t]] = impact[i]
                place[t] += 1
            elif kind[t] == -1:
                rare[place[t]] = d
                rare_impact[place[t]] = impact[i]
                place[t] += 1
            else:
                columns[COLUMN - kind[t], d] = impact[i]
        a = ends[d]
    for t in range(len(kind)):
        if kind[t] >= 0:
            table[kind[t], table.shape[1] - 1] = place[t] - start[t]


@njit(cache=True, nogil=True)
def _push(heap, n, value, number):
    """Put into the heap whose root is the worst: the lowest sum, of equal ones the highest number."""
    sums, numbers = heap
    i = n
    sums[i] = value
    numbers[i] = number
    while i > 0:
        up = (i - 1) // 2
        if sums[up] < sums[i] or (sums[up] == sums[i] and numbers[up] > numbers[i]):
            break
        sums[up], sums[i] = sums[i], sums[up]
        numbers[up], numbers[i] = numbers[i], numbers[up]
        i = up


@njit(cache=True, nogil=True)
def _instead(heap, n, value, number):
    """Put in place of the root and let it sink."""
    sums, numbers = heap
    i = 0
    while True:
        down = 2 * i + 1
        if down >= n:
            break
        right = down + 1
        if right < n and (
            sums[right] < sums[down] or (sums[right] == sums[down] and numbers[right] > numbers[down])
        ):
            down = right
        if value < sums[down] or (value == sums[down] and number > numbers[down]):
            break
        sums[i] = sums[down]
        numbers[i] = numbers[down]
        i = down
    sums[i] = value
    numbers[i] = number


@njit(cache=True, nogil=True)
def _keep(heap, n, value, number):
    """Keep a document among the best; how many there are then."""
    if n < len(heap[0]):
        _push(heap, n, value, number)
        return n + 1
    _instead(heap, n, value, number)
    return n


@njit(cache=True, nogil=True)
def _most(sums):
    most = np.int32(0)
    for i in range(_STRIDE):
        most = max(most, sums[i])
    return most


@njit(cache=True, nogil=True)
def _scatter(acc, documents, impact, weight):
    for i in range(len(documents)):
        acc[documents[i]] += weight * np.int32(impact[i])


@njit(cache=True, nogil=True)
def _add_block(acc, b, asked, laid):
    terms, weights, at = asked
    start, count, kind, near, near_impact, rare, rare_impact, table, columns = laid
    size = min(BLOCK, columns.shape[1] - b * BLOCK)
    base = b * BLOCK
    for j in range(len(terms)):
        t = terms[j]
        w = weights[j]
        if t >= len(count) or w == 0:
            continue
        kd = kind[t]
        if kd >= 0:
            _scatter(
                acc,
                near[start[t] + table[kd, b] : start[t] + table[kd, b + 1]],
                near_impact[start[t] + table[kd, b] : start[t] + table[kd, b + 1]],
                w,
            )
        elif kd == -1:
            p = at[j]
            end = start[t] + count[t]
            while p < end and rare[p] < base + size:
                acc[rare[p] - base] += w * np.int32(rare_impact[p])
                p += 1
            at[j] = p
        else:
            column = columns[COLUMN - kd, base : base + size]
            for i in range(size):
                acc[i] += w * np.int32(column[i])


@njit(cache=True, nogil=True)
def _best(asked, k, alive, laid):
    terms, weights = asked
    start, count, kind = laid[0], laid[1], laid[2]
    documents = len(alive)
    acc = np.zeros(BLOCK, np.int32)
    at = np.zeros(len(terms), np.int64)
    for j in range(len(terms)):
        if terms[j] < len(count) and kind[terms[j]] == -1:
            at[j] = start[terms[j]]
    sums = np.empty(k, np.int32)
    numbers = np.empty(k, np.int32)
    n = 0
    least = np.int32(0)
    for b in range((documents + BLOCK - 1) // BLOCK):
        size = min(BLOCK, documents - b * BLOCK)
        acc[:] = 0
        _add_block(acc, b, (terms, weights, at), laid)
        for c in range(0, BLOCK, _STRIDE):
            if _most(acc[c : c + _STRIDE]) <= least:
                continue
            for i in range(c, min(c + _STRIDE, size)):
                if acc[i] > least and alive[b * BLOCK + i]:
                    n = _keep((sums, numbers), n, acc[i], b * BLOCK + i)
                    if n == k:
                        least = sums[0]
    for last in range(n - 1, 0, -1):
        value, number = sums[0], numbers[0]
        _instead((sums, numbers), last, sums[last], numbers[last])
        sums[last], numbers[last] = value, number
    return numbers[:n], sums[:n]


@njit(cache=True, nogil=True)
def _held(alive, laid):
    """How many terms each document holds."""
    start, count, kind, near, _, rare, _, table, columns = laid
    held = np.zeros(len(alive), np.int64)
    for t in range(len(count)):
        if kind[t] >= 0:
            for b in range(table.shape[1] - 1):
                for i in range(start[t] + table[kind[t], b], start[t] + table[kind[t], b + 1]):
                    held[b * BLOCK + near[i]] += 1
        elif kind[t] == -1:
            for i in range(start[t], start[t] + count[t]):
                held[rare[i]] += 1
        else:
            for d in range(len(alive)):
                held[d] += columns[COLUMN - kind[t], d] > 0
    return held


@njit(cache=True, nogil=True)
def _unlaid(alive, held, laid):
    start, count, kind, near, near_impact, rare, rare_impact, table, columns = laid
    place = np.empty(len(alive), np.int64)
    ends = np.empty(len(alive), np.int64)
    total = 0
    living = 0
    for d in range(len(alive)):
        place[d] = total
        if alive[d]:
            total += held[d]
            ends[living] = total
            living += 1
    numbers = np.empty(total, np.int32)
    impact = np.empty(total, np.uint8)
    for t in range(len(count)):
        if kind[t] >= 0:
            for b in range(table.shape[1] - 1):
                for i in range(start[t] + table[kind[t], b], start[t] + table[kind[t], b + 1]):
                    d = b * BLOCK + near[i]
                    if alive[d]:
                        numbers[place[d]] = t
                        impact[place[d]] = near_impact[i]
                        place[d] += 1
        elif kind[t] == -1:
            for i in range(start[t], start[t] + count[t]):
                d = rare[i]
                if alive[d]:
                    numbers[place[d]] = t
                    impact[place[d]] = rare_impact[i]
                    place[d] += 1
        else:
            for d in range(len(alive)):
                if alive[d] and columns[COLUMN - kind[t], d] > 0:
                    numbers[place[d]] = t
                    impact[place[d]] = columns[COLUMN - kind[t], d]
                    place[d] += 1
    return numbers, impact, ends[:living].copy()


@njit(cache=True, nogil=True)
def _ones(word):
    word = word - ((word >> np.uint64(1)) & np.uint64(0x5555555555555555))
    word = (word & np.uint64(0x3333333333333333)) + ((word >> np.uint64(2)) & np.uint64(0x3333333333333333))
    word = (word + (word >> np.uint64(4))) & np.uint64(0x0F0F0F0F0F0F0F0F)
    return (word * np.uint64(0x0101010101010101)) >> np.uint64(56)


@njit(cache=True, nogil=True)
def _shared(bits, a, b):
    ones = np.uint64(0)
    for w in range(bits.shape[1]):
        ones += _ones(bits[a, w] & bits[b, w])
    return float(ones)


@njit(cache=True, nogil=True)
def _weigh(asked, held, living, sample):
    terms, uses = asked
    laid, further = held
    row_of, bits, size = sample
    n = len(terms)
    weights = np.zeros(n, np.float64)
    row = np.zeros(n, np.int64)
    alone = np.zeros(n, np.float64)
    for i in range(n):
        count = float(laid[terms[i]]) if terms[i] < len(laid) else 0.0
        if len(further):
            count += float(further[i])
        if count > 0.0:
            weights[i] = uses[i] * np.log1p((max(living, count) - count + 0.5) / (count + 0.5))
        if terms[i] < len(row_of):
            row[i] = row_of[terms[i]]
        alone[i] = _shared(bits, row[i], row[i])
    known = np.minimum(uses, 1.0)
    company = known.copy()
    for i in range(n):
        for j in range(i):
            spread = alone[i] * (size - alone[i]) * alone[j] * (size - alone[j])
            if alone[i] < FEWEST or alone[j] < FEWEST or spread <= 0.0:
                continue
            alike = (_shared(bits, row[i], row[j]) * size - alone[i] * alone[j]) / np.sqrt(spread)
            if alike > 0.0:
                strength = min(alike, 1.0) ** POWER
                company[i] += strength * known[j]
                company[j] += strength * known[i]
    most = 0.0
    for i in range(n):
        weights[i] /= max(company[i], 1.0)
        most = max(most, weights[i])
    whole = np.zeros(n, np.int32)
    if most <= 0.0:
        return whole, 0.0
    finest = min(MOST_SUM / (MOST_IMPACT * n) - 1.0, MOST_WEIGHT)
    for i in range(n):
        whole[i] = np.int32(np.rint(weights[i] / most * finest))
    return whole, MOST_PART / MOST_IMPACT / finest * most


def distinct(flat: Ints, ends: Longs, terms: int) -> tuple[Ints, Bytes, Longs]:
    """As `plain.distinct`; the terms of a document come in the order of first sight."""
    found: tuple[Ints, Bytes, Longs] = _distinct(flat, ends, terms)
    return found


def lay(rows: Rows, terms: int) -> Segment:
    """As `plain.lay`."""
    size = len(rows.ends)
    count = _counted(rows.terms, terms)
    kind = kinds(count, size)
    start, near, rare = _begun(count, kind)
    laid = (
        start,
        count,
        kind,
        np.empty(near, dtype=np.uint16),
        np.empty(near, dtype=np.uint8),
        np.empty(rare, dtype=np.int32),
        np.empty(rare, dtype=np.uint8),
        np.zeros((np.count_nonzero(kind >= 0), -(-size // BLOCK) + 1), dtype=np.uint32),
        np.zeros((np.count_nonzero(kind <= COLUMN), size), dtype=np.uint8),
    )
    _fill((rows.terms, rows.impact, rows.ends), laid)
    return Segment(*laid, rows.lengths)


def best(segment: Segment, alive: Bytes, asked: tuple[Ints, Ints], k: int) -> Hits:
    """As `plain.best`."""
    found: Hits = _best(asked, max(k, 0), alive, segment.laid)
    return found


def rows_of(segment: Segment, alive: Bytes) -> Rows:
    """As `plain.rows_of`."""
    laid = segment.laid
    terms, impact, ends = _unlaid(alive, _held(alive, laid), laid)
    return Rows(terms, impact, ends, segment.lengths[alive > 0])


def weigh(terms: Ints, uses: Floats, held: tuple[Ints, Ints], *, living: int, sample: Sample) -> Weights:
    """As `plain.weigh`."""
    known = (sample.row_of, sample.bits, float(sample.size))
    found: Weights = _weigh((terms, uses), held, float(living), known)
    return found
