"""Sentences for a phone in one hand: a first line within 80 characters, three lines at most."""

from __future__ import annotations

from collections.abc import Sequence

LINE, LINES = 80, 3


def short(text: str, most: int = LINE) -> str:
    """The text within `most` characters, cut at a word with "..." where it is longer."""
    if len(text) <= most:
        return text
    return text[: most - 3].rsplit(" ", maxsplit=1)[0].rstrip(" ,;:") + "..."


def lines(*each: str | None) -> str:
    """The lines that say something, the first one short, three at most."""
    said = [line for line in each if line]
    return "\n".join([*map(short, said[:1]), *said[1:LINES]])


def listed(titles: Sequence[str]) -> str:
    """Titles in a sentence: "A, B and C"; empty without titles."""
    return " and ".join(part for part in (", ".join(titles[:-1]), *titles[-1:]) if part)


def tells_apart(titles: Sequence[str], *, most: int = LINE) -> str:
    """What a test tells apart, with as many titles as go into `most` characters, at least one cut short."""
    if not titles:
        return "Tells the likely causes apart."
    for count in range(min(3, len(titles)), 1, -1):
        whole = f"Tells apart {listed(titles[:count])}."
        if len(whole) <= most:
            return whole
    first = short(f"Speaks for or against {titles[0]}", most - 1)
    return first if first.endswith("...") else f"{first}."


def minutes(number: float) -> str:
    """A number of minutes in words: "8 min"; hours from two hours on."""
    return f"{number:.0f} min" if abs(number) < 120.0 else f"{number / 60.0:.1f} h"
