"""This project's rankings of the documents of a set, by words alone and with all that is known."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from tests.quality.measures import DEPTH, Ranking
from tests.quality.peers import Ask
from tests.quality.queryset import Query, QuerySet

from baylore_kb.advice import reckon
from baylore_kb.index import Snapshot
from baylore_kb.match import as_matches, compare
from baylore_kb.question import understand
from baylore_kb.recall import TextIndex
from baylore_kb.values import Case, Complaint
from baylore_kb.weights import SHIPPED


def text_index(given: QuerySet) -> Ask:
    """The text index: from words to ids in one pass."""
    index = TextIndex.build(given.documents.items(), background=False)

    def ask(query: Query) -> Ranking:
        found = index.search(query.text, DEPTH + len(query.hidden))
        return [str(id) for id, score in found if score > 0 and id not in query.hidden][:DEPTH]

    return ask


def by_words(given: QuerySet) -> Ask:
    """The memory asked with words alone, of documents that hold words alone."""
    cases = (Case(id, Complaint(text), "unresolved") for id, text in given.documents.items())
    return _by_likeness(cases, lambda query: Complaint(query.text))


def causes_hidden(given: QuerySet) -> Ask:
    """The memory asked with all that is known, of past cases whose causes are not told.

    Beside `with_all` it tells what the labels of past cases are worth, where right means the same label.
    """
    untold = (
        replace(case, state="unresolved", cause=None, cause_title="", cause_system=None, confirmed_by=None)
        for case in given.cases
    )
    return _by_likeness(untold, _known)


def _known(query: Query) -> Complaint:
    return query.known or Complaint(query.text)


def _by_likeness(cases: Iterable[Case], asked: Callable[[Query], Complaint]) -> Ask:
    shop = Snapshot.build(cases)

    def ask(query: Query) -> Ranking:
        question = understand(asked(query), shop, leave_out=query.hidden)
        found = shop.candidates(question, leave_out=query.hidden)
        return [match.case.id for match in as_matches(compare(question, found, shop), SHIPPED)[:DEPTH]]

    return ask


def with_all(given: QuerySet) -> Ask:
    """The memory as a shop asks it: car, codes, readings, tests before the cure, causes of past cases."""
    shop = Snapshot.build(given.cases)

    def ask(query: Query) -> Ranking:
        found = reckon(_known(query), shop, leave_out=query.hidden)
        return [match.case.id for match in found.cases[:DEPTH]]

    return ask


OURS: Mapping[str, Callable[[QuerySet], Ask]] = {
    "ours, text index": text_index,
    "ours, words": by_words,
    "ours, causes hidden": causes_hidden,
    "ours, all known": with_all,
}
# These read the cases of a set; a set without any has the words alone.
OF_CASES = ("ours, causes hidden", "ours, all known")
