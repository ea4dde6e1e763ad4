"""Engines that rank the documents of a set for a query: general-purpose ones, and this project's."""

from __future__ import annotations

import importlib.metadata
import re
import sqlite3
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import numpy as np
from sklearn.feature_extraction.text import TfidfVectorizer
from tests.quality.sets import Query, QuerySet

from baylore_kb.advice import reckon
from baylore_kb.index import Snapshot
from baylore_kb.match import as_matches, compare
from baylore_kb.question import understand
from baylore_kb.recall import TextIndex
from baylore_kb.values import Case, Complaint
from baylore_kb.weights import SHIPPED

DEPTH = 10
_WORD = re.compile(r"\w+")
Ranking = list[str]
Ask = Callable[[Query], Ranking]


def tfidf(given: QuerySet) -> Ask:
    """scikit-learn: words and pairs of words, sublinear, cosine."""
    vectorizer = TfidfVectorizer(ngram_range=(1, 2), sublinear_tf=True)
    held = vectorizer.fit_transform(given.documents.values())
    ids = list(given.documents)

    def ask(query: Query) -> Ranking:
        scores = (held @ vectorizer.transform([query.text]).T).toarray().ravel()
        return _best(dict(zip(ids, scores.tolist(), strict=True)), query)

    return ask


def bm25s(given: QuerySet, *, stem: bool = False) -> Ask:
    """bm25s (Lucene form, k1 1.5, b 0.75, its English stop words), plain or with Snowball stems."""
    import bm25s as engine  # noqa: PLC0415
    import Stemmer  # noqa: PLC0415

    options: dict[str, Any] = {"stopwords": "en", "show_progress": False}
    if stem:
        options["stemmer"] = Stemmer.Stemmer("english")
    index, ids = engine.BM25(k1=1.5, b=0.75), list(given.documents)
    index.index(engine.tokenize(list(given.documents.values()), **options), show_progress=False)

    def ask(query: Query) -> Ranking:
        tokens = engine.tokenize([query.text], return_ids=False, **options)[0]
        known = [token for token in tokens if token in index.vocab_dict]
        scores = index.get_scores(known) if known else np.zeros(len(ids))
        return _best(dict(zip(ids, np.asarray(scores).tolist(), strict=True)), query)

    return ask


def fts5(given: QuerySet) -> Ask:
    """SQLite FTS5, unicode61 tokens, any of the words, its bm25 order."""
    base, ids = sqlite3.connect(":memory:"), list(given.documents)
    base.execute("CREATE VIRTUAL TABLE note USING fts5(text, tokenize='unicode61')")
    base.executemany("INSERT INTO note(rowid, text) VALUES (?, ?)", enumerate(given.documents.values()))

    def ask(query: Query) -> Ranking:
        words = " OR ".join(f'"{word}"' for word in dict.fromkeys(_WORD.findall(query.text.lower())))
        limit = DEPTH + len(query.hidden)
        found = base.execute(
            "SELECT rowid, rank FROM note WHERE note MATCH ? ORDER BY rank LIMIT ?", (words, limit)
        )
        return _best({ids[row]: -rank for row, rank in found}, query) if words else []

    return ask


def tantivy(given: QuerySet) -> Ask:
    """tantivy, its default tokens, any of the words, BM25."""
    import tantivy as engine  # noqa: PLC0415

    builder = engine.SchemaBuilder()
    builder.add_text_field("id", stored=True)
    builder.add_text_field("text", stored=False)
    schema = builder.build()
    index = engine.Index(schema)
    writer = index.writer()
    for id, text in given.documents.items():
        writer.add_document(engine.Document(id=[id], text=[text]))
    writer.commit()
    writer.wait_merging_threads()
    index.reload()
    searcher = index.searcher()

    def ask(query: Query) -> Ranking:
        words = dict.fromkeys(_WORD.findall(query.text.lower()))
        terms = [(engine.Occur.Should, engine.Query.term_query(schema, "text", word)) for word in words]
        hits = searcher.search(engine.Query.boolean_query(terms), DEPTH + len(query.hidden)).hits
        return _best({searcher.doc(at)["id"][0]: score for score, at in hits}, query)

    return ask


def text_index(given: QuerySet) -> Ask:
    """This project's text index: from words to ids in one pass."""
    index = TextIndex.build(given.documents.items(), background=False)

    def ask(query: Query) -> Ranking:
        return _best(dict(index.search(query.text, DEPTH + len(query.hidden))), query)

    return ask


def by_words(given: QuerySet) -> Ask:
    """This project's memory asked with words alone, of documents that hold words alone."""
    shop = Snapshot.build(Case(id, Complaint(text), "unresolved") for id, text in given.documents.items())

    def ask(query: Query) -> Ranking:
        question = understand(Complaint(query.text), shop)
        found = shop.candidates(question, leave_out=query.hidden)
        return [match.case.id for match in as_matches(compare(question, found, shop), SHIPPED)[:DEPTH]]

    return ask


def with_all(given: QuerySet) -> Ask:
    """This project's memory asked with all that is known: vehicle, codes, readings, tests before the cure."""
    shop = Snapshot.build(given.cases)

    def ask(query: Query) -> Ranking:
        known = query.known or Complaint(query.text)
        found = reckon(known, shop, leave_out=query.hidden)
        return [match.case.id for match in found.cases[:DEPTH]]

    return ask


ENGINES: Mapping[str, Callable[[QuerySet], Ask]] = {
    "TF-IDF": tfidf,
    "bm25s": bm25s,
    "bm25s stems": lambda given: bm25s(given, stem=True),
    "FTS5": fts5,
    "tantivy": tantivy,
    "ours, text index": text_index,
    "ours, words": by_words,
    "ours, all known": with_all,
}
PEERS = ("TF-IDF", "bm25s", "bm25s stems", "FTS5", "tantivy")
ALWAYS = ("TF-IDF", "FTS5")
_NEEDS = {"bm25s": ("bm25s", "PyStemmer"), "bm25s stems": ("bm25s", "PyStemmer"), "tantivy": ("tantivy",)}


def version(engine: str) -> str | None:
    """The installed versions an engine runs on, None where one is missing."""
    needs = _NEEDS.get(engine, ("scikit-learn",) if engine == "TF-IDF" else ())
    try:
        return " ".join(f"{name} {importlib.metadata.version(name)}" for name in needs) or "here"
    except importlib.metadata.PackageNotFoundError:
        return None


def _best(scores: Mapping[str, float], query: Query) -> Ranking:
    """The ten highest, ties by id, nothing hidden or without a score."""
    told: Iterable[tuple[str, float]] = scores.items()
    kept = [(-score, id) for id, score in told if score > 0 and id not in query.hidden]
    return [id for _, id in sorted(kept)[:DEPTH]]
