"""A case that was written twice: joined with the other record, taken apart again, or kept as two visits."""

from __future__ import annotations

from dataclasses import replace

from baylore_service.desk import files, taking
from baylore_service.desk.house import House
from baylore_service.desk.money import summed
from baylore_service.desk.once import once
from baylore_service.desk.redraft import drafted
from baylore_service.errors import BadValue, JoinedElsewhere
from baylore_service.store import photos
from baylore_service.store.drafts import own_words
from baylore_service.store.records import Actor, CaseFile, Kept, Receipt, Taken
from baylore_service.store.work import Work


def join(
    house: House,
    actor: Actor,
    case_id: str,
    other_id: str,
    *,
    expected_revision: int | None = None,
    receipt: Receipt | None = None,
) -> CaseFile | Kept:
    """Take what the other record has and this one lacks; the other is kept, points here and counts no more.

    Its photos move over. The same join again changes nothing; `split` undoes it. Raises NotFound,
    StaleRevision, JoinedElsewhere, and BadValue for two that cannot be one.
    """

    def act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id, expected=expected_revision)
        other = files.find(work, actor, other_id)
        if other.joined_into == file.id:
            return file
        check_joinable(file, other)
        taken = taking.lacking(file, other)
        after = replace(_with(house, actor, file, other, taken=taken), joined=(*file.joined, other.id))
        photos.move(work, actor.shop.id, taken.photos, to=file.id)
        gone = replace(other, joined_into=file.id, taken=taken, photos=())
        files.keep_any(house, work, actor, gone)
        return files.keep(house, work, actor, after)

    return once(house, actor, receipt, act)


def split(
    house: House,
    actor: Actor,
    case_id: str,
    other_id: str,
    *,
    expected_revision: int | None = None,
    receipt: Receipt | None = None,
) -> CaseFile | Kept:
    """Make a joined record a case of its own again, kept apart from then on. Answers with that record.

    The other case, which it is in, gives back what it took, as far as that stands as it was taken; what was
    done since stays there. Raises NotFound, StaleRevision, and BadValue for one that is not joined into it.
    """

    def act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id, expected=expected_revision)
        kept = files.find(work, actor, other_id)
        if file.joined_into != kept.id:
            raise BadValue(
                f"this record is not joined into case {kept.id}",
                field="other",
                remedy="read it: joined_into says where",
            )
        taken = file.taken or Taken()
        back = taking.photos_back(kept, file, taken)
        photos.move(work, actor.shop.id, (photo.id for photo in back), to=file.id)
        left = replace(_without(house, actor, kept, file), joined=_without_id(kept.joined, file.id))
        files.keep(house, work, actor, _apart(left, file.id))
        own = replace(file, joined_into=None, taken=None, photos=(*file.photos, *back))
        return files.keep(house, work, actor, _apart(own, kept.id))

    return once(house, actor, receipt, act)


def keep_apart(
    house: House,
    actor: Actor,
    case_id: str,
    other_id: str,
    *,
    expected_revision: int | None = None,
    receipt: Receipt | None = None,
) -> CaseFile | Kept:
    """Remember that these are two visits. Said before, it changes nothing. Raises NotFound, StaleRevision."""

    def act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id, expected=expected_revision)
        other = files.find(work, actor, other_id)
        if file.id == other.id:
            raise BadValue(
                "a case is no other visit than itself", field="other", remedy="name the other record"
            )
        if other.id in file.apart_from and file.id in other.apart_from:
            return file
        files.keep(house, work, actor, _apart(other, file.id))
        return files.keep(house, work, actor, _apart(file, other.id))

    return once(house, actor, receipt, act)


def check_joinable(file: CaseFile, other: CaseFile) -> None:
    """Raises JoinedElsewhere, and BadValue where joining would lose a cause, an ending or a link."""
    for each in (file, other):
        if each.joined_into is not None:
            raise JoinedElsewhere(each.id, each.joined_into)
    turned = f"join this one into case {other.id}"
    for wrong, why, remedy in (
        (file.id == other.id, "a case cannot be joined with itself", "name the other record"),
        (bool(other.joined), f"case {other.id} holds joined records itself", turned),
        (_linked(other), f"case {other.id} is linked to another visit", turned),
        (_rank(other) > _rank(file), f"case {other.id} is {other.state}, this one {file.state}", turned),
        (_causes_differ(file, other), "the two name different causes", "correct the cause of one first"),
    ):
        if wrong:
            raise BadValue(why, field="other", remedy=remedy)


def remaining(file: CaseFile, other: CaseFile) -> CaseFile:
    """The one of two that the other is to be joined into; the first where either could be."""
    return max(file, other, key=lambda each: (_linked(each) or bool(each.joined), _rank(each), each is file))


def _linked(file: CaseFile) -> bool:
    return file.comeback_of is not None or bool(file.returned_as)


def _rank(file: CaseFile) -> int:
    """How much a case is ended."""
    return ("open", "unresolved", "closed").index(file.state)


def _causes_differ(file: CaseFile, other: CaseFile) -> bool:
    return file.cause is not None and other.cause is not None and file.cause != other.cause


def _with(house: House, actor: Actor, file: CaseFile, other: CaseFile, *, taken: Taken) -> CaseFile:
    """The case with what it lacked; its sums and a drafted note follow."""
    base, is_drafted = _bare(house, actor, file)
    return _told(house, actor, taking.put_in(base, other, taken), is_drafted=is_drafted)


def _without(house: House, actor: Actor, kept: CaseFile, other: CaseFile) -> CaseFile:
    base, is_drafted = _bare(house, actor, kept)
    after = taking.taken_out(base, other, other.taken or Taken())
    return _told(house, actor, after, is_drafted=is_drafted)


def _bare(house: House, actor: Actor, file: CaseFile) -> tuple[CaseFile, bool]:
    """The case with only what members wrote in a drafted note, and whether it was drafted."""
    if file.state == "open" or file.note != drafted(file, house.trade_of(actor)):
        return file, False
    return replace(file, note=own_words(file.note)), True


def _told(house: House, actor: Actor, file: CaseFile, *, is_drafted: bool) -> CaseFile:
    paid = file if file.state == "open" else summed(file)
    return replace(paid, note=drafted(paid, house.trade_of(actor))) if is_drafted else paid


def _apart(file: CaseFile, other_id: str) -> CaseFile:
    return replace(file, apart_from=tuple(dict.fromkeys((*file.apart_from, other_id))))


def _without_id(ids: tuple[str, ...], gone: str) -> tuple[str, ...]:
    return tuple(id for id in ids if id != gone)
