"""Brings a shop's derived tables up to its store: what changed, or all where other code or lists read it."""

from __future__ import annotations

from baylore_kb.afar import brief_of, facet_term, spelt_out, write
from baylore_kb.casedoc import CaseDoc, Reader
from baylore_kb.index import Snapshot
from baylore_kb.senses import telling_words
from baylore_kb.stems import stem
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own import meanings, shipped_of
from baylore_service.index_files import reader_version
from baylore_service.index_host import remembered
from baylore_service.store import cases, changes, seeking
from baylore_service.store.seeking import Row, State, Told
from baylore_service.store.work import Work


def fill(work: Work, shop_id: str, state: State, *, trade: Trade, known: Snapshot | None) -> None:
    """Bring the tables, which are locked, up under these lists; `known` is what this process has so far."""
    latest, version = changes.latest(work, shop_id), reader_version()
    if state.filled > latest or (known is None and state.reader != version):
        # The store was set back, or other code read it (which a process that runs already leaves so).
        _refill(work, shop_id, state, latest=latest, trade=trade)
    elif state.lists == trade.version:
        _renew(work, shop_id, state, _changed(work, shop_id, state), latest=latest, trade=trade)
    elif known is not None and _tells_apart(known, state, trade):
        stale = _changed(work, shop_id, state) | _reworded(work, shop_id, state, old=known.trade, new=trade)
        _renew(work, shop_id, state, stale, latest=latest, trade=trade)
    else:
        _refill(work, shop_id, state, latest=latest, trade=trade)
    seeking.filled(work, shop_id, to=latest, reader=version, lists=trade.version)


def _tells_apart(known: Snapshot, state: State, trade: Trade) -> bool:
    """Whether it is known with which lists the tables were filled, and they differ little."""
    return known.trade.version == state.lists and shipped_of(known.trade) is shipped_of(trade)


def _changed(work: Work, shop_id: str, state: State) -> set[str]:
    return {each.id for each in changes.after(work, shop_id, state.filled) if each.kind == "case"}


def _reworded(work: Work, shop_id: str, state: State, *, old: Trade, new: Trade) -> set[str]:
    """Cases that other lists read otherwise: by their cause, or by a word that means something else."""
    differ = {id for id, _ in old.causes.items() ^ new.causes.items()}
    found = set(cases.of_causes(work, shop_id, differ))
    for phrase in {word for word, _ in meanings(old).items() ^ meanings(new).items()}:
        roots = [stem(word) for word in telling_words(phrase)]
        found |= set(seeking.holding(work, shop_id, state.number, roots)) if roots else set()
    return found


def _renew(work: Work, shop_id: str, state: State, ids: set[str], *, latest: int, trade: Trade) -> None:
    if not ids:
        return
    reader, wanted = reader_of(trade), sorted(ids)
    before = seeking.documents(work, shop_id, wanted)
    files = cases.get_many(work, shop_id, wanted)
    docs = [reader.read(file.as_case()) for file in files.values() if remembered(file)]
    rows = [row_of(doc, reader) for doc in docs]
    after = {row.id: row.document for row in rows}
    news = [Told(latest, id, before.get(id), after.get(id)) for id in wanted if id in before or id in after]
    seeking.drop(work, shop_id, wanted)
    seeking.add(work, shop_id, state.number, rows)
    seeking.tell(work, shop_id, news)


def _refill(work: Work, shop_id: str, state: State, *, latest: int, trade: Trade) -> None:
    seeking.clear(work, shop_id)
    reader = reader_of(trade)
    files = (file for file in cases.every(work, shop_id) if remembered(file))
    rows = (row_of(reader.read(file.as_case()), reader) for file in files)
    seeking.add(work, shop_id, state.number, rows)
    seeking.restart(work, shop_id, revision=latest)


def reader_of(trade: Trade) -> Reader:
    """A reader of its own: what it numbers is written as words."""
    return Snapshot.build((), trade=trade).reader


def row_of(doc: CaseDoc, reader: Reader) -> Row:
    """A case that this reader has read, as it is sought, chosen and kept."""
    if doc.case.state == "open":
        return Row(doc.case.id, doc.length, None, None, write(doc, reader))
    terms, _ = spelt_out(doc, reader)
    sought = [*terms, *map(facet_term, sorted(doc.facets))]
    return Row(doc.case.id, doc.length, sought, brief_of(doc, reader), write(doc, reader))
