"""Measures of ranking and of probabilities, and a fair comparison of two rankers."""

from __future__ import annotations

from baylore_kb.metrics.calibration import (
    Bin,
    Reliability,
    brier,
    expected_calibration_error,
    log_loss,
    reliability,
)
from baylore_kb.metrics.compare import Comparison, sign_flip
from baylore_kb.metrics.entropy import entropy
from baylore_kb.metrics.ranking import (
    MeanOver,
    average_precision,
    dcg,
    mean_over,
    ndcg,
    ndcg_of_scores,
    precision,
    ranked,
    recall,
    reciprocal_rank,
    success,
)

__all__ = [
    "Bin",
    "Comparison",
    "MeanOver",
    "Reliability",
    "average_precision",
    "brier",
    "dcg",
    "entropy",
    "expected_calibration_error",
    "log_loss",
    "mean_over",
    "ndcg",
    "ndcg_of_scores",
    "precision",
    "ranked",
    "recall",
    "reciprocal_rank",
    "reliability",
    "sign_flip",
    "success",
]
