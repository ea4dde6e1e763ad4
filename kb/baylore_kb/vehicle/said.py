"""A car named in free text, such as "09 tarrow linnet 1.6 wont start": year, make, model and engine."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from baylore_kb.amounts import unit_of
from baylore_kb.tokens import MAX_CHARS, fold
from baylore_kb.vehicle.cars import Cars
from baylore_kb.vehicle.names import name_key

_WORD = re.compile(r"'?[^\W_]+(?:[.,]\d+[^\W_]*)?")
_YEAR = re.compile(r"(?:19[5-9]|20[0-4])\d")
_SHORT_YEAR = re.compile(r"'?\d\d")
_SIZE = re.compile(r"(?:[0-8][.,]\d)(?:l|i|d)?")
_FUEL = re.compile(
    r"(?:petrol|gasoline|diesel|dsl|hybrid|electric|[a-z]?di|tdi|cdi|hdi|dci|crdi|tdci|cdti|turbo)"
)
_LONGEST = 5
# Words between the make and its model, or between the name and the year.
_REACH = 2
_LEAST_LETTERS = 4
_MOST_WORDS = 600
# A name bent or in short is looked for among so many first words.
_BEGINNING = 8

Known = Callable[[str], bool]


@dataclass(frozen=True, slots=True)
class Said:
    """What was read, None and "" where it was not said; `typed` is the piece of text it was read from."""

    typed: str
    year: int | None = None
    make: str = ""
    model: str = ""
    engine: str = ""

    @property
    def words(self) -> str:
        """What was read, in the shop's own spelling."""
        return " ".join(str(part) for part in (self.year, self.make, self.model, self.engine) if part)


@dataclass(frozen=True, slots=True)
class _Word:
    start: int
    end: int
    text: str


@dataclass(frozen=True, slots=True)
class _Span:
    """Words from `first` up to `end`, and what they name."""

    first: int
    end: int
    name: str


def car_said(text: str, cars: Cars, *, ordinary: Known = lambda word: False) -> Said | None:
    """The first car of the shop's makes and models that the text names; None where it names none.

    Spelt as the shop spells it, run together or apart, in short or with a slip. A word that is `ordinary`
    (a folded one) is only a name when it is spelt as one and stands by a make or a year; a number is only a
    year where it stands by a name, or begins the text before an engine size or a name the shop has not met.
    """
    shown = text[:MAX_CHARS]
    words = [_Word(m.start(), m.end(), fold(m[0])) for m in _WORD.finditer(shown)][:_MOST_WORDS]
    looked = _Looked(words, cars, ordinary)
    make, model = looked.names()
    named = [span for span in (make, model) if span is not None]
    if not named:
        return looked.only_year(shown)
    first, end = min(span.first for span in named), max(span.end for span in named)
    year = looked.year_by(first, end)
    engine = looked.engine_by(max(end, year.end) if year else end)
    spans = [span for span in (*named, year, engine) if span is not None]
    start, stop = min(span.first for span in spans), max(span.end for span in spans)
    typed = shown[words[start].start : words[stop - 1].end]
    return Said(typed, _year(year.name) if year else None, _name(make), _name(model), _name(engine))


def _name(span: _Span | None) -> str:
    return span.name if span is not None else ""


class _Looked:
    """A text cut into words, looked through for one car."""

    def __init__(self, words: Sequence[_Word], cars: Cars, ordinary: Known) -> None:
        self.words, self.cars, self.ordinary = words, cars, ordinary

    def names(self) -> tuple[_Span | None, _Span | None]:
        """The first make with its model or a year, else the first make, else a model beyond doubt."""
        first: _Span | None = None
        for make in self._makes():
            model = self._model_by(make)
            if model is not None or self.year_by(make.first, make.end):
                return make, model
            first = first or make
        if first is not None:
            return first, None
        return self._model_alone()

    def only_year(self, shown: str) -> Said | None:
        """A year that begins the text before an engine size or a word nobody writes but as a name."""
        if len(self.words) < 2 or not _YEAR.fullmatch(self.words[0].text):
            return None
        following = self.words[1].text
        if not _SIZE.fullmatch(following) and (not following.isalpha() or self.ordinary(following)):
            return None
        return Said(shown[self.words[0].start : self.words[0].end], int(self.words[0].text))

    def _makes(self) -> Iterator[_Span]:
        for at in range(len(self.words)):
            span = self._exact(at, self.cars.makes)
            if span is not None and (not self._plain(span) or self._stands_by_car(span)):
                yield span
            elif span is None and (name := self._make_meant(at)):
                yield _Span(at, at + 1, name)

    def _make_meant(self, at: int) -> str | None:
        """The make a word is short for or a slip of, early in the text or after a year.

        A word of two or three letters must follow a year.
        """
        word, after_year = self.words[at].text, self._year_before(at)
        if not word.isalpha() or self.ordinary(word) or not (after_year or at < _BEGINNING):
            return None
        if len(word) < _LEAST_LETTERS and not after_year:
            return None
        return self.cars.make_meant(word)

    def _exact(self, at: int, names: Mapping[str, str]) -> _Span | None:
        """The longest run of words from `at` that spells a name."""
        for size in range(min(_LONGEST, len(self.words) - at), 0, -1):
            key = name_key(" ".join(word.text for word in self.words[at : at + size]))
            if key in names:
                return _Span(at, at + size, names[key])
        return None

    def _model_by(self, make: _Span) -> _Span | None:
        """A model of the make right after it or a word on, else right before it."""
        models = self.cars.models_by(make.name)
        after = range(make.end, min(make.end + _REACH, len(self.words)))
        before = range(max(0, make.first - _REACH), make.first)
        for at in (*after, *before):
            if span := self._exact(at, models.by_key):
                return span
        word = self.words[make.end].text if make.end < len(self.words) else ""
        if len(word) < _LEAST_LETTERS or self.ordinary(word):
            return None
        name = models.meant(word)
        return _Span(make.end, make.end + 1, name) if name else None

    def _model_alone(self) -> tuple[_Span | None, _Span | None]:
        """A model without its make; the make comes with it where only one has it."""
        for at in range(len(self.words)):
            span = self._exact(at, self.cars.models)
            if span is None or (self._doubtful(span) and not self._year_before(at)):
                continue
            makes = self.cars.makes_of[name_key(span.name)]
            make = _Span(span.first, span.end, next(iter(makes))) if len(makes) == 1 else None
            return make, span
        return None, None

    def _plain(self, span: _Span) -> bool:
        return span.end - span.first == 1 and self.ordinary(self.words[span.first].text)

    def _doubtful(self, span: _Span) -> bool:
        """Whether the words of a model may well be no model: ordinary, short or a number."""
        said = "".join(word.text for word in self.words[span.first : span.end])
        return len(said) < _LEAST_LETTERS or said.isdigit() or self._plain(span)

    def _stands_by_car(self, make: _Span) -> bool:
        return self._year_before(make.first) or self._model_by(make) is not None

    def _year_before(self, at: int) -> bool:
        return at > 0 and _year(self.words[at - 1].text) is not None

    def year_by(self, first: int, end: int) -> _Span | None:
        """A year within two words before the name, or two after in four figures or as "'09"."""
        for at in range(first - 1, max(-1, first - 1 - _REACH), -1):
            if _year(self.words[at].text) and not (self._unit(at + 1) and at + 1 < first):
                return _Span(at, at + 1, self.words[at].text)
        for at in range(end, min(end + _REACH, len(self.words))):
            word = self.words[at].text
            if (word.startswith("'") or len(word) == 4) and _year(word) and not self._unit(at + 1):
                return _Span(at, at + 1, word)
        return None

    def engine_by(self, at: int) -> _Span | None:
        """An engine size right after the name or a word on, with the fuel that follows it."""
        for first in range(at, min(at + _REACH, len(self.words))):
            size = self.words[first].text
            if not _SIZE.fullmatch(size) or self._unit(first + 1):
                continue
            fuel = self.words[first + 1].text if first + 1 < len(self.words) else ""
            if _FUEL.fullmatch(fuel):
                return _Span(first, first + 2, f"{size.replace(',', '.')} {fuel}")
            return _Span(first, first + 1, size.replace(",", "."))
        return None

    def _unit(self, at: int) -> bool:
        return at < len(self.words) and unit_of(self.words[at].text, glued=False) is not None


def _year(word: str) -> int | None:
    """A year in four figures, or in two as "09" or "'98"."""
    if _YEAR.fullmatch(word):
        return int(word)
    if not _SHORT_YEAR.fullmatch(word):
        return None
    short = int(word.lstrip("'"))
    return 1900 + short if short >= 50 else 2000 + short
