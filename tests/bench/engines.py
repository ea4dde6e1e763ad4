"""The engines whose speed is measured, behind one form: build, search, put."""

from __future__ import annotations

import re
import tempfile
from typing import Any, Protocol

Note = tuple[int, str]
_WORD = re.compile(r"\w+")


class Engine(Protocol):
    """Built from notes; `search` gives the numbers of the ten best; `put` adds a note or writes it anew."""

    def __init__(self, notes: list[Note]) -> None: ...
    def search(self, text: str) -> list[int]: ...
    def put(self, number: int, text: str) -> None: ...


class Ours:
    """The project's text index, compiled."""

    compile: bool | None = True

    def __init__(self, notes: list[Note]) -> None:
        from baylore_kb.recall import TextIndex

        self.index: Any = TextIndex.build(notes, compile=self.compile)

    def search(self, text: str) -> list[int]:
        return [number for number, _ in self.index.search(text)]

    def put(self, number: int, text: str) -> None:
        self.index.put(number, text)

    def delete(self, number: int) -> None:
        """Take a note out."""
        self.index.delete(number)


class OursPlain(Ours):
    """The same without a compiler."""

    compile = False


class Bm25sNumba:
    """bm25s with its numba backend, one thread."""

    def __init__(self, notes: list[Note]) -> None:
        import bm25s

        self.engine, self.notes = bm25s, notes
        options: dict[str, Any] = {"stopwords": "en", "show_progress": False, "token_pattern": r"(?u)\b\w+\b"}
        self.options = options
        self.index = bm25s.BM25(backend="numba")
        self.index.index(bm25s.tokenize([text for _, text in notes], **options), show_progress=False)

    def search(self, text: str) -> list[int]:
        tokens = self.engine.tokenize([text], return_ids=False, **self.options)[0]
        known = [token for token in tokens if token in self.index.vocab_dict]
        if not known:
            return []
        rows, _ = self.index.retrieve([known], k=10, show_progress=False, n_threads=1)
        return [self.notes[row][0] for row in rows[0].tolist()]

    def put(self, number: int, text: str) -> None:
        self.__init__([*self.notes, (number, text)])  # type: ignore[misc]


class Tantivy:
    """tantivy in a folder, any of the words, BM25."""

    def __init__(self, notes: list[Note]) -> None:
        import tantivy

        self.engine = tantivy
        builder = tantivy.SchemaBuilder()
        builder.add_unsigned_field("id", stored=True, fast=True)
        builder.add_text_field("text", stored=False, tokenizer_name="default", index_option="freq")
        self.schema = builder.build()
        self.folder = tempfile.TemporaryDirectory()
        self.index = tantivy.Index(self.schema, path=self.folder.name)
        writer = self.index.writer(heap_size=512_000_000, num_threads=1)
        for number, text in notes:
            writer.add_document(self._document(number, text))
        writer.commit()
        writer.wait_merging_threads()
        self._look()

    def _document(self, number: int, text: str) -> Any:
        document = self.engine.Document()
        document.add_unsigned("id", number)
        document.add_text("text", text)
        return document

    def _look(self) -> None:
        self.index.reload()
        self.searcher = self.index.searcher()

    def search(self, text: str) -> list[int]:
        words = dict.fromkeys(_WORD.findall(text.lower()))
        query, occur = self.engine.Query, self.engine.Occur.Should
        terms = [(occur, query.term_query(self.schema, "text", word, index_option="freq")) for word in words]
        hits = self.searcher.search(query.boolean_query(terms), 10, count=False).hits
        return [self.searcher.doc(at)["id"][0] for _, at in hits]

    def put(self, number: int, text: str) -> None:
        writer = self.index.writer(heap_size=64_000_000, num_threads=1)
        writer.add_document(self._document(number, text))
        writer.commit()
        writer.wait_merging_threads()
        self._look()


ENGINES: dict[str, type[Engine]] = {
    "ours": Ours,
    "ours, no compiler": OursPlain,
    "bm25s, numba": Bm25sNumba,
    "tantivy": Tantivy,
}
