"""What one record of a visit got from another when the two were joined."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Taken:
    """Ids of steps and photos, codes, symptoms, conditions, names of filled fields, and whether a note.

    What is named here, and nothing else, goes back when the two are split.
    """

    steps: tuple[str, ...] = ()
    photos: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    symptoms: tuple[str, ...] = ()
    shows_when: tuple[str, ...] = ()
    vehicle: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()
    note: bool = False
