"""What the last look at the whole store found, kept for who watches the service."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(slots=True)
class Checkup:
    """What the last look of this process found wrong; `at` is None before the first."""

    at: datetime | None = None
    seconds: float = 0.0
    bad: tuple[str, ...] = ()

    def keep(self, bad: tuple[str, ...], *, at: datetime, seconds: float) -> None:
        """Keep what was found wrong in the place of the last."""
        self.bad, self.at, self.seconds = bad, at, seconds

    @property
    def said(self) -> str:
        """`not yet`, `ok`, or how many things are wrong; what they are is told by `baylore verify` alone."""
        if self.at is None:
            return "not yet"
        return f"{len(self.bad)} things are wrong: run baylore verify" if self.bad else "ok"
