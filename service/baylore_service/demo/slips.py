"""How words go wrong: thumbs, ears and hurry."""

from __future__ import annotations

import re
from functools import cache
from random import Random

from baylore_kb.trade.model import Trade
from baylore_service.demo.pages import page

ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
TYPOS = {"terse": 0.03, "dictated": 0.008, "careful": 0.05, "hurried": 0.06, "counter": 0.02}


def typed(text: str, chance: Random, *, rate: float) -> str:
    """The text as a gloved thumb leaves it; figures and short words come out right."""
    words = text.split(" ")
    return " ".join(
        _slip(word, chance) if word.isalpha() and chance.random() < rate else word for word in words
    )


def _slip(word: str, chance: Random) -> str:
    if len(word) < 4:
        return word
    at = chance.randrange(1, len(word) - 1)
    kind = chance.randrange(4)
    if kind == 0:
        return word[:at] + word[at + 1 :]
    if kind == 1:
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    if kind == 2:
        return word[:at] + word[at] + word[at:]
    return word[:at] + _neighbour(word[at].lower(), chance) + word[at + 1 :]


def _neighbour(letter: str, chance: Random) -> str:
    row = next((row for row in ROWS if letter in row), None)
    if row is None:
        return letter
    at = row.index(letter)
    return chance.choice(row[max(0, at - 1) : at] + row[at + 1 : at + 2])


def heard(text: str, chance: Random, *, rate: float = 0.22) -> str:
    """The text as a phone takes it down in a noisy bay: no stops, some words misheard."""
    sounds = page("words.yaml")["heard"]
    words = re.sub(r"[,.;:!?](?=\s|$)", "", text).lower().split()
    return " ".join(sounds[w] if w in sounds and chance.random() < rate else w for w in words)


class ShortForms:
    """Plain terms of one meaning, written the short way technicians write them."""

    def __init__(self, trade: Trade) -> None:
        self._forms: dict[str, tuple[str, ...]] = {}
        for each in trade.abbreviations:
            if each.kind == "abbr" and len(each.senses) == 1:
                self._forms.setdefault(each.senses[0].plain.lower(), each.forms)
        longest = sorted(self._forms, key=len, reverse=True)
        self._terms = re.compile(rf"\b(?:{'|'.join(map(re.escape, longest))})\b", re.IGNORECASE)

    def written(self, text: str, chance: Random, *, rate: float = 0.7) -> str:
        """The text with such terms written short."""
        return self._terms.sub(lambda m: self._short(m[0], chance) if chance.random() < rate else m[0], text)

    def _short(self, word: str, chance: Random) -> str:
        return chance.choice(self._forms[word.lower()])


def swapped(text: str, chance: Random, *, rate: float = 0.5) -> str:
    """The text with some words said by other words for the same."""
    swaps = page("words.yaml")["swaps"]
    return _swap_terms().sub(lambda m: chance.choice(swaps[m[0]]) if chance.random() < rate else m[0], text)


@cache
def _swap_terms() -> re.Pattern[str]:
    longest = sorted(page("words.yaml")["swaps"], key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, longest))})\b")


def clipped(text: str, chance: Random, *, rate: float = 0.5) -> str:
    """The text without some of its little words."""
    little = set(page("words.yaml")["fillers"])
    kept = [word for word in text.split() if word.lower() not in little or chance.random() > rate]
    return " ".join(kept) or text
