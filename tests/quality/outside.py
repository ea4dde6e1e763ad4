"""Outside collections, read from the folder that BAYLORE_OUTSIDE_DATA names; no part of the project."""

from __future__ import annotations

import csv
import gzip
import json
import os
import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from tests.quality.queryset import Query, QuerySet

from baylore_kb.values import Case, Complaint, Vehicle

FOLDER = Path(os.environ.get("BAYLORE_OUTSIDE_DATA", "absent"))
Row = Mapping[str, Any]
_WORD = re.compile(r"\w+")


def _lines(path: str) -> list[Row]:
    with gzip.open(FOLDER / path, "rt", encoding="utf-8") as lines:
        return [json.loads(line) for line in lines]


def _judged(path: str) -> dict[str, dict[str, float]]:
    found: dict[str, dict[str, float]] = defaultdict(dict)
    with (FOLDER / path).open(encoding="utf-8") as lines:
        for query, document, grade in csv.reader(lines, delimiter="\t"):
            if float(grade) > 0:
                found[query][document] = 1.0
    return found


def _alike(rows: Iterable[tuple[str, frozenset[str]]]) -> dict[str, dict[str, float]]:
    """For each record the others that share a label."""
    rows = [(id, labels) for id, labels in rows if labels]
    by_label: dict[str, set[str]] = defaultdict(set)
    for id, labels in rows:
        for label in labels:
            by_label[label].add(id)
    return {
        id: dict.fromkeys(set().union(*(by_label[label] for label in labels)) - {id}, 1.0)
        for id, labels in rows
    }


def owner_complaints() -> QuerySet:
    """US NHTSA owner complaints (public domain): others that share a component are right."""
    rows = _lines("odi-complaints/complaints.jsonl.gz")
    labels = {row["id"]: frozenset(row["components"]) - {"UNKNOWN OR OTHER"} for row in rows}
    grades = _alike(labels.items())
    said = {row["id"]: _complaint(row, row["text"]) for row in rows}
    return QuerySet(
        "owner complaints",
        {row["id"]: row["text"] for row in rows},
        tuple(
            Query(row["id"], row["text"], grades.get(row["id"], {}), frozenset({row["id"]}), said[row["id"]])
            for row in rows
        ),
        tuple(_closed(row["id"], said[row["id"]], _first(row, labels[row["id"]])) for row in rows),
        vehicle=True,
    )


def _complaint(row: Row, text: str) -> Complaint:
    year = int(row["year"]) if row.get("year") else None
    return Complaint(text, Vehicle(year, row.get("make") or "", row.get("model") or ""))


def _first(row: Row, labels: Iterable[str]) -> str | None:
    """The label that the record names first; a case has one cause."""
    return min(labels, key=lambda label: (row["component_raw"].find(label), label), default=None)


def _closed(id: str, said: Complaint, label: str | None) -> Case:
    """A closed case whose cause is the label; without one it stays unresolved."""
    if label is None:
        return Case(id, said, "unresolved")
    slug = "_".join(label.lower().split())
    return Case(id, said, "closed", cause=f"own.{slug}", cause_title=label, cause_system=slug, verified=True)


def recall_documents() -> QuerySet:
    """US NHTSA recall documents (public domain): others of the same problem are right."""
    documents, right = _lines("recall-docs/docs.jsonl.gz"), _judged("recall-docs/qrels.tsv")
    queries = _lines("recall-docs/queries.jsonl.gz")
    return QuerySet(
        "recall documents",
        {row["id"]: row["text"] for row in documents},
        tuple(
            Query(row["id"], row["text"], right.get(row["id"], {}), known=_complaint(row, row["text"]))
            for row in queries
        ),
        tuple(_recalled(row) for row in documents),
        vehicle=True,
    )


def recall_documents_with_cars() -> QuerySet:
    """The same with the words for the cars written into documents and queries, for engines of text alone."""
    given = recall_documents()
    asked = {row["id"]: row for row in _lines("recall-docs/queries.jsonl.gz")}
    documents = _lines("recall-docs/docs.jsonl.gz")
    return replace(
        given,
        name="recall documents, car in words",
        documents={row["id"]: " ".join((*row["makes"], *row["models"], row["text"])) for row in documents},
        queries=tuple(replace(query, text=_with_car(asked[query.id])) for query in given.queries),
    )


def _with_car(row: Row) -> str:
    return f"{row['make']} {row['model']} {row['text']}"


def _recalled(row: Row) -> Case:
    """A recall as a case: the first of its makes and models, the others in its note."""
    years = [year for year in (row.get("year_min"), row.get("year_max")) if year]
    car = Vehicle(
        int(years[0]) if years else None, next(iter(row["makes"]), ""), next(iter(row["models"]), "")
    )
    others = " ".join((*row["makes"], *row["models"]))
    return Case(row["id"], Complaint(row["text"], car), "closed", cause=f"own.{row['campaign']}", note=others)


def halves(key: str) -> Callable[[], QuerySet]:
    """First halves of US NHTSA narratives (public domain); the second half of the same is right."""

    def made() -> QuerySet:
        rows = _lines("complaint-narratives/halves.jsonl.gz")
        name = "narrative halves" if key == "query" else "narrative halves, mistyped"
        queries = tuple(Query(row["id"], row[key], {row["id"]: 1.0}) for row in rows)
        return QuerySet(name, {row["id"]: row["doc"] for row in rows}, queries)

    return made


def work_orders(key: str, what: str) -> Callable[[], QuerySet]:
    """Excavator work orders (NIST Nestor, University of Western Australia): the same part or system.

    Orders with the very same words are left out of the ranking.
    """

    def made() -> QuerySet:
        rows = _lines("excavator-orders/orders.jsonl.gz")
        grades = _alike((row["id"], frozenset([row[key]] if row[key] else [])) for row in rows)
        same: dict[str, set[str]] = defaultdict(set)
        for row in rows:
            same[_worded(row["text"])].add(row["id"])
        return QuerySet(f"work orders, {what}", _texts(rows), tuple(_orders(rows, grades, same)))

    return made


def _worded(text: str) -> str:
    return " ".join(_WORD.findall(text.lower()))


def _texts(rows: Iterable[Row]) -> dict[str, str]:
    return {str(row["id"]): row["text"] for row in rows}


def _orders(
    rows: Iterable[Row], grades: Mapping[str, Mapping[str, float]], same: Mapping[str, set[str]]
) -> Iterator[Query]:
    for row in rows:
        hidden = frozenset(same[_worded(row["text"])])
        right = {id: 1.0 for id in grades.get(row["id"], {}) if id not in hidden}
        yield Query(row["id"], row["text"], right, hidden)


def short_texts() -> QuerySet:
    """MaintIE workshop short texts (MIT): others that name the same type of object are right."""
    rows = _lines("short-text/objects.jsonl.gz")
    grades = _alike((str(row["id"]), frozenset(row["objects"])) for row in rows)
    queries = (Query(id := str(row["id"]), row["text"], grades.get(id, {}), frozenset({id})) for row in rows)
    return QuerySet("workshop short texts", _texts(rows), tuple(queries))


def collection(folder: str, name: str) -> Callable[[], QuerySet]:
    """Cranfield 1400 or CISI: human judgments of abstracts."""

    def made() -> QuerySet:
        right = _judged(f"{folder}/qrels.tsv")
        documents = _lines(f"{folder}/docs.jsonl.gz")
        queries = _lines(f"{folder}/queries.jsonl.gz")
        return QuerySet(
            name,
            {str(row["id"]): f"{row.get('title') or ''} {row['text']}" for row in documents},
            tuple(Query(str(row["id"]), row["text"], right.get(str(row["id"]), {})) for row in queries),
        )

    return made


MADE: dict[str, Callable[[int], QuerySet]] = {
    name: lambda _, made=made: made()
    for name, made in {
        "complaints": owner_complaints,
        "recalls": recall_documents,
        "recalls-car": recall_documents_with_cars,
        "narratives": halves("query"),
        "narratives-typos": halves("query_typos"),
        "orders-part": work_orders("part", "same part"),
        "orders-system": work_orders("major_system", "same system"),
        "short-texts": short_texts,
        "cranfield": collection("ir-cranfield", "Cranfield"),
        "cisi": collection("ir-cisi", "CISI"),
    }.items()
}
FOLDERS = {
    "complaints": "odi-complaints",
    "recalls": "recall-docs",
    "recalls-car": "recall-docs",
    "narratives": "complaint-narratives",
    "narratives-typos": "complaint-narratives",
    "orders-part": "excavator-orders",
    "orders-system": "excavator-orders",
    "short-texts": "short-text",
    "cranfield": "ir-cranfield",
    "cisi": "ir-cisi",
}
