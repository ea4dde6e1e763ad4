"""Demo jobs as the shop's case files."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from uuid import NAMESPACE_URL, uuid5

from baylore_kb.values import Case
from baylore_service.demo.job import Job
from baylore_service.store.records import CaseFile, PartStep, ReadingStep, Stamp, TestStep, Unresolved

# 52 weeks: weekdays and seasons stay what they were.
YEAR = timedelta(weeks=52)
REASONS: dict[str, Unresolved] = {
    "no fault found": "no fault found",
    "declined": "declined",
    "referred": "referred",
}


def filed(jobs: Sequence[Job], now: datetime) -> Iterator[CaseFile]:
    """Each job as a file, moved by whole years so that the newest lies in the year before `now`."""
    newest = max((_last(job.case) for job in jobs), default=now)
    ahead = YEAR * ((now - newest) // YEAR)
    return (_file(job, ahead) for job in jobs)


def _last(case: Case) -> datetime:
    moments = [moment for moment in (case.opened, case.closed) if moment]
    return max(moments)


def _file(job: Job, ahead: timedelta) -> CaseFile:
    case, complaint = job.case, job.case.complaint
    opened = _moment(case.opened, ahead)
    closed = _moment(case.closed, ahead) if case.closed else None
    file = CaseFile(
        id=case.id,
        revision=0,
        state=case.state,
        title=case.title,
        opened=opened,
        closed=closed,
        updated=closed or opened,
        complaint_text=complaint.text,
        vehicle=complaint.vehicle,
        symptoms=complaint.symptoms,
        codes=complaint.codes,
        comes_and_goes=complaint.comes_and_goes,
        unresolved_reason=REASONS[case.unresolved_reason] if case.unresolved_reason else None,
        note=case.note,
        labour=case.labour,
        cost=case.cost,
        comeback_of=case.comeback_of,
        returned_as=case.returned_as,
        by=job.by,
    )
    return _with_steps(_with_cause(file, case), job, opened)


def _with_cause(file: CaseFile, case: Case) -> CaseFile:
    return replace(
        file,
        cause=case.cause,
        cause_title=case.cause_title,
        cause_system=case.cause_system,
        correction=case.correction,
        confirmed_by=case.confirmed_by,
        verification=case.verification,
        verified=case.verified,
    )


def _with_steps(file: CaseFile, job: Job, opened: datetime) -> CaseFile:
    complaint = job.case.complaint
    tests = zip(
        _stamps(job, "test", opened, (test.minutes or 0 for test in complaint.tests)),
        complaint.tests,
        strict=True,
    )
    found = zip(
        _stamps(job, "reading", opened, (5 for _ in complaint.readings)), complaint.readings, strict=True
    )
    parts = zip(
        _stamps(job, "part", file.closed or opened, (0 for _ in complaint.parts)),
        complaint.parts,
        strict=True,
    )
    return replace(
        file,
        tests=tuple(TestStep(stamp, test) for stamp, test in tests),
        readings=tuple(ReadingStep(stamp, reading) for stamp, reading in found),
        parts=tuple(PartStep(stamp, part) for stamp, part in parts),
    )


def _stamps(job: Job, kind: str, start: datetime, minutes: Iterable[float]) -> Iterator[Stamp]:
    at = start
    for place, took in enumerate(minutes):
        at += timedelta(minutes=took)
        yield Stamp(str(uuid5(NAMESPACE_URL, f"baylore:{job.case.id}:{kind}:{place}")), at, job.by)


def _moment(moment: datetime | None, ahead: timedelta) -> datetime:
    if moment is None:
        raise ValueError("a demo case without the day it was opened")
    return moment + ahead
