"""Figures printed in the README of each outside set, of engines that this harness runs in the same way.

Another script made them: TF-IDF on words and pairs, sublinear, cosine; BM25 in Lucene's form, k1 1.5, b 0.75,
English stop words, plain and with Snowball stems. They check the harness, not the engines. FTS5 and tantivy
were not printed; the sets made here (invented shops) have none.
"""

from __future__ import annotations

from tests.quality.measures import Result

Row = tuple[float, float, float, float]
WITHIN = 0.0015

# hit@1, hit@10, MRR@10, nDCG@10
PRINTED: dict[str, dict[str, Row]] = {
    "complaints": {
        "TF-IDF": (0.525, 0.901, 0.654, 0.447),
        "bm25s": (0.578, 0.910, 0.695, 0.480),
        "bm25s stems": (0.592, 0.926, 0.704, 0.491),
    },
    "recalls": {
        "TF-IDF": (0.490, 0.702, 0.549, 0.517),
        "bm25s": (0.490, 0.725, 0.561, 0.529),
        "bm25s stems": (0.515, 0.737, 0.580, 0.546),
    },
    "recalls-car": {
        "TF-IDF": (0.571, 0.793, 0.642, 0.623),
        "bm25s": (0.604, 0.823, 0.666, 0.648),
        "bm25s stems": (0.621, 0.828, 0.684, 0.666),
    },
    "narratives": {
        "TF-IDF": (0.131, 0.270, 0.169, 0.193),
        "bm25s": (0.129, 0.261, 0.168, 0.190),
        "bm25s stems": (0.135, 0.263, 0.171, 0.193),
    },
    "narratives-typos": {
        "TF-IDF": (0.121, 0.259, 0.159, 0.182),
        "bm25s": (0.127, 0.257, 0.164, 0.185),
        "bm25s stems": (0.124, 0.252, 0.161, 0.183),
    },
    "orders-part": {
        "TF-IDF": (0.601, 0.869, 0.689, 0.514),
        "bm25s": (0.629, 0.899, 0.720, 0.556),
        "bm25s stems": (0.650, 0.919, 0.742, 0.586),
    },
    "orders-system": {
        "TF-IDF": (0.665, 0.943, 0.755, 0.611),
        "bm25s": (0.696, 0.952, 0.785, 0.627),
        "bm25s stems": (0.714, 0.960, 0.795, 0.644),
    },
    "short-texts": {
        "TF-IDF": (0.630, 0.885, 0.712, 0.494),
        "bm25s": (0.688, 0.910, 0.767, 0.551),
        "bm25s stems": (0.700, 0.930, 0.782, 0.578),
    },
    "cranfield": {
        "TF-IDF": (0.312, 0.875, 0.518, 0.359),
        "bm25s": (0.312, 0.893, 0.531, 0.389),
        "bm25s stems": (0.339, 0.884, 0.548, 0.400),
    },
    "cisi": {
        "TF-IDF": (0.526, 0.868, 0.632, 0.323),
        "bm25s": (0.526, 0.868, 0.641, 0.372),
        "bm25s stems": (0.447, 0.868, 0.600, 0.403),
    },
}


def apart(name: str, result: Result) -> float | None:
    """The largest difference of the four figures from the printed ones; None where none were printed."""
    printed = PRINTED.get(name, {}).get(result.engine)
    if printed is None:
        return None
    mine = (result.hit_1, result.hit_10, result.mrr, result.ndcg)
    return max(abs(one - other) for one, other in zip(mine, printed, strict=True))
