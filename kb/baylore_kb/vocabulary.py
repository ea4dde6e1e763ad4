"""The words a shop knows: those of its own cases and those of the trade, with how often it wrote each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np
import numpy.typing as npt

from baylore_kb.lexicon import WordBook
from baylore_kb.spelling import Speller
from baylore_kb.stems import NEGATORS, STOP_WORDS
from baylore_kb.tokens import split
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own import own_words

# Everyday words stand in every note without being counted there.
_EVERYDAY = 20
_MOST_EVERYDAY = {"the": 60, "and": 60, "then": 80, "when": 40, "with": 40, "not": 40}


@dataclass(frozen=True, slots=True)
class Phrase:
    """What a phrase is read as, and whether because it was mis-heard or is of another language."""

    read: str
    kind: Literal["misheard", "translated"]


@dataclass(frozen=True)
class Vocabulary:
    """Words with the number of the shop's cases that hold each; `trade` words, with their count in the
    trade lists, are known without cases.

    `phrases` are those read as others, cut into words; `short_hand` reads words that are cut short or have
    lost their vowels.
    """

    book: WordBook
    counts: npt.NDArray[np.int32]
    trade: Mapping[str, int]
    phrases: Mapping[tuple[str, ...], Phrase] = field(default_factory=dict)
    short_hand: Speller | None = None

    def frequency(self, word: str) -> int:
        """Cases of the shop that hold the folded word."""
        number = self.book.number(word)
        return int(self.counts[number]) if number is not None and number < len(self.counts) else 0

    def knows(self, word: str) -> bool:
        """Whether a folded word needs no mending."""
        return word in self.trade or self.frequency(word) > 0

    def holds(self, number: int) -> bool:
        """Whether the word of this number in the book is a known one."""
        return number < len(self.book.terms) and self.knows(self.book.terms[number])

    def usage(self, word: str) -> int:
        """How usual the folded word is: cases that hold it and its count in the trade lists."""
        if word in STOP_WORDS or word in NEGATORS or word in _MOST_EVERYDAY:
            return _MOST_EVERYDAY.get(word, _EVERYDAY)
        return self.frequency(word) + self.trade.get(word, 0)

    def twice_slipped(self, word: str) -> bool:
        """Whether two slips in a folded word are likely; always where nothing tells."""
        return self.short_hand is None or self.short_hand.twice_slipped(word)

    @cached_property
    def size(self) -> int:
        """Words of the shop's cases."""
        return int(np.count_nonzero(self.counts))


def trade_words(trade: Trade | None) -> Counter[str]:
    """The words of the trade lists, folded, with their counts; mis-hearings stay out."""
    lists = _texts(trade) if trade is not None else iter(())
    words = Counter(token.text for text in lists for token in split(text) if token.kind == "word")
    own = {word for word in own_words(trade) if " " not in word} if trade is not None else set()
    return words + Counter(dict.fromkeys(STOP_WORDS | NEGATORS | own, 1))


def _texts(trade: Trade) -> Iterator[str]:
    for symptom in trade.symptoms.values():
        yield " . ".join(
            (symptom.title, *symptom.said_by_customer, *symptom.written_by_tech, *symptom.conditions)
        )
    for entry in trade.abbreviations:
        yield " . ".join((*entry.forms, *(sense.plain + " . " + sense.decide_by for sense in entry.senses)))
    for system in trade.systems.values():
        yield f"{system.title} . {system.description}"
    for component in trade.components.values():
        yield component.title
    for cause in trade.causes.values():
        yield f"{cause.title} . {cause.fix}"
    for test in trade.tests.values():
        yield " . ".join((test.title, *test.steps, *(outcome.means for outcome in test.outcomes)))
    for caution in trade.cautions.values():
        yield caution.text
