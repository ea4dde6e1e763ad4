"""Words of the shop's own as they travel."""

from __future__ import annotations

from baylore_service.wire import fields as f


class NewOwnWord(f.Incoming, frozen=True):
    """A word to keep as it is written."""

    word: f.Word


class OwnWord(f.Outgoing, frozen=True):
    """A kept word, folded."""

    word: str


class OwnWords(f.Outgoing, frozen=True):
    """All kept words."""

    words: tuple[str, ...]
