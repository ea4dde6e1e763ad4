"""What the shop adds to the lists: its own tests and causes, and its own minutes of listed tests."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from baylore_kb.trade.model import Cause, Test, Trade
from baylore_kb.trade.own import OwnCause, OwnTest
from baylore_service.desk.checks import known, plain
from baylore_service.desk.checks import own as check
from baylore_service.desk.house import House
from baylore_service.desk.once import once
from baylore_service.desk.roles import only_managers
from baylore_service.errors import AlreadyThere, InUse, NotFound
from baylore_service.shop_lists import lists_of
from baylore_service.store import cases, changes, own
from baylore_service.store.records import Actor, Kept, Receipt
from baylore_service.store.records.own import EntryKind, OwnEntry, OwnMinutes, OwnValue
from baylore_service.store.work import Work

TEST_FIELDS = ("title", "system", "minutes", "points_at", "steps", "skill", "tools", "for_symptoms", "note")
CAUSE_FIELDS = ("title", "system", "symptoms", "minutes", "component", "fix", "confirm_test", "only_if")
V = TypeVar("V", OwnTest, OwnCause)


@dataclass(frozen=True, slots=True)
class Listed:
    """A record as the shop's lists hold it now."""

    record: Test | Cause
    trade: Trade


def add_test(house: House, actor: Actor, test: OwnTest, *, receipt: Receipt | None = None) -> Listed | Kept:
    """Keep a test of the shop's own; its id follows from its title.

    Raises BadValue, AlreadyThere, KeyReused.
    """
    named = replace(test, id=check.test_id(test.title), retired=False)
    return once(house, actor, receipt, lambda work: _added(house, work, actor, named))


def add_cause(
    house: House, actor: Actor, cause: OwnCause, *, receipt: Receipt | None = None
) -> Listed | Kept:
    """Keep a cause of the shop's own; its id is the one cases closed in the same words have.

    Raises BadValue, AlreadyThere, KeyReused.
    """
    named = replace(cause, id=known.own_cause_id(cause.title, field="title"))
    return once(house, actor, receipt, lambda work: _added(house, work, actor, named))


def amend_test(
    house: House, actor: Actor, id: str, changes: Mapping[str, Any], *, receipt: Receipt | None = None
) -> Listed | Kept:
    """Change an own test, or the minutes of a listed one (None: as listed). The id stays.

    Raises NotFound, BadValue, KeyReused.
    """

    def _act(work: Work) -> Listed:
        if id in house.trade.tests:
            return _in_minutes(house, work, actor, id, changes=changes)
        before = _own_test(work, actor, id)
        if changes.get("minutes", 0) is None:
            plain.refuse("nothing is listed for it", field="minutes", remedy="give its minutes, from 1 on")
        return _kept(house, work, actor, _changed(before, changes, TEST_FIELDS))

    return once(house, actor, receipt, _act)


def amend_cause(
    house: House, actor: Actor, id: str, changes: Mapping[str, Any], *, receipt: Receipt | None = None
) -> Listed | Kept:
    """Change an own cause; the id stays. Raises NotFound, BadValue, KeyReused."""

    def _act(work: Work) -> Listed:
        before = _own_cause(work, actor, id)
        return _kept(house, work, actor, _changed(before, changes, CAUSE_FIELDS))

    return once(house, actor, receipt, _act)


def remove_test(house: House, actor: Actor, id: str) -> None:
    """Take an own test off the list; where cases did it, it is only no longer offered.

    Raises WrongRole, NotFound, InUse where an own cause is confirmed by it.
    """
    only_managers(actor, "delete a test")
    with house.store.write(actor.shop.id) as work:
        before = _own_test(work, actor, id)
        for cause in _values(work, actor, OwnCause):
            if cause.confirm_test == id:
                raise InUse("test", id, by=f"cause {cause.id}")
        if any(step.test.test == id for file in cases.every(work, actor.shop.id) for step in file.tests):
            _put(house, work, actor, replace(before, retired=True))
        else:
            _drop(house, work, actor, kind="test", id=id)


def remove_cause(house: House, actor: Actor, id: str) -> None:
    """Take an own cause off the list; cases closed with it keep their words.

    Raises WrongRole, NotFound, InUse where an own test points at it.
    """
    only_managers(actor, "delete a cause")
    with house.store.write(actor.shop.id) as work:
        _own_cause(work, actor, id)
        for test in _values(work, actor, OwnTest):
            if id in test.points_at and not test.retired:
                raise InUse("cause", id, by=f"test {test.id}")
        _drop(house, work, actor, kind="cause", id=id)


def _added(house: House, work: Work, actor: Actor, value: OwnTest | OwnCause) -> Listed:
    there = own.get(work, actor.shop.id, "test" if isinstance(value, OwnTest) else "cause", value.id)
    if there is not None and not (isinstance(there.value, OwnTest) and there.value.retired):
        raise AlreadyThere(
            f"the shop has {value.title[:80]!r} already, as {value.id}",
            field="title",
            remedy="change that one, or choose other words",
        )
    return _kept(house, work, actor, value)


def _kept(house: House, work: Work, actor: Actor, value: OwnTest | OwnCause) -> Listed:
    trade = lists_of(work, actor.shop.id, house.trade)
    _put(house, work, actor, check.checked(value, trade))
    return _listed(house, work, actor, value)


def _listed(house: House, work: Work, actor: Actor, value: OwnValue) -> Listed:
    trade = lists_of(work, actor.shop.id, house.trade)
    record = trade.causes[value.id] if isinstance(value, OwnCause) else trade.tests[value.id]
    return Listed(record, trade)


def _put(house: House, work: Work, actor: Actor, value: OwnValue) -> None:
    now = house.now()
    entry = OwnEntry(value, now, now)
    there = own.get(work, actor.shop.id, entry.kind, value.id)
    keep(house, work, actor, replace(entry, made=there.made) if there else entry)


def keep(house: House, work: Work, actor: Actor, entry: OwnEntry) -> None:
    """Keep an entry that was checked, and log it."""
    own.put(work, actor.shop.id, entry)
    changes.append(work, actor, "trade", entry.value.id, at=house.now())


def _drop(house: House, work: Work, actor: Actor, *, kind: EntryKind, id: str) -> None:
    own.remove(work, actor.shop.id, kind, id)
    changes.append(work, actor, "trade", id, op="delete", at=house.now())


def _in_minutes(house: House, work: Work, actor: Actor, id: str, *, changes: Mapping[str, Any]) -> Listed:
    """A listed test in the shop's minutes; nothing else of it can be changed."""
    for field in changes.keys() - {"minutes"}:
        plain.refuse(
            "a listed test keeps what it is; only its minutes are the shop's",
            field=field,
            remedy="change `minutes` alone, or add a test of your own",
        )
    minutes = changes.get("minutes")
    if minutes is None:
        if own.get(work, actor.shop.id, "minutes", id) is not None:
            _drop(house, work, actor, kind="minutes", id=id)
        return _listed(house, work, actor, OwnMinutes(id, 0.0))
    value = check.minutes(OwnMinutes(id, minutes), house.trade)
    _put(house, work, actor, value)
    return _listed(house, work, actor, value)


def _changed(before: V, changes: Mapping[str, Any], fields: tuple[str, ...]) -> V:
    for field in changes:
        known.listed(field, fields, field=field, what="field")
    return replace(before, **changes)


def _own_test(work: Work, actor: Actor, id: str) -> OwnTest:
    entry = own.get(work, actor.shop.id, "test", id)
    if entry is None or not isinstance(entry.value, OwnTest) or entry.value.retired:
        raise NotFound("test of your own", id, remedy="see GET /api/trade/tests; a listed one stays")
    return entry.value


def _own_cause(work: Work, actor: Actor, id: str) -> OwnCause:
    entry = own.get(work, actor.shop.id, "cause", id)
    if entry is not None and isinstance(entry.value, OwnCause):
        return entry.value
    raise NotFound("cause of your own", id, remedy="see GET /api/trade/causes; a listed one stays")


def _values(work: Work, actor: Actor, kind: type[V]) -> list[V]:
    found = (entry.value for entry in own.every(work, actor.shop.id))
    return [value for value in found if isinstance(value, kind)]
