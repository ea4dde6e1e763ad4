"""Trade abbreviations in a text and the plain term each stands for, chosen by its neighbours."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from baylore_kb.stems import STOP_WORDS, is_light, is_negator, stem
from baylore_kb.tokens import Token, split
from baylore_kb.trade.model import OWN_WORD, Abbreviation, Sense, Trade

LONGEST_FORM = 4
# How far apart two words still explain each other, in words.
_REACH = 8.0
_NAMED = 3.0
# An ordinary word with a trade meaning ("open", "box") needs this much from its neighbours.
_ENOUGH = 0.2
_EVERYDAY_FORMS = """dealer used copy recall campaign build good bad data drop block outer remote duty act
    security breaker genuine salvage pattern code codes box dash clamp scan smoke flash short open idle manual
    auto plug"""
_ORDINARY = frozenset(_EVERYDAY_FORMS.split())
_ADVISING = "after number free text such on look may word words check see alone also"
_NOT_EVIDENCE = STOP_WORDS | frozenset(_ADVISING.split())


@dataclass(frozen=True, slots=True)
class Expansion:
    """Tokens `start` to `end` (exclusive) read as the `plain` term; `unsure` with other senses, `own` where
    the shop itself says so.
    """

    start: int
    end: int
    typed: str
    plain: str
    refers_to: str | None
    unsure: bool
    own: bool = False


@dataclass(frozen=True, slots=True)
class _Known:
    sense: Sense
    decide: frozenset[str]
    system: str | None
    after_number: bool


class Senses:
    """The abbreviation list ready for reading; without a trade list nothing is expanded."""

    def __init__(self, trade: Trade | None) -> None:
        self._forms: dict[tuple[str, ...], list[Abbreviation]] = defaultdict(list)
        self._first: frozenset[str] = frozenset()
        self._known: dict[int, tuple[_Known, ...]] = {}
        self._systems: Mapping[str, Mapping[str, float]] = {}
        if trade is not None:
            self._systems = system_words(trade)
            self._learn(trade.abbreviations)
        self._first = frozenset(key[0] for key in self._forms if key)

    def _learn(self, entries: Sequence[Abbreviation]) -> None:
        for entry in entries:
            if entry.kind == "unit":
                continue
            self._known[id(entry)] = tuple(_known(sense) for sense in entry.senses)
            # "bus +" and "bus -" would both be every bus
            for key in {form_key(form) for form in entry.forms if form[-1:] not in ("+", "-")}:
                if entry.kind == OWN_WORD:
                    self._forms[key] = [entry]
                elif not _everyday("".join(key)):
                    self._forms[key].append(entry)

    def read(
        self, tokens: Sequence[Token], *, kept: frozenset[tuple[str, ...]] = frozenset()
    ) -> tuple[Expansion, ...]:
        """The abbreviations found, longest form first, none overlapping; those of `kept` are left alone."""
        stems = [stem(token.text) for token in tokens]
        found: list[Expansion] = []
        at = 0
        while at < len(tokens):
            starts = tokens[at].text in self._first
            expansion = self._longest(tokens, stems, at, kept) if starts else None
            if expansion is not None:
                found.append(expansion)
            at = expansion.end if expansion else at + 1
        return tuple(found)

    def _longest(
        self, tokens: Sequence[Token], stems: Sequence[str], at: int, kept: frozenset[tuple[str, ...]]
    ) -> Expansion | None:
        for size in range(min(LONGEST_FORM, len(tokens) - at), 0, -1):
            form = tuple(token.text for token in tokens[at : at + size])
            entries = self._forms.get(form)
            if entries and form not in kept:
                return self._choose(entries, stems, tokens, span=(at, at + size))
        return None

    def _choose(
        self,
        entries: Sequence[Abbreviation],
        stems: Sequence[str],
        tokens: Sequence[Token],
        *,
        span: tuple[int, int],
    ) -> Expansion | None:
        options = [known for entry in entries for known in self._known[id(entry)]]
        scores = [self._score(option, stems, tokens, span=span) for option in options]
        best = max(range(len(options)), key=lambda n: (scores[n], -n))
        unsure = len(options) > 1
        typed = " ".join(token.shown for token in tokens[span[0] : span[1]])
        own = entries[0].kind == OWN_WORD
        guessed = (unsure and entries[0].kind == "slang") or (typed in _ORDINARY and not own)
        if guessed and scores[best] < _ENOUGH:
            return None
        sense = options[best].sense
        plain = sense.plain if own else meant(typed, sense.plain)
        return Expansion(span[0], span[1], typed, plain, sense.refers_to, unsure, own)

    def _score(
        self, known: _Known, stems: Sequence[str], tokens: Sequence[Token], *, span: tuple[int, int]
    ) -> float:
        start, end = span
        score = _NAMED if known.after_number and start and tokens[start - 1].kind == "number" else 0.0
        near = range(max(0, start - 2 * int(_REACH)), min(len(stems), end + 2 * int(_REACH)))
        for at in near:
            if start <= at < end:
                continue
            closeness = 1.0 / (1.0 + min(abs(at - start), abs(at - end + 1)) / _REACH)
            score += closeness * self._says(known, stems[at])
        return score

    def _says(self, known: _Known, word: str) -> float:
        if word in known.decide:
            return _NAMED
        if known.system is None:
            return 0.0
        return self._systems.get(word, {}).get(known.system, 0.0)


def meant(form: str, plain: str) -> str:
    """The part of a plain term with commas that a form stands for: "left hand" for "LH" of "left hand,
    right hand"; the whole term where no part starts with the form's letters or holds them in order.
    """
    letters = re.sub(r"\W", "", form).lower()
    parts = [part.strip() for part in plain.split(",")]
    if len(parts) == 1:
        return plain
    initials = (part for part in parts if "".join(word[0] for word in part.lower().split()) == letters)
    held = (part for part in parts if part[:1].lower() == letters[:1] and _in_order(letters, part.lower()))
    return next(initials, next(held, plain))


def _in_order(letters: str, text: str) -> bool:
    rest = iter(text)
    return all(letter in rest for letter in letters)


def _everyday(word: str) -> bool:
    """Whether a form is a word of every sentence once its capitals are gone: "AT", "NO", "A"."""
    return len(word) < 2 or is_negator(word) or is_light(word)


@lru_cache(maxsize=8192)
def form_key(form: str) -> tuple[str, ...]:
    """The form as the tokens it is cut into, so that "A/C" and "a.c." are one."""
    return tuple(token.text for token in split(form) if token.kind != "stop")


def telling_words(form: str) -> tuple[str, ...]:
    """The words of a form that every text with the form is known to hold, however it is read."""
    return tuple(
        word for word in form_key(form) if not (word in STOP_WORDS or is_light(word) or is_negator(word))
    )


def _known(sense: Sense) -> _Known:
    words = {stem(token.text) for token in split(sense.decide_by) if token.text not in _NOT_EVIDENCE}
    aircon = {stem("aircon"), stem("conditioning")} if "ac" in words else set()
    system = sense.refers_to.split(".")[0] if sense.refers_to else None
    return _Known(sense, frozenset(words | aircon), system, "after a number" in sense.decide_by)


def system_words(trade: Trade) -> dict[str, dict[str, float]]:
    """For each word stem of the lists, the share of each system in its use; shares sum to 1 a word."""
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    for system, text in _spoken(trade):
        for word in re.findall(r"[a-z0-9]+", text.lower()):
            if word not in STOP_WORDS:
                counts[stem(word)][system] += 1
    return {
        word: {system: n / by_system.total() for system, n in by_system.items()}
        for word, by_system in counts.items()
    }


def _spoken(trade: Trade) -> Iterator[tuple[str, str]]:
    for symptom in trade.symptoms.values():
        for phrase in (symptom.title, *symptom.said_by_customer, *symptom.written_by_tech):
            yield symptom.systems[0], phrase
    for component in trade.components.values():
        yield component.system, " ".join((component.title, *component.also))
    for cause in trade.causes.values():
        yield cause.system, cause.title
