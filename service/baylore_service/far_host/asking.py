"""How PostgreSQL is asked for what is sought: rare terms by themselves, those found everywhere by twos."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations

from baylore_kb.afar import Sought, facet_term
from baylore_service.store.seeking import Ask, Group

# Rows a search may walk through for terms by themselves, and as many again for pairs of common ones.
MOST_WALKED = 40_000
# Terms that come everywhere are taken by twos; more of them add work and hardly a case.
MOST_PAIRED = 8
# Words that come together do so more often than by chance; so many times as often is reckoned with.
TOGETHER = 3.0
# The best case seldom has all that is asked: its words' worth is about the whole divided by this.
USUAL_BEST = 1.5
# A case with three of the terms taken by twos has three pairs, and each term in two of them.
OF_A_PAIR = 0.5


def asked(sought: Sought, *, limit: int) -> Ask:
    """The search for what is sought, at most `limit` cases."""
    share = USUAL_BEST / sought.ideal if sought.ideal > 0 else 0.0
    words = {term: worth * share for term, worth in sought.terms.items()}
    worth = words | {facet_term(facet): worth for facet, worth in sought.facets.items()}
    held = {term: sought.counts[term] for term in words}
    held |= {facet_term(facet): sought.counts[facet] for facet in sought.facets}
    groups = [
        Group(terms, _worth(terms, worth), any(term in words for term in terms))
        for terms in _groups(worth, held, sought.cases)
    ]
    return Ask(groups, sought.mean_length, limit)


def _worth(terms: tuple[str, ...], worth: Mapping[str, float]) -> float:
    return sum(worth[term] for term in terms) * (OF_A_PAIR if len(terms) > 1 else 1.0)


def _groups(worth: Mapping[str, float], held: Mapping[str, int], cases: int) -> Iterator[tuple[str, ...]]:
    """Terms, most telling first, as long as few enough cases have them; of the others the pairs."""
    walked, common = 0.0, []
    for term in sorted(worth, key=lambda term: (-worth[term], term)):
        if walked + held[term] <= MOST_WALKED:
            walked += held[term]
            yield (term,)
        else:
            common.append(term)
    for one, other in combinations(common[:MOST_PAIRED], 2):
        both = min(TOGETHER * held[one] * held[other] / max(cases, 1), held[one], held[other])
        if walked + both <= 2 * MOST_WALKED:
            walked += both
            yield one, other
