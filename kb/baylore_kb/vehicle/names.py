"""Makes and models by name: spellings, short forms, initials and slips, against the names the shop uses."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

from rapidfuzz import process
from rapidfuzz.distance import OSA, JaroWinkler

from baylore_kb.tokens import fold

_SURE_NAME = 0.9
_SHORTEST_SLIP, _TWO_SLIPS_FROM = 4, 8
# A short form has at least so many letters and leaves out at least two.
_SHORT, _LEFT_OUT = 3, 2
# Initials within one word stand for a name of at least so many letters.
_WHOLE_NAME, _MOST_INITIALS = 6, 3
_PARTS = re.compile(r"[^\W_]+")
_COUNTED = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_NUMBERS = {word: str(n) for n, word in enumerate(_COUNTED, 1)}
_NICKNAME = re.compile(r"(?:y|ie|i)$")
_VOWELS = frozenset("aeiouy")


@lru_cache(maxsize=20_000)
def name_key(name: str) -> str:
    """A make or model folded to letters and digits: "C-Max" and "c max" are one, "Mark Two" is "mark 2"."""
    return "".join(_NUMBERS.get(part, part) for part in _PARTS.findall(fold(name)))


def known_name(typed: str, names: Iterable[str], *, initials: bool = False) -> str | None:
    """The one of the shop's names that is meant by a typed make or model, as `Names.meant` has it."""
    return Names.of(names).meant(typed, initials=initials)


@dataclass(frozen=True)
class Names:
    """Makes or models by their keys, made ready to be looked up often."""

    by_key: Mapping[str, str]

    @staticmethod
    def of(names: Iterable[str]) -> Names:
        """These names; of two with one key the later in the alphabet counts."""
        return Names({name_key(name): name for name in sorted(names)})

    @cached_property
    def _by_letter(self) -> Mapping[str, list[str]]:
        found: dict[str, list[str]] = defaultdict(list)
        for key, name in self.by_key.items():
            found[key[:1]].append(name)
        return found

    def meant(self, typed: str, *, initials: bool = False) -> str | None:
        """The name that is meant, None where no name is near or two are equally so.

        It is the same letters; or one so alike that it is a slip; or the one name that what was typed is a
        short form of ("Linn", "Linny", the first word of several) or the initials of ("LV" for "Long Vale").
        With `initials` also those of its syllables ("KV" for "Kestervane"), and the other way round. Names
        with digits agree wholly, and up to three signs are never slips.
        """
        key = name_key(typed)
        if key in self.by_key:
            return self.by_key[key]
        return _slip_of(key, self.by_key) or self._alias(typed, key, initials=initials)

    def _alias(self, typed: str, key: str, *, initials: bool) -> str | None:
        near = self._by_letter.get(key[:1], [])
        for rule in (is_short_form, is_initials, *((is_syllables,) if initials else ())):
            alike = [name for name in near if rule(typed, name) or (initials and rule(name, typed))]
            if alike:
                return alike[0] if len(alike) == 1 else None
        return None


def same_make(one: str, other: str) -> bool:
    """Whether two names may be of one make: by letters, short form, initials, or a word both hold."""
    if not one or not other:
        return False
    if name_key(one) == name_key(other) or set(_long_words(one)) & set(_long_words(other)):
        return True
    return is_alias(one, other)


def is_alias(one: str, other: str) -> bool:
    """Whether one name is a short form or the initials of the other."""
    rules = (is_short_form, is_initials, is_syllables)
    return any(rule(one, other) or rule(other, one) for rule in rules)


def _long_words(name: str) -> Iterator[str]:
    return (word for word in _PARTS.findall(fold(name)) if len(word) >= _SHORT)


def is_short_form(short: str, name: str) -> bool:
    """Whether `short` begins the name ("Linn", "Linny"), or is the first of its words."""
    key, whole = name_key(short), name_key(name)
    if any(c.isdigit() for c in key + whole) or len(key) < _SHORT:
        return False
    words = _PARTS.findall(fold(name))
    if len(words) > 1 and key == words[0]:
        return True
    stem = _NICKNAME.sub("", key)
    begins = len(whole) - len(key) >= _LEFT_OUT and whole.startswith(key)
    return begins or (_SHORT < len(stem) < len(key) < len(whole) and whole.startswith(stem))


def is_initials(short: str, name: str) -> bool:
    """Whether `short` is made of the first letters of the name's words, two or more."""
    words = _PARTS.findall(fold(name))
    return len(words) > 1 and name_key(short) == "".join(word[0] for word in words)


def is_syllables(short: str, name: str) -> bool:
    """Whether two or three letters are the first of the name and those that begin later syllables of it."""
    key, whole = name_key(short), name_key(name)
    if not 2 <= len(key) <= _MOST_INITIALS or len(whole) < _WHOLE_NAME or not key.isalpha():
        return False
    begins = whole[0] + "".join(
        c
        for before, c, after in zip(whole, whole[1:], whole[2:], strict=False)
        if c not in _VOWELS and before not in _VOWELS and after in _VOWELS
    )
    rest = iter(begins[1:])
    return key[0] == begins[0] and all(letter in rest for letter in key[1:])


def _slip_of(key: str, by_key: Mapping[str, str]) -> str | None:
    if len(key) < _SHORTEST_SLIP:
        return None
    best = process.extractOne(key, by_key.keys(), scorer=JaroWinkler.similarity, score_cutoff=_SURE_NAME)
    if best is None or any(c.isdigit() for c in key + best[0]):
        return None
    most = 2 if len(key) >= _TWO_SLIPS_FROM else 1
    return by_key[best[0]] if OSA.distance(key, best[0]) <= most else None
