"""Parts tried: by source what cured and failed, and what a working car costs each way."""

from __future__ import annotations

from baylore_kb.parts.chance import FailureChance, class_prior, pooled
from baylore_kb.parts.choice import Way, cheapest_way
from baylore_kb.parts.life import LifeCurve, Run, life_curve
from baylore_kb.parts.outcomes import ComponentParts, SourceParts, best_source, part_outcomes
from baylore_kb.parts.safety import is_safety_cause, is_safety_part
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
    unsure_retry_cost,
)

__all__ = [
    "ComponentParts",
    "FailureChance",
    "LifeCurve",
    "Offer",
    "Run",
    "SourceParts",
    "Way",
    "best_source",
    "break_even_fail",
    "cheapest_way",
    "class_prior",
    "cost_by_tries",
    "cost_per_distance",
    "expected_visits",
    "fails_by",
    "is_safety_cause",
    "is_safety_part",
    "life_curve",
    "mean_life",
    "once_then_cost",
    "part_outcomes",
    "pooled",
    "retry_cost",
    "unsure_retry_cost",
]
