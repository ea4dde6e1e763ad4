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


class UnknownUnit(BayloreError):
    """A unit is one nobody knows."""

    def __init__(self, unit: str, *, accepted: tuple[str, ...] = (), field: str = "unit") -> None:
        remedy = (
            f"write one of: {', '.join(accepted)}" if accepted else "write a unit such as V, kPa, psi or °C"
        )
        super().__init__(f"unknown unit {unit[:40]!r}", field=field, remedy=remedy)


class UnitMismatch(BayloreError):
    """A value is given in a unit that measures something else."""

    def __init__(self, value: float, unit: str, *, accepted: tuple[str, ...], field: str = "unit") -> None:
        super().__init__(
            f"{value:g} {unit[:40]} does not fit here",
            field=field,
            remedy=f"write one of: {', '.join(accepted)}",
        )


class NotAMeasure(BayloreError):
    """A text is not a number with a unit."""

    def __init__(self, text: str, *, field: str = "value") -> None:
        super().__init__(
            f"{text[:40]!r} is not a number with a unit",
            field=field,
            remedy="write it like 12.1 V or 390 kPa",
        )


class BadFormula(BayloreError):
    """A formula of the trade data does not parse, names something unknown or does not work out."""

    def __init__(self, text: str, why: str) -> None:
        super().__init__(
            f"formula {text[:80]!r}: {why}",
            field="formula",
            remedy="use numbers, + - * / **, comparisons, max, min, exp, log and the listed conditions",
        )


class OutOfRange(BayloreError):
    """A value lies outside the range a formula or table holds for."""

    def __init__(self, what: str, value: float, *, low: float, high: float, unit: str) -> None:
        super().__init__(
            f"{what} {value:g} {unit} is outside {low:g} to {high:g} {unit}",
            field=what,
            remedy=f"check the value; this works from {low:g} to {high:g} {unit}",
        )


class UnknownQuantity(BayloreError):
    """A reading names a quantity that is not listed."""

    def __init__(self, name: str, *, near: tuple[str, ...] = (), field: str = "quantity") -> None:
        remedy = f"did you mean {', '.join(near)}?" if near else "see the list of quantities"
        super().__init__(f"unknown quantity {name[:60]!r}", field=field, remedy=remedy)


class UnknownRefrigerant(BayloreError):
    """A refrigerant is not one whose pressures are known here."""

    def __init__(self, text: str, *, field: str = "conditions.refrigerant") -> None:
        super().__init__(
            f"no pressure table for refrigerant {text[:40]!r}", field=field, remedy="write R134a or R1234yf"
        )


class UnknownGrouping(BayloreError):
    """Recurrences are asked for by something they cannot be grouped by."""

    def __init__(self, name: str, *, known: tuple[str, ...], field: str = "by") -> None:
        super().__init__(
            f"cannot group by {name[:40]!r}",
            field=field,
            remedy=f"use one or more, each once, of {', '.join(known)}",
        )


class BadTuning(BayloreError):
    """A kept tuning cannot be used by this version of the engine."""

    def __init__(self, what: list[str]) -> None:
        super().__init__(
            f"the kept tuning does not fit: {', '.join(what)[:120]}",
            field="tuning",
            remedy="tune the shop anew",
        )


class SavedIndexUnusable(BayloreError):
    """A saved index cannot be used; everything in it can be read anew from the cases."""

    def __init__(self, why: str) -> None:
        super().__init__(f"the saved index is not used: {why}", field="index", remedy="build the index anew")
