"""What a text counts for in the index: its words by weight, for the case and for the question alike."""

from __future__ import annotations

from baylore_kb.text import Analysis

# On public complaint and work-order texts a word's negation, its measure and its plain trade term add a
# little beside the word and harm at full weight; everyday kin harm unless they are light.
_NEGATED, _MEASURE, _PLAIN, _KINDRED = 0.5, 0.5, 0.5, 0.2


def weighted(analysis: Analysis) -> dict[str, float]:
    """The terms of a text and how much each says: 1 for each use of a word, less for what is read into it.

    A negated word counts as the word and, beside it, as its negation ("not_cold"). Pairs of words are no
    terms: they add nothing to the ranking. Empty text gives {}.
    """
    counts: dict[str, float] = {}
    for stem in analysis.stems:
        counts[stem] = counts.get(stem, 0.0) + 1.0
    own = frozenset(counts)
    for term in analysis.terms:
        if term not in own and " " not in term:
            counts[term] = counts.get(term, 0.0) + _beside(term)
    return counts


def _beside(term: str) -> float:
    bare = term.removeprefix("not_")
    if bare[0] == "=":
        return _KINDRED
    if bare[0] == "~":
        return _MEASURE
    return _NEGATED if bare != term else _PLAIN
