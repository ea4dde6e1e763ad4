"""The running service of the routes' tests, for the contract's tests too."""

from __future__ import annotations

from tests.service.app_fixtures import client, floor, settings
from tests.service.house_fixtures import (
    emptied_postgresql,
    empty_sqlite,
    migrated_postgresql,
    postgresql,
    sqlite,
    stored,
)

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
