"""Closing a case with its cause, or without one; opening it again when the car comes back."""

from __future__ import annotations

from dataclasses import replace

from baylore_service.desk import comeback, files, twins
from baylore_service.desk.cases import add_new
from baylore_service.desk.ending import ended, says_the_same
from baylore_service.desk.house import House
from baylore_service.desk.once import once
from baylore_service.desk.twins import Closed
from baylore_service.errors import AlreadyClosed, JoinedElsewhere, NotClosed
from baylore_service.store.records import Actor, CaseFile, Closing, Kept, Receipt, Reopening
from baylore_service.store.work import Work


def close_case(
    house: House,
    actor: Actor,
    case_id: str,
    closing: Closing,
    *,
    receipt: Receipt | None = None,
    expected_revision: int | None = None,
) -> Closed | Kept:
    """Close a case; the answer has the other records of the same visit beside it.

    The same content again answers the same; other content raises AlreadyClosed. One that was left unresolved
    may still get its cause: all that was tried on it stays.
    """

    def _act(work: Work) -> Closed:
        file = files.find(work, actor, case_id, expected=expected_revision)
        closed = _closed(house, work, actor, file, closing=closing)
        return Closed(closed, twins.of(work, actor, closed))

    result = once(house, actor, receipt, _act)
    house.nudges.nudge(actor.shop.id)
    return result


def _closed(house: House, work: Work, actor: Actor, file: CaseFile, *, closing: Closing) -> CaseFile:
    if file.joined_into is not None:
        raise JoinedElsewhere(file.id, file.joined_into)
    if file.state == "open" or (file.state == "unresolved" and not closing.unresolved):
        return files.keep(house, work, actor, ended(house, work, actor, file, closing=closing))
    if says_the_same(file, closing):
        return file
    raise AlreadyClosed(
        f"case {file.id} is {file.state} already, with other content",
        remedy="change single fields of it, or reopen it if the fault came back",
    )


def reopen_case(
    house: House, actor: Actor, case_id: str, reopening: Reopening, *, receipt: Receipt | None = None
) -> CaseFile | Kept:
    """The new open case with `comeback_of` set; the old one stops claiming a cure. Raises NotClosed."""

    def _act(work: Work) -> CaseFile:
        old = files.find(work, actor, case_id)
        if old.state == "open":
            raise NotClosed(f"case {case_id} is still open", remedy="go on with it as it is")
        new = comeback.comeback(house, actor, old, reopening)
        kept = add_new(house, work, actor, new)
        files.keep(house, work, actor, replace(old, returned_as=(*old.returned_as, kept.id), verified=False))
        return kept

    return once(house, actor, receipt, _act)
