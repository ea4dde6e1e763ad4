"""A case file as JSON text and back."""

from __future__ import annotations

import msgspec

from baylore_service.errors import StoreDamaged
from baylore_service.store.records import CaseFile

_decoder = msgspec.json.Decoder(CaseFile)
_encoder = msgspec.json.Encoder(order="deterministic")


def to_text(file: CaseFile) -> str:
    """The case as JSON; fields in a fixed order, so that equal cases give equal text."""
    return _encoder.encode(file).decode()


def from_text(text: str) -> CaseFile:
    """The case of a JSON text; fields it lacks take their defaults. Raises StoreDamaged for no such text."""
    try:
        return _decoder.decode(text)
    except (msgspec.MsgspecError, UnicodeError) as error:
        raise StoreDamaged(f"a case cannot be read ({error})") from error
