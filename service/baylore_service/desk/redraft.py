"""A drafted note told anew when the steps it tells of change."""

from __future__ import annotations

from dataclasses import replace

from baylore_kb.readings import judge
from baylore_kb.trade.model import Trade
from baylore_service.desk import note
from baylore_service.store.drafts import own_words
from baylore_service.store.records import CaseFile


def drafted(file: CaseFile, trade: Trade) -> str:
    """The note as it would be drafted now, around what members wrote themselves."""
    bare = replace(file, note=own_words(file.note))
    return note.text(bare, trade, [judge(step.reading, trade) for step in file.readings])


def redrafted(before: CaseFile, after: CaseFile, trade: Trade) -> CaseFile:
    """The changed case with its note drafted anew; a note that a member has put in words stays."""
    if before.state == "open" or before.note != drafted(before, trade):
        return after
    return replace(after, note=drafted(after, trade))
