"""Parts tried: by source what cured and failed, and what a working car costs each way."""

from __future__ import annotations

from baylore_kb.parts.chance import FailureChance, class_prior, pooled
from baylore_kb.parts.outcomes import ComponentParts, SourceParts, best_source, part_outcomes
from baylore_kb.parts.ways import (
    Offer,
    break_even_fail,
    cost_by_tries,
    cost_per_distance,
    expected_visits,
    fails_by,
    mean_life,
    once_then_cost,
    retry_cost,
)

__all__ = [
    "ComponentParts",
    "FailureChance",
    "Offer",
    "SourceParts",
    "best_source",
    "break_even_fail",
    "class_prior",
    "cost_by_tries",
    "cost_per_distance",
    "expected_visits",
    "fails_by",
    "mean_life",
    "once_then_cost",
    "part_outcomes",
    "pooled",
    "retry_cost",
]
