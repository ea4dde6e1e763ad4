"""The running service of the routes' tests, for the contract's tests too.

What is answered hangs on the routes, not on the kind of store: PostgreSQL is tried here only in a long run.
"""

from __future__ import annotations

import os

import pytest
from tests.service.app_fixtures import client, floor, settings
from tests.service.house_fixtures import (
    KINDS,
    emptied_postgresql,
    empty_sqlite,
    migrated_postgresql,
    postgresql,
    sqlite,
)

from baylore_service.settings import Settings

__all__ = [
    "client",
    "emptied_postgresql",
    "empty_sqlite",
    "floor",
    "migrated_postgresql",
    "postgresql",
    "settings",
    "sqlite",
    "stored",
]


@pytest.fixture(params=KINDS if os.environ.get("BAYLORE_FUZZ") else ("sqlite",))
def stored(request: pytest.FixtureRequest) -> Settings:
    """Settings of a fresh store, in a long run of each kind there is."""
    found: Settings = request.getfixturevalue(request.param)
    return found
