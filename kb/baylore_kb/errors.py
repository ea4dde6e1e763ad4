"""What the engine refuses; every message shows the offending value and a way out."""

from __future__ import annotations


class BayloreError(Exception):
    """The engine refuses what it was given."""

    def __init__(self, message: str, *, field: str = "", remedy: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.field = field
        self.remedy = remedy
