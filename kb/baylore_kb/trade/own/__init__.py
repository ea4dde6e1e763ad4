"""The shop's own tests, causes and minutes, joined to the shipped lists."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from hashlib import sha256
from typing import Any

from baylore_kb.trade.model import OWN_WORD, Abbreviation, Sense, Trade
from baylore_kb.trade.own.causes import OWN_MODE, cause_records, component_records
from baylore_kb.trade.own.entries import OwnCause, OwnTest
from baylore_kb.trade.own.ids import OWN, own_id
from baylore_kb.trade.own.tests import test_records

__all__ = [
    "OWN",
    "OwnCause",
    "OwnTest",
    "ShopTrade",
    "meanings",
    "notes_of",
    "own_id",
    "own_words",
    "shipped_of",
    "with_own",
]

OWN_MODE_TITLE = "in the shop's own words"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopTrade(Trade):
    """The shipped lists with a shop's own entries.

    `shipped` are those without them; `notes` is what the shop says on its own tests, by id; `words` are the
    words and phrases, folded, that are right as the shop writes them, each with the plain term it stands for,
    "" for none.
    """

    shipped: Trade
    notes: Mapping[str, str]
    words: Mapping[str, str]


def with_own(
    trade: Trade,
    tests: Iterable[OwnTest] = (),
    causes: Iterable[OwnCause] = (),
    minutes: Mapping[str, float] | None = None,
    *,
    words: Mapping[str, str] | None = None,
) -> Trade:
    """The shipped lists of `trade` with these own entries in place of any it has; nothing gives them bare.

    `minutes` (test id -> minutes >= 1) replaces the listed minutes of a test. `words` (folded word or phrase
    of up to four words -> plain term or "") are known as they are written; one with a plain term stands
    among the abbreviations, before any other meaning. Names that the lists no longer know are passed over;
    a test that points at nothing known is left out. The version is a digest of the shipped version and of
    the entries.
    """
    shipped = shipped_of(trade)
    own_tests, own_causes = tuple(tests), tuple(c for c in causes if c.system in shipped.systems)
    minutes = dict(minutes or {})
    known_words = dict(words or {})
    if not (own_tests or own_causes or minutes or known_words):
        return shipped
    found = cause_records(own_causes, own_tests, shipped)
    known = {**shipped.causes, **found}
    parts = component_records(found.values(), shipped)
    return _joined(
        shipped,
        causes=known,
        components={**shipped.components, **parts},
        modes={**shipped.modes, OWN_MODE: OWN_MODE_TITLE},
        tests=test_records(own_tests, tuple(found.values()), shipped, minutes=minutes),
        notes={test.id: test.note for test in own_tests if test.note},
        words=known_words,
        abbreviations=(*shipped.abbreviations, *_meanings(known_words)),
        version=_version(
            shipped, (own_tests, own_causes, sorted(minutes.items()), sorted(known_words.items()))
        ),
    )


def shipped_of(trade: Trade) -> Trade:
    """The lists without a shop's own entries."""
    return trade.shipped if isinstance(trade, ShopTrade) else trade


def notes_of(trade: Trade) -> Mapping[str, str]:
    """What the shop says on its own tests, by id; those without a note are not there."""
    return trade.notes if isinstance(trade, ShopTrade) else {}


def own_words(trade: Trade) -> frozenset[str]:
    """The words and phrases that are right as the shop writes them."""
    return frozenset(trade.words) if isinstance(trade, ShopTrade) else frozenset()


def meanings(trade: Trade) -> Mapping[str, str]:
    """The shop's own words that stand for a plain term, with that term."""
    words = trade.words if isinstance(trade, ShopTrade) else {}
    return {word: plain for word, plain in words.items() if plain}


def _meanings(words: Mapping[str, str]) -> Iterable[Abbreviation]:
    for word, plain in words.items():
        if plain:
            yield Abbreviation((word,), OWN_WORD, (Sense(plain, None, ""),))


def _joined(shipped: Trade, **changed: Any) -> ShopTrade:
    same = {field.name: getattr(shipped, field.name) for field in fields(Trade)}
    return ShopTrade(**same | changed, shipped=shipped)


def _version(shipped: Trade, entries: object) -> str:
    return sha256(f"{shipped.version}\0{entries!r}".encode()).hexdigest()[:16]
