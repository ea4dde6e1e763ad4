"""Words of the shop's own as they travel."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from typing import Annotated

from msgspec import UNSET, Meta, UnsetType, structs

from baylore_service.desk.own_words import ListedWord
from baylore_service.wire import fields as f
from baylore_service.wire.decode import encode
from baylore_service.wire.feed import TradeList

Phrase = Annotated[str, Meta(min_length=1, max_length=60, pattern=f.LINE)]


class NewOwnWord(f.Incoming, frozen=True):
    """A word or phrase to keep as it is written; `means` is the plain term it stands for, if any."""

    word: Phrase
    means: f.Word = ""


class OwnWordPatch(f.Incoming, frozen=True):
    """Another plain term, "" or null for none."""

    means: f.Word | None | UnsetType = UNSET


class OwnWord(f.Outgoing, frozen=True):
    """A kept word, folded; `yours` where the asking member may change or drop it, `by` "" where not known."""

    id: str
    means: str
    by: str
    yours: bool


def own_word(listed: ListedWord) -> OwnWord:
    """A word as it is answered."""
    return OwnWord(listed.word.id, listed.word.means, listed.by, listed.yours)


def own_words(words: Iterable[ListedWord]) -> TradeList:
    """All words as a list beside the others, with a version of its content."""
    items = tuple(structs.asdict(own_word(word)) for word in words)
    return TradeList(list="words", version=hashlib.sha256(encode(items)).hexdigest()[:16], items=items)
