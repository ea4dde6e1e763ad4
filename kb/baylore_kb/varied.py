"""Put past cases in the order in which they are worth reading: of each likely cause one before its others.

A list by chance alone fills with cases of the likeliest cause, and where that is wrong, it is wrong all the
way down. Whoever has read one case of a cause gains less from the next of it than from one of another cause.
Source: Chen and Karger, Less is more, SIGIR 2006: rank for the first right result, by a greedy choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from baylore_kb.values import Match

# What a further case of a cause is worth. On public complaints, made-up shops and simulated towns the first
# right case comes earlier the lower this is, down to nothing, while fewer right ones are among the first ten.
FURTHER = 0.4


def varied(matches: Iterable[Match]) -> tuple[Match, ...]:
    """The matches, given best first, by what reading them is worth; ties by case id.

    The first of each cause is worth its chance, every further one `FURTHER` of its own; cases without a known
    cause are taken as one cause. Chances stay as they are, so they need not fall down the list.
    """
    return tuple(match for _, _, match in sorted(_worth(matches), key=lambda each: each[:2]))


def _worth(matches: Iterable[Match]) -> Iterator[tuple[float, str, Match]]:
    read = set[str | None]()
    for match in matches:
        share = FURTHER if match.case.cause in read else 1.0
        read.add(match.case.cause)
        yield -share * match.chance, match.case.id, match
