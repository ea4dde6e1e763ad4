"""How much two records tell of the same fault, and why, in words."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz import fuzz

from baylore_kb.alike.record import Record
from baylore_kb.errors import BayloreError
from baylore_kb.units import convert
from baylore_kb.values import Reading

# What else they say counts beside the words (set by hand, counted by tests/bench/doubles.py).
_SAME_CAUSE, _SHARED_CODE, _OTHER_CODES, _SAME_READING, _OTHER_READING = 0.25, 0.1, -0.2, 0.1, -0.2
_CONTAINED = 0.9
_WORDS_TO_CONTAIN = 3
_READ_ALIKE = 0.05


@dataclass(frozen=True, slots=True)
class Likeness:
    """`words`: how much alike the complaints are; `score`: with all else that was written; both in [0, 1].

    `disagrees` where both measured one thing and found two values, or read codes and none in common; `why` is
    in words, the words first.
    """

    words: float
    score: float
    disagrees: bool
    why: tuple[str, ...]


def likeness(one: Record, other: Record) -> Likeness:
    """How much alike two records are, whatever cars they name; the same both ways round."""
    words = words_alike(one, other)
    said = ["the same words" if words > 0.995 else f"words {words:.0%} alike".replace("%", " %")]
    score = words
    if one.case.cause is not None and one.case.cause == other.case.cause:
        score += _SAME_CAUSE
        said.append("same cause")
    codes = _by_codes(one, other, said)
    score += codes
    apart, alike = _readings(one, other)
    if alike or apart:
        score += _OTHER_READING if apart else _SAME_READING
        said.append("other readings" if apart else "same readings")
    return Likeness(words, min(1.0, max(0.0, score)), bool(apart) or codes < 0.0, tuple(said))


def words_alike(one: Record, other: Record) -> float:
    """How much alike the complaints are, in [0, 1], whatever the order of words; 0 where one is empty.

    One that holds all words of the other and more counts nine tenths.
    """
    if not one.said or not other.said:
        return 0.0
    if one.said == other.said:
        return 1.0
    best = max(fuzz.token_sort_ratio(one.said, other.said), fuzz.ratio(one.said, other.said)) / 100.0
    if min(len(one.words), len(other.words)) >= _WORDS_TO_CONTAIN:
        best = max(best, _CONTAINED * fuzz.token_set_ratio(one.said, other.said) / 100.0)
    return float(best)


def _by_codes(one: Record, other: Record, said: list[str]) -> float:
    mine, theirs = set(one.case.complaint.codes), set(other.case.complaint.codes)
    if not mine or not theirs:
        return 0.0
    if shared := sorted(mine & theirs):
        said.append(f"both {', '.join(shared[:3])}")
        return _SHARED_CODE
    said.append("other codes")
    return _OTHER_CODES


def _readings(one: Record, other: Record) -> tuple[int, int]:
    """How many things both measured came out apart, and how many alike."""
    theirs = {_measured(reading): reading for reading in other.readings}
    pairs = [(r, theirs[_measured(r)]) for r in one.readings if _measured(r) in theirs]
    alike = sum(_read_alike(a, b) for a, b in pairs)
    return len(pairs) - alike, alike


def _measured(reading: Reading) -> tuple[str, str, str]:
    return reading.quantity, reading.point.casefold(), reading.when


def _read_alike(a: Reading, b: Reading) -> bool:
    try:
        value = b.value * _factor(b.unit, a.unit) if a.unit != b.unit else b.value
    except BayloreError:
        return False
    return abs(a.value - value) <= _READ_ALIKE * max(abs(a.value), abs(value))


@lru_cache(maxsize=256)
def _factor(unit: str, to: str) -> float:
    return convert(1.0, unit, to=to) - convert(0.0, unit, to=to)
