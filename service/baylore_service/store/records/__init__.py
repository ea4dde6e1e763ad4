"""The plain values that go in and out of the store and the desk."""

from __future__ import annotations

from baylore_service.store.records.file import (
    CaseFile,
    FollowedUp,
    ObjectionStep,
    PartStep,
    Photo,
    PhotoBlob,
    ReadingStep,
    RepairStep,
    SkipStep,
    Stamp,
    Step,
    TestStep,
    Unresolved,
)
from baylore_service.store.records.given import CaseDraft, CaseFilter, Closing, New, OwnCause, Reopening
from baylore_service.store.records.log import Change, EntityKind, Kept, Op, Page, Receipt
from baylore_service.store.records.people import (
    Actor,
    Device,
    Enrolment,
    Member,
    RightRule,
    Role,
    Shop,
    UnitSystem,
)
from baylore_service.store.records.taken import Taken

__all__ = [
    "Actor",
    "CaseDraft",
    "CaseFile",
    "CaseFilter",
    "Change",
    "Closing",
    "Device",
    "Enrolment",
    "EntityKind",
    "FollowedUp",
    "Kept",
    "Member",
    "New",
    "ObjectionStep",
    "Op",
    "OwnCause",
    "Page",
    "PartStep",
    "Photo",
    "PhotoBlob",
    "ReadingStep",
    "Receipt",
    "Reopening",
    "RepairStep",
    "RightRule",
    "Role",
    "Shop",
    "SkipStep",
    "Stamp",
    "Taken",
    "Step",
    "TestStep",
    "UnitSystem",
    "Unresolved",
]
