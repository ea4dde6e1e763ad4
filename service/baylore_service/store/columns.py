"""Lists kept in one column, as JSON text and back."""

from __future__ import annotations

import msgspec

from baylore_service.store.records import RightRule

_words = msgspec.json.Decoder(tuple[str, ...])
_rules = msgspec.json.Decoder(tuple[RightRule, ...])


def list_text(values: tuple[object, ...]) -> str:
    """The list as JSON."""
    return msgspec.json.encode(values).decode()


def to_words(text: str) -> tuple[str, ...]:
    """A list of words."""
    return _words.decode(text)


def to_rules(text: str) -> tuple[RightRule, ...]:
    """The rights of a shop and what needs them."""
    return _rules.decode(text)
