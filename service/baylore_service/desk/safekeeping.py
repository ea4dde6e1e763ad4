"""A copy of the whole store that is known to be good, taking it back, and checking what is there."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from baylore_service.desk.house import House
from baylore_service.settings import Settings


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was looked at: what, whether it is well, and what was found."""

    what: str
    good: bool
    found: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """All checks; `good` when every one is."""

    checks: tuple[Check, ...]

    @property
    def good(self) -> bool:
        """Whether nothing is wrong."""
        return all(check.good for check in self.checks)


def backup(house: House, path: Path) -> int:
    """Copy a SQLite store while it is in use, check the copy, then put it at `path`; its size in bytes.

    Raises StoreTrouble for a copy that is not whole and for another kind of database.
    """
    raise NotImplementedError


def restore(settings: Settings, path: Path) -> Path | None:
    """Put a checked backup in the store's place; where the old store was moved to, None if none was.

    The service must not be running. Raises StoreTrouble for a file that is not a whole backup.
    """
    raise NotImplementedError


def verify(house: House) -> Verdict:
    """Look at the store's integrity, the change logs, the revisions, the photos and the indexes."""
    raise NotImplementedError
