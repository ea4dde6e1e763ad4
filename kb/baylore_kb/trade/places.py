"""How often a cause shows as a symptom, by its place in the list; from memory, no published source."""

from __future__ import annotations

PLACE_FACTORS = (1.0, 0.6, 0.4, 0.3, 0.2)


def place_factor(place: int) -> float:
    """The factor of the symptom at this place (0 first); the last one counts for all that follow."""
    return PLACE_FACTORS[min(place, len(PLACE_FACTORS) - 1)]
