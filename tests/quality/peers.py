"""General-purpose engines that rank the documents of a set by the words of a query."""

from __future__ import annotations

import importlib.metadata
import re
import sqlite3
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
from sklearn.feature_extraction.text import TfidfVectorizer
from tests.quality.measures import DEPTH, Ranking
from tests.quality.queryset import Query, QuerySet

# So many more than needed are fetched from an engine that cuts its own list, so that ties at the end are
# broken here, the same for all.
SPARE = 50
_WORD = re.compile(r"\w+")
Ask = Callable[[Query], Ranking]


def tfidf(given: QuerySet) -> Ask:
    """scikit-learn: words and pairs of words, sublinear, cosine."""
    vectorizer = TfidfVectorizer(ngram_range=(1, 2), sublinear_tf=True)
    held = vectorizer.fit_transform(given.documents.values())
    best = _best_of(given)
    return lambda query: best((held @ vectorizer.transform([query.text]).T).toarray().ravel(), query)


def bm25s(given: QuerySet, *, stem: bool = False) -> Ask:
    """bm25s (Lucene form, k1 1.5, b 0.75, its English stop words), plain or with Snowball stems."""
    import bm25s as engine  # noqa: PLC0415
    import Stemmer  # noqa: PLC0415

    options: dict[str, Any] = {"stopwords": "en", "show_progress": False}
    if stem:
        options["stemmer"] = Stemmer.Stemmer("english")
    index, best = engine.BM25(k1=1.5, b=0.75), _best_of(given)
    index.index(engine.tokenize(list(given.documents.values()), **options), show_progress=False)

    def ask(query: Query) -> Ranking:
        tokens = engine.tokenize([query.text], return_ids=False, **options)[0]
        known = [token for token in tokens if token in index.vocab_dict]
        return best(index.get_scores(known), query) if known else []

    return ask


def fts5(given: QuerySet) -> Ask:
    """SQLite FTS5, unicode61 tokens, any of the words, its bm25 order."""
    base, best = sqlite3.connect(":memory:"), _best_of(given)
    base.execute("CREATE VIRTUAL TABLE note USING fts5(text, tokenize='unicode61')")
    base.executemany("INSERT INTO note(rowid, text) VALUES (?, ?)", enumerate(given.documents.values()))

    def ask(query: Query) -> Ranking:
        scores = np.zeros(len(given.documents))
        if words := " OR ".join(f'"{word}"' for word in _words(query)):
            found = base.execute("SELECT rowid, -rank FROM note WHERE note MATCH ?", (words,)).fetchall()
            for row, score in found:
                scores[row] = score
        return best(scores, query)

    return ask


def tantivy(given: QuerySet) -> Ask:
    """tantivy, its default tokens, any of the words, BM25."""
    import tantivy as engine  # noqa: PLC0415

    builder = engine.SchemaBuilder()
    builder.add_unsigned_field("place", stored=True)
    builder.add_text_field("text", stored=False)
    schema = builder.build()
    index = engine.Index(schema)
    # one thread, one commit: the same segments in every run
    writer = index.writer(num_threads=1)
    for place, text in enumerate(given.documents.values()):
        writer.add_document(engine.Document(place=place, text=[text]))
    writer.commit()
    writer.wait_merging_threads()
    index.reload()
    searcher, best = index.searcher(), _best_of(given)

    def ask(query: Query) -> Ranking:
        terms = [
            (engine.Occur.Should, engine.Query.term_query(schema, "text", word)) for word in _words(query)
        ]
        limit = DEPTH + len(query.hidden) + SPARE
        scores = np.zeros(len(given.documents))
        for score, at in searcher.search(engine.Query.boolean_query(terms), limit).hits:
            scores[searcher.doc(at)["place"][0]] = score
        return best(scores, query)

    return ask


PEERS: Mapping[str, Callable[[QuerySet], Ask]] = {
    "TF-IDF": tfidf,
    "bm25s": bm25s,
    "bm25s stems": lambda given: bm25s(given, stem=True),
    "FTS5": fts5,
    "tantivy": tantivy,
}
ALWAYS = ("TF-IDF", "FTS5")
_NEEDS = {
    "TF-IDF": ("scikit-learn",),
    "bm25s": ("bm25s", "PyStemmer"),
    "bm25s stems": ("bm25s", "PyStemmer"),
    "tantivy": ("tantivy",),
}


def version(peer: str) -> str | None:
    """The installed versions that a peer runs on, None where one is missing."""
    if peer == "FTS5":
        return f"SQLite {sqlite3.sqlite_version}"
    try:
        return ", ".join(f"{name} {importlib.metadata.version(name)}" for name in _NEEDS[peer])
    except importlib.metadata.PackageNotFoundError:
        return None


def _words(query: Query) -> list[str]:
    return list(dict.fromkeys(_WORD.findall(query.text.lower())))


def _best_of(given: QuerySet) -> Callable[[np.ndarray, Query], Ranking]:
    """The ten highest of scores in step with the documents, ties by place; nothing hidden, nothing at 0."""
    ids = list(given.documents)

    def best(scores: np.ndarray, query: Query) -> Ranking:
        order = np.argsort(-np.asarray(scores), kind="stable")[: DEPTH + len(query.hidden)]
        return [ids[n] for n in order if scores[n] > 0 and ids[n] not in query.hidden][:DEPTH]

    return best
