"""Small changes of a text for the lines of a note."""

from __future__ import annotations

import re


def flat(text: str) -> str:
    """The text on one line."""
    return re.sub(r"\s+", " ", text).strip()


def lower_first(text: str) -> str:
    """The text with a small first letter, unless the first word is an abbreviation."""
    first = text.split(" ", 1)[0]
    return text[:1].lower() + text[1:] if first[1:].islower() or len(first) == 1 else text
