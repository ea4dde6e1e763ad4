"""Figures as they are shown: in print as on the screen of a client."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal


def figure(value: float | None) -> str:
    """At most four figures without trailing noughts: 12.05, 0.31, 141,000; None is empty.

    Halves of what is written go away from 0, as a browser rounds.
    """
    if value is None:
        return ""
    size = abs(value)
    digits = 0 if size >= 1000 else 1 if size >= 100 else 2 if size >= 1 else 3
    held = Decimal(str(value)).quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)
    text = f"{held:,f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def percent(share: float) -> str:
    """A share of 0 to 1 as a whole percentage."""
    return f"{figure(round(100.0 * share))} %"
