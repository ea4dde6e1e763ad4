"""A case with all that was read of it, as bytes for whoever keeps it."""

from __future__ import annotations

import msgspec
import numpy as np

from baylore_kb.casedoc import CaseDoc, Reader
from baylore_kb.values import Case, Judged


class _Written(msgspec.Struct, frozen=True, array_like=True):
    """A case with what was read of it, terms and words as such."""

    case: Case
    terms: list[str]
    weights: list[float]
    words: list[str]
    length: float
    facets: list[str]
    symptoms: dict[str, float]
    judged: tuple[Judged, ...]


_decoder = msgspec.msgpack.Decoder(_Written)


def spelt_out(doc: CaseDoc, reader: Reader) -> tuple[list[str], list[float]]:
    """The terms of a case that this reader has read, in alphabetical order, and the weight of each.

    Whichever reader it was, and whatever it had read before, they are the same.
    """
    terms = [reader.lexicon.terms[n] for n in doc.terms.tolist()]
    order = sorted(range(len(terms)), key=terms.__getitem__)
    return [terms[n] for n in order], doc.weights[order].tolist()


def write(doc: CaseDoc, reader: Reader) -> bytes:
    """A case that this reader has read, for whoever keeps it; equal cases give equal bytes."""
    terms, weights = spelt_out(doc, reader)
    book = reader.book.terms
    return msgspec.msgpack.encode(
        _Written(
            doc.case,
            terms,
            weights,
            [book[n] for n in doc.words.tolist()],
            doc.length,
            sorted(doc.facets),
            dict(doc.symptoms),
            doc.judged,
        )
    )


def read(data: bytes, reader: Reader, *, known: int | None = None) -> CaseDoc:
    """A kept case in the numbers of this reader; of its terms those numbered below `known`, where given."""
    written = _decoder.decode(data)
    weights = np.asarray(written.weights, dtype=np.float32)
    if known is None:
        terms, words = reader.lexicon.numbers(written.terms), reader.book.numbers(written.words)
    else:
        terms, words = reader.lexicon.found(written.terms), reader.book.found(())
        here = (terms >= 0) & (terms < known)
        weights, terms = weights[here], terms[here]
    order = np.argsort(terms)
    return CaseDoc(
        written.case,
        terms[order],
        weights[order],
        words,
        written.length,
        frozenset(written.facets),
        written.symptoms,
        written.judged,
    )
