"""Made-up case notes and questions about them, from a seed: as many as are wanted, in no real words.

A note has a car, a complaint, readings, a cause and a repair; its words follow a steep law of use, as written
words do, around one of some topics. A question is the complaint retold: words dropped, some replaced, up to
two of them misspelt. Note n depends on the seed and n alone.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

RUN = 5_000
LITTLE = "the a and when on it is in of to with after no not then but at from only has".split()
_STARTS = "b br d f g gl h k l m n p pr r s st t tr v w".split()
_MIDDLES = "a e i o u ea ou ai".split()
_ENDS = "ck d g l lt m n nd p r rn s sh st t x".split()
MAKES, MODELS, WORDS, TOPICS, TOPIC_WORDS = 24, 300, 24_000, 60, 240


@dataclass(frozen=True, slots=True)
class Question:
    """A question, the same with up to two words misspelt, how many were, and the note it was made from."""

    clean: str
    typed: str
    slips: int
    note: int


class Corpus:
    """Notes by number."""

    def __init__(self, seed: int) -> None:
        self.seed = seed
        chance = random.Random(seed)
        self.words = self._words(chance)
        self.makes = [word.capitalize() for word in self._words(chance, MAKES)]
        self.models = [word.capitalize() for word in self._words(chance, MODELS)]
        self.topics = [chance.sample(range(len(self.words)), TOPIC_WORDS) for _ in range(TOPICS)]

    @staticmethod
    def _words(chance: random.Random, count: int = WORDS) -> list[str]:
        found: dict[str, None] = {}
        while len(found) < count:
            syllables = chance.choice((1, 2, 2, 2, 3))
            word = "".join(chance.choice(_STARTS) + chance.choice(_MIDDLES) for _ in range(syllables))
            found[word + chance.choice(_ENDS) + chance.choice(("", "", "er", "ing", "y"))] = None
        return list(found)

    @cached_property
    def _use(self) -> np.ndarray:
        shares = 1.0 / (np.arange(WORDS) + 5.0)
        return np.cumsum(shares / shares.sum())

    @cached_property
    def _topic_use(self) -> np.ndarray:
        shares = 1.0 / (np.arange(TOPIC_WORDS) + 3.0)
        return np.cumsum(shares / shares.sum())

    def notes(self, count: int) -> Iterator[tuple[int, str]]:
        """The first `count` notes as (number, text)."""
        for run in range(-(-count // RUN)):
            yield from self.run(run, count=count)

    def run(self, run: int, *, count: int) -> Iterator[tuple[int, str]]:
        """Of the first `count` notes those of one run of `RUN`."""
        chance = np.random.default_rng([self.seed, run])
        for place in range(min(RUN, count - run * RUN)):
            yield run * RUN + place, self._note(chance)

    def _note(self, chance: np.random.Generator) -> str:
        size = int(chance.integers(30, 120))
        topic = self.topics[int(chance.integers(TOPICS))]
        told = chance.random(size)
        common = np.searchsorted(self._use, chance.random(size)).tolist()
        around = np.searchsorted(self._topic_use, chance.random(size)).tolist()
        little = chance.integers(len(LITTLE), size=size).tolist()
        drawn = zip(told.tolist(), common, around, little, strict=True)
        words = [self._word(far, topic[near], word, pick) for far, word, near, pick in drawn]
        year, make, model = (int(chance.integers(n)) for n in (26, MAKES, MODELS))
        code = f"P{int(chance.integers(3))}{int(chance.integers(1000)):03d}"
        words.insert(size // 3, code)
        return f"{2000 + year} {self.makes[make]} {self.models[model]} " + " ".join(words)

    def _word(self, far: float, near: int, common: int, pick: int) -> str:
        return LITTLE[pick] if far < 0.33 else self.words[near if far < 0.68 else common]

    def questions(self, notes: list[tuple[int, str]], count: int) -> list[Question]:
        """Questions about notes drawn from these."""
        chance = random.Random(self.seed + 1)
        return [self._question(*chance.choice(notes), chance) for _ in range(count)]

    def _question(self, note: int, text: str, chance: random.Random) -> Question:
        words = text.split()
        car, told = words[1:3], [word for word in words[3 : 3 + len(words) // 3] if word not in LITTLE]
        kept = chance.sample(told, min(len(told), chance.randint(4, 11)))
        kept = [word if chance.random() > 0.2 else self.words[chance.randrange(1500)] for word in kept]
        clean = [*(car if chance.random() < 0.6 else []), *kept, *chance.sample(LITTLE, 2)]
        typed, slips = list(clean), 0
        for n in chance.sample(range(len(clean)), len(clean)):
            if slips < 2 and len(clean[n]) >= 5 and clean[n].isalpha() and chance.random() < 0.5:
                typed[n], slips = _slipped(clean[n], chance), slips + 1
        return Question(" ".join(clean), " ".join(typed), slips, note)


def _slipped(word: str, chance: random.Random) -> str:
    at = chance.randrange(1, len(word) - 1)
    if chance.random() < 0.5:
        return word[:at] + word[at + 1 :]
    return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
