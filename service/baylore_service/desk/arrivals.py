"""What a file brings in, line by line: read, checked, and kept or refused."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import Any, Generic, Literal, TypeVar
from uuid import NAMESPACE_URL, uuid5

from baylore_kb.errors import BayloreError
from baylore_kb.trade.model import Trade
from baylore_service.desk import files, note
from baylore_service.desk.checks.file import checked
from baylore_service.desk.house import House
from baylore_service.desk.photos import attach
from baylore_service.desk.photos import checked as checked_photo
from baylore_service.desk.stepkinds import each_kind
from baylore_service.errors import BadLine, BadValue, SaidTwice, ServiceError
from baylore_service.store import cases
from baylore_service.store.records import Actor, CaseFile, PhotoBlob, Stamp, Step
from baylore_service.store.work import Work

Done = Literal["added", "unchanged", "updated", "refused"]
T = TypeVar("T")
S = TypeVar("S", bound=Step)
MOST_NAMED = 1000


@dataclass(frozen=True, slots=True)
class Line(Generic[T]):
    """What a line holds, its number from 1, and the digest of its bytes."""

    number: int
    digest: str
    holds: T


class Tally:
    """How many of what arrived were added, changed and left."""

    def __init__(self) -> None:
        self._counts: Counter[Done] = Counter()

    def count(self, done: Done) -> None:
        """Count one."""
        self._counts[done] += 1

    @property
    def added(self) -> int:
        """New cases and photos."""
        return self._counts["added"]

    @property
    def unchanged(self) -> int:
        """Those that were there already, or are newer here."""
        return self._counts["unchanged"]

    @property
    def updated(self) -> int:
        """Cases that were there with older content."""
        return self._counts["updated"]


@dataclass(frozen=True, slots=True)
class Arrivals:
    """The good lines of a file, and the bad ones, to which taking may add."""

    cases: list[Line[CaseFile]] = field(default_factory=list)
    photos: list[Line[PhotoBlob]] = field(default_factory=list)
    bad: list[BadLine] = field(default_factory=list)

    def refuse(self, number: int, error: ServiceError | BayloreError) -> Done:
        """Note a bad line; only the first thousand are named."""
        if len(self.bad) < MOST_NAMED:
            self.bad.append(BadLine(number, error.field, error.message, error.remedy))
        return "refused"

    def refuse_lost(self, house: House, actor: Actor) -> None:
        """Refuse records joined into a case that is neither here nor among these: nobody would see them."""
        here = {line.holds.id for line in self.cases if line.holds.joined_into is None}
        joined = [line for line in self.cases if line.holds.joined_into is not None]
        wanted = {line.holds.joined_into or "" for line in joined} - here
        with house.store.read() as work:
            found = cases.get_many(work, actor.shop.id, wanted)
        here |= {id for id, file in found.items() if file.joined_into is None}
        lost = {line.number: line.holds for line in joined if line.holds.joined_into not in here}
        self.cases[:] = [line for line in self.cases if line.number not in lost]
        for number, file in lost.items():
            self.refuse(number, _lost(file))

    def take_case(self, house: House, work: Work, actor: Actor, line: Line[CaseFile]) -> Done:
        """Keep a case, unless the same line was taken before or the store's is newer."""
        file, shop_id = line.holds, actor.shop.id
        there = cases.get(work, shop_id, file.id)
        if there is None:
            files.add(house, work, actor, file, updated=file.updated, origin=line.digest)
            return "added"
        came = cases.origin(work, shop_id, file.id) == line.digest
        if came or file.updated <= there.updated or _same(file, there):
            return "unchanged"
        files.keep_any(house, work, actor, replace(file, photos=there.photos), updated=file.updated)
        return "updated"

    def take_photo(self, house: House, work: Work, actor: Actor, line: Line[PhotoBlob]) -> Done:
        """Keep a photo of a case that is there."""
        try:
            checked_photo(line.holds, most=house.settings.max_photo_bytes)
            file = files.find(work, actor, line.holds.case_id)
            after = attach(work, actor.shop.id, file, line.holds, most=house.settings.max_photos)
        except (ServiceError, BayloreError) as error:
            return self.refuse(line.number, error)
        if after is file:
            return "unchanged"
        files.keep_any(house, work, actor, after, updated=file.updated)
        return "added"


def _lost(file: CaseFile) -> BadValue:
    return BadValue(
        f"joined_into: there is no case {file.joined_into}",
        field="joined_into",
        remedy="bring the line of that case too, or leave joined_into out",
    )


def read_lines(
    house: House, lines: Iterable[bytes], parse: Callable[[bytes], Any], *, trade: Trade
) -> Arrivals:
    """The lines of a file, parsed and checked against the lists. A second line of one case id is refused."""
    arrivals = Arrivals()
    seen: dict[str, int] = {}
    for number, raw in enumerate(lines, 1):
        if not raw.strip():
            continue
        try:
            _sort(arrivals, _line(house, raw, number, parse=parse, trade=trade), seen)
        except (ServiceError, BayloreError) as error:
            arrivals.refuse(number, error)
    return arrivals


def _line(house: House, raw: bytes, number: int, *, parse: Callable[[bytes], Any], trade: Trade) -> Line[Any]:
    digest = hashlib.sha256(raw.strip()).hexdigest()
    holds = parse(raw.strip())
    if isinstance(holds, CaseFile):
        holds = checked(_named(holds, digest), trade, house.now())
        holds = replace(holds, title=holds.title or note.title(holds))
    return Line(number, digest, holds)


def _sort(arrivals: Arrivals, line: Line[Any], seen: dict[str, int]) -> None:
    if isinstance(line.holds, PhotoBlob):
        arrivals.photos.append(line)
    if not isinstance(line.holds, CaseFile):
        return
    first = seen.setdefault(line.holds.id, line.number)
    if first != line.number:
        raise SaidTwice(
            f"case {line.holds.id} is in line {first} already",
            field="id",
            remedy="leave one of the two lines out",
        )
    arrivals.cases.append(line)


def _named(file: CaseFile, digest: str) -> CaseFile:
    """The case with ids where it has none: the same line gives the same ids. Photos come by themselves."""
    id = file.id or str(uuid5(NAMESPACE_URL, f"baylore:case:{digest}"))
    return each_kind(
        file,
        lambda kind, steps: _stamped(steps, f"{id}:{kind.held}"),
        id=id,
        revision=0,
        photos=(),
    )


def _stamped(steps: tuple[S, ...], seed: str) -> tuple[S, ...]:
    return tuple(
        step if step.stamp.id else replace(step, stamp=_stamp(step.stamp, f"{seed}:{at}"))
        for at, step in enumerate(steps)
    )


def _stamp(stamp: Stamp, seed: str) -> Stamp:
    return replace(stamp, id=str(uuid5(NAMESPACE_URL, f"baylore:{seed}")))


def _same(one: CaseFile, other: CaseFile) -> bool:
    """Whether two files say the same; numbers and photos apart."""
    return replace(one, revision=0, updated=other.updated, photos=()) == replace(other, revision=0, photos=())
