"""What the engine refuses; every message shows the offending value and a way out."""

from __future__ import annotations


class BayloreError(Exception):
    """The engine refuses what it was given."""

    def __init__(self, message: str, *, field: str = "", remedy: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.field = field
        self.remedy = remedy


class MalformedCode(BayloreError):
    """A trouble code does not have the form of SAE J2012."""

    def __init__(self, text: str, *, field: str = "codes") -> None:
        super().__init__(
            f"{text[:40]!r} is not a trouble code",
            field=field,
            remedy="write P, C, B or U, a digit 0 to 3, then three of 0-9 A-F, such as P0301",
        )


class MalformedVin(BayloreError):
    """A vehicle identification number breaks the rules of ISO 3779 or 49 CFR 565."""

    def __init__(self, text: str, why: str, *, remedy: str, field: str = "vehicle.vin") -> None:
        super().__init__(f"{text[:40]!r} is not a VIN: {why}", field=field, remedy=remedy)


class TradeFault(BayloreError):
    """The trade data files contradict themselves; `faults` names each file and entry."""

    def __init__(self, faults: list[str]) -> None:
        self.faults = tuple(faults)
        shown = "\n".join(faults)
        super().__init__(
            f"{len(faults)} faults in the trade data:\n{shown}",
            field="trade",
            remedy="mend the named entries of the data files and start again",
        )
