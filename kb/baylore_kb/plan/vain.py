"""Repairs that are not proposed: done here already without a cure, or refused by the member."""

from __future__ import annotations

from baylore_kb.causes.evidence import NOT_MENDED_BY_A_PART
from baylore_kb.trade.model import Trade
from baylore_kb.values import Complaint

# A copy may fail where these hardly do; after one of them the same part is not the cure.
SOUND_SOURCES = frozenset(("maker", "own stock"))
MOST_TRIES = 2


def in_vain(cause: str, complaint: Complaint, trade: Trade) -> bool:
    """Whether repairing the cause was refused, or tried here and will hardly cure when done again.

    A copy that changed nothing leaves the maker's part to try; a sound part or two tries do not.
    """
    if not (complaint.objections or complaint.repairs or complaint.parts):
        return False
    if any(each.cause == cause for each in complaint.objections):
        return True
    tries = [each.result for each in complaint.repairs if each.cause == cause and each.result != "cured"]
    return "no change" in tries or len(tries) >= MOST_TRIES or _parts_in_vain(cause, complaint, trade)


def _parts_in_vain(cause: str, complaint: Complaint, trade: Trade) -> bool:
    known = trade.causes.get(cause)
    if known is None or known.mode in NOT_MENDED_BY_A_PART:
        return False
    tries = [
        part
        for part in complaint.parts
        if part.component == known.component and part.result in ("no change", "partly")
    ]
    sound = any(part.source in SOUND_SOURCES and part.result == "no change" for part in tries)
    return sound or len(tries) >= MOST_TRIES
