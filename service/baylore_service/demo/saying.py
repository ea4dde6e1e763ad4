"""A complaint as it was said at the counter or written on the way to the car."""

from __future__ import annotations

import re
from collections.abc import Iterator
from random import Random
from typing import Literal

from baylore_kb.trade.model import Symptom, Trade
from baylore_service.demo.pages import page
from baylore_service.demo.slips import TYPOS, ShortForms, clipped, heard, swapped, typed
from baylore_service.demo.world import Style

Voice = Style | Literal["counter"]
ADDED = (("since", 0.3), ("how_often", 0.18), ("circumstances", 0.28), ("history", 0.16), ("asides", 0.06))
SHORT_ADDED = 0.4
LISTED_WORDS = 0.22
DROPPED = 0.08
JOINTS = r",?\s+(?=(?:and|when|but|with|after|while|then|if|as|though|only|at|over)\b)"


class Speech:
    """How the people around the demo shop talk about a symptom."""

    def __init__(self, trade: Trade) -> None:
        self._trade = trade
        self._short = ShortForms(trade)
        self._said = page("said.yaml")
        self._words = page("words.yaml")

    def complaint(
        self,
        symptom: str,
        voice: Voice,
        chance: Random,
        *,
        extra: tuple[str, ...] = (),
        own: tuple[str, ...] = (),
    ) -> str:
        """One complaint: `own` words where given, `extra` symptoms mentioned beside it, asides added."""
        said = [chance.choice(own) if own else self.phrase(symptom, chance)]
        said += [self.phrase(each, chance) for each in extra]
        said += self._around(symptom, voice, chance)
        first, *rest = said
        chance.shuffle(rest)
        parts = [*rest[:1], first, *rest[1:]] if rest and chance.random() < 0.25 else [first, *rest]
        lead = chance.choice(self._words["leads"])
        return self.voiced(lead + chance.choice((", ", ", ", ". ", " - ", " ")).join(parts), voice, chance)

    def phrase(self, symptom: str, chance: Random) -> str:
        """A symptom in words of this town, now and then near those of the trade lists."""
        if chance.random() < LISTED_WORDS:
            return self._rearranged(self._trade.symptoms[symptom], chance)
        return self._bent(swapped(chance.choice(self._said[symptom]), chance), chance)

    def headline(self, symptom: str, chance: Random) -> str:
        """A symptom as it stands over a job."""
        said = swapped(chance.choice(self._said[symptom]), chance)
        return said[:1].upper() + said[1:]

    def _bent(self, said: str, chance: Random) -> str:
        """The same sentence as somebody else would say it: turned round, broken off, words dropped."""
        kind, words = chance.random(), said.split()
        halves = re.split(JOINTS, said)
        if kind < 0.3 and len(halves) > 1:
            return " ".join([*halves[1:], halves[0]])
        if kind < 0.45 and len(words) > 5:
            return " ".join(words[: chance.randint(4, len(words) - 1)])
        return " ".join(word for word in words if chance.random() > DROPPED) or said

    def _rearranged(self, symptom: Symptom, chance: Random) -> str:
        """A listed phrasing, its halves turned round, some of its words gone or changed."""
        listed = chance.choice(symptom.said_by_customer + symptom.written_by_tech)
        halves = re.split(r",\s*|\s+(?=when |if |till |after )", listed)
        halves.reverse()
        said = clipped(swapped(" ".join(halves), chance, rate=0.9), chance, rate=0.8)
        if said.lower() == listed.lower() and len(said.split()) > 2:
            words = said.split()
            said = " ".join([*words[1:], words[0]])
        return said

    def _around(self, symptom: str, voice: Voice, chance: Random) -> Iterator[str]:
        less = 1.0 if voice in ("counter", "careful") else SHORT_ADDED
        for kind, share in ADDED:
            if chance.random() < share * less:
                yield str(chance.choice(self._words[kind]))
        listed = chance.choice(self._trade.symptoms[symptom].conditions)
        if listed in self._words["conditions"] and chance.random() < 0.4:
            yield str(chance.choice(self._words["conditions"][listed]))

    def voiced(self, text: str, voice: Voice, chance: Random) -> str:
        """The text in the manner of a member, or as noted at the counter."""
        if voice == "dictated":
            return heard(text, chance)
        if voice in ("terse", "hurried"):
            text = self._short.written(clipped(text, chance, rate=0.7), chance)
            text = text if chance.random() < 0.3 else text.lower()
        elif voice == "careful" or chance.random() < 0.5:
            text = text[:1].upper() + text[1:]
        return typed(text, chance, rate=TYPOS[voice])
