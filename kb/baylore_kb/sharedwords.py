"""The words a question and a past case share, as a member reads them."""

from __future__ import annotations

from collections.abc import Mapping

from baylore_kb.casedoc import CaseDoc
from baylore_kb.question import Question
from baylore_kb.tokens import fold

MOST_WORDS = 6


class SharedWords:
    """A question's terms with their weights and numbers, ready to be looked for in many cases."""

    def __init__(self, question: Question, weights: Mapping[str, float], numbered: Mapping[int, str]) -> None:
        self._weights = weights
        self._shown = _words_shown(question)
        pairs = _pairs_written(question)
        self._pairs = [(pair.split(" "), pairs[pair]) for pair in sorted(pairs, key=self._heaviest)]
        self._terms = {number: term for number, term in numbered.items() if _readable(term)}

    def of(self, doc: CaseDoc) -> tuple[str, ...]:
        """The heaviest shared terms as a member reads them, a word inside a shared pair left out."""
        chosen = [self._terms[number] for number in doc.terms.tolist() if number in self._terms]
        chosen.sort(key=lambda term: (not term.startswith("not_"), -self._weights[term], term))
        singles = (self._shown[term] for term in chosen)
        words: list[str] = []
        for shown in (*self._shared_pairs(set(chosen), doc), *singles):
            if len(words) < MOST_WORDS and not any(shown in other for other in words):
                words.append(shown)
        return tuple(words)

    def _shared_pairs(self, stems: set[str], doc: CaseDoc) -> list[str]:
        """Pairs of shared words that stand side by side in both, as the question writes them."""
        likely = [written for words, written in self._pairs if stems.issuperset(words)]
        if not likely:
            return []
        said = fold(f"{doc.case.complaint.text} . {doc.case.title} . {doc.case.note}")
        return [written for written in likely if written in said]

    def _heaviest(self, pair: str) -> tuple[float, str]:
        return -sum(self._weights.get(word, 0.0) for word in pair.split(" ")), pair


def _words_shown(question: Question) -> dict[str, str]:
    """Each term in words; of a negated word also the word alone, which a case may share without the not."""
    shown = question.analysis.shown
    bare = {term.removeprefix("not_"): words.removeprefix("not ") for term, words in shown.items()}
    return bare | dict(shown)


def _pairs_written(question: Question) -> dict[str, str]:
    """The pairs of the question that stand in it as shown; a word left out between would show none."""
    written, shown = fold(question.mended), question.analysis.shown
    return {term: words for term, words in shown.items() if " " in term and words in written}


def _readable(term: str) -> bool:
    """Whether a shared term is a word both wrote: kindred words and bare units of time are not."""
    bare = term.removeprefix("not_")
    return bare[0] != "=" and not (bare[0] == "~" and bare[1:].isalpha())
