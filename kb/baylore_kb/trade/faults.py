"""Collect what is wrong in the data files, each fault with its file and entry."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from baylore_kb.errors import TradeFault


class Faults:
    """A growing list of faults; nothing is raised until all files were read."""

    def __init__(self) -> None:
        self.found: list[str] = []

    def add(self, file: str, entry: str, what: str) -> None:
        """Note that `entry` of `file` is wrong."""
        self.found.append(f"{file}: {entry}: {what}")

    def unless(self, holds: bool, where: tuple[str, str], what: str) -> None:
        """Note `what` at (file, entry) when the rule does not hold."""
        if not holds:
            self.add(*where, what)

    def unknown(self, ids: Iterable[str | None], table: Collection[str], where: tuple[str, str]) -> None:
        """Note each id that `table` does not hold; None is no id."""
        for name in ids:
            if name is not None and name not in table:
                self.add(*where, f"unknown id {name!r}")

    def raise_if_any(self) -> None:
        """Raise one TradeFault that names them all."""
        if self.found:
            raise TradeFault(self.found)
