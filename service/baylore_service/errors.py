"""What the service refuses; every message shows the offending value and a way out."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BadLine:
    """A line of an import that cannot be taken, counted from 1."""

    line: int
    field: str
    detail: str
    remedy: str


class ServiceError(Exception):
    """The service refuses what it was asked."""

    def __init__(self, message: str, *, field: str = "", remedy: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.field = field
        self.remedy = remedy


class NotFound(ServiceError):
    """The shop has no such thing; another shop's things look the same."""

    def __init__(self, what: str, id: str, *, remedy: str = "") -> None:
        super().__init__(f"there is no {what} {id[:80]!r}", remedy=remedy or f"list the {what}s of this shop")


class NotSignedIn(ServiceError):
    """The request carries no token of an enrolled device."""


class WrongRole(ServiceError):
    """The act needs another role."""


class CodeRefused(ServiceError):
    """An enrolment code is unknown, used or expired; which of them is not said."""


class TooManyTries(ServiceError):
    """Too many wrong codes or tokens came from one address, or one came too often; `wait_s` says how long."""

    def __init__(self, wait_s: int, *, what: str = "code") -> None:
        super().__init__(
            f"too many wrong sign-in {what}s came from here; {wait_s} s to wait",
            field=what if what == "code" else "Authorization",
            remedy=f"try again in {wait_s} s, or ask a manager for a new sign-in link",
        )
        self.wait_s = wait_s


class TooManyCalls(ServiceError):
    """A device asks more often than any phone needs to; `wait_s` says how long to wait."""

    def __init__(self, wait_s: int) -> None:
        super().__init__(
            f"this device asks too often; {wait_s} s to wait",
            field="Authorization",
            remedy=f"try again in {wait_s} s; more than BAYLORE_MAX_CALLS in a minute are not answered",
        )
        self.wait_s = wait_s


class TooSlow(ServiceError):
    """A body did not arrive in the time it may take."""


class BadValue(ServiceError):
    """A value cannot be."""


class MalformedBody(ServiceError):
    """A body cannot be read at all."""


class GoneAway(ServiceError):
    """A client left before its request was whole; nobody hears the answer."""


class WrongContentType(ServiceError):
    """A body is of a kind that cannot be taken here."""


class TooLarge(ServiceError):
    """A body is larger than what is taken."""


class KeyReused(ServiceError):
    """An idempotency key was used before for a different request."""

    def __init__(self, key: str) -> None:
        super().__init__(
            f"the idempotency key {key[:80]!r} belongs to another request",
            field="Idempotency-Key",
            remedy="make a new key for each new request; repeat a request with the very same body",
        )


class StaleRevision(ServiceError):
    """A case was changed since it was read; `current` is its revision now."""

    def __init__(self, case_id: str, *, expected: int, current: int) -> None:
        super().__init__(
            f"case {case_id} is at revision {current}, not {expected}",
            field="If-Match",
            remedy="read the case again, then repeat the change",
        )
        self.current = current


class Behind(ServiceError):
    """A device has seen a change that the store does not have (yet)."""

    def __init__(self, *, seen: int, latest: int) -> None:
        super().__init__(
            f"this device has seen change {seen}, the store is at change {latest}",
            field="Baylore-Seen",
            remedy="ask again in a few seconds; if it stays, the store was set back: sign the device in anew",
        )


class PreconditionMissing(ServiceError):
    """A change does not say which revision it was made from."""


class AlreadyThere(ServiceError):
    """There is something with this id already."""


class InUse(ServiceError):
    """Something cannot be deleted because something else needs it."""

    def __init__(self, what: str, id: str, *, by: str) -> None:
        remedy = f"change or delete {by[:120]} first"
        super().__init__(f"{what} {id[:80]} is needed by {by[:120]}", remedy=remedy)


class Busy(ServiceError):
    """A long act is going on already, here or in another process."""


class SaidTwice(ServiceError):
    """Two lines of a file are about the same case."""


class JoinedElsewhere(ServiceError):
    """A record was joined into another case of the same visit; `into` is that case."""

    def __init__(self, case_id: str, into: str) -> None:
        super().__init__(
            f"case {case_id} was written twice and is joined into case {into}",
            remedy=f"do it on case {into}, or split this record off again first",
        )
        self.into = into


class AlreadyClosed(ServiceError):
    """A case is closed already, with other content."""


class NotClosed(ServiceError):
    """A case is still open where a closed one is needed."""


class NotSharing(ServiceError):
    """The shop takes no part in what shops share."""


class OutdatedClient(ServiceError):
    """A phone writes in a form this service no longer reads rightly."""

    def __init__(self, given: int, least: int) -> None:
        super().__init__(
            f"this client writes form {given}, this service reads form {least} and newer",
            remedy="update the client; what waits on it is kept and sent then",
        )


class LastManager(ServiceError):
    """A shop would be left without a manager."""


class ImportRefused(ServiceError):
    """A file was refused as a whole; `lines` says what is wrong where."""

    def __init__(self, lines: tuple[BadLine, ...]) -> None:
        super().__init__(
            f"{len(lines)} lines of the file cannot be taken, the first is line {lines[0].line}",
            field=f"line {lines[0].line}",
            remedy="mend these lines, or import with mode=report to take the others",
        )
        self.lines = lines


class DeliveryFailed(ServiceError):
    """A message was not taken where it was sent to."""


class Overloaded(ServiceError):
    """More is asked at once than can be answered soon; `wait_s` says when to ask again."""

    def __init__(self, waiting: int, *, wait_s: int) -> None:
        super().__init__(
            f"{waiting} questions wait for an answer already",
            remedy=f"ask again in {wait_s} s; the phone answers by itself meanwhile",
        )
        self.wait_s = wait_s


class NotReady(ServiceError):
    """This process cannot answer yet, or no more."""

    def __init__(self, message: str, *, remedy: str, wait_s: int = 2) -> None:
        super().__init__(message, remedy=remedy)
        self.wait_s = wait_s


class StoreTrouble(ServiceError):
    """The store cannot be used as it is; `wait_s` says after how long another try makes sense."""

    wait_s = 30
    says = "the store does not do its work"
    helps = "try again; if it stays, look at the disk and the database, and run baylore migrate"

    def __init__(self, reason: str, *, field: str = "", remedy: str = "") -> None:
        message = reason if remedy else f"{self.says}: {reason[:200]}"
        super().__init__(message, field=field, remedy=remedy or self.helps)


class StoreBusy(StoreTrouble):
    """Another writer holds the store for longer than anyone should wait."""

    wait_s = 2
    says = "the store is busy"
    helps = "try again in a moment; nothing was changed"


class StoreFull(StoreTrouble):
    """The disk takes no more of what the store writes."""

    says = "the disk of the store takes no more"
    helps = "make room on the disk of the store, or raise its quota; nothing was changed, reading goes on"


class StoreReadOnly(StoreTrouble):
    """The store can be read and not written."""

    says = "the store cannot be written"
    helps = "let the service's user write the data folder, or the database be the primary; reading goes on"


class StoreAway(StoreTrouble):
    """The database does not answer, or its file cannot be opened."""

    wait_s = 5
    says = "the database does not answer"
    helps = "start the database, or look whether the data folder is there; then try again"


class StoreDamaged(StoreTrouble):
    """What the store holds cannot be read."""

    wait_s = 300
    says = "the store is damaged"
    helps = "run baylore verify, then baylore restore with the last good backup"


class SettingRefused(ServiceError):
    """A setting of the environment cannot be."""
