"""What a patch changes, apart from what it leaves alone."""

from __future__ import annotations

from typing import Any

from msgspec import UNSET, Struct, structs


def given_fields(patch: Struct) -> dict[str, Any]:
    """The fields that were sent, by name; null stays None, text loses the blanks around it."""
    return {
        name: value.strip() if isinstance(value, str) else value
        for name, value in structs.asdict(patch).items()
        if value is not UNSET
    }
