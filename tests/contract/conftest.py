"""The running service of the routes' tests, for the contract's tests too."""

from __future__ import annotations

from tests.service.app_fixtures import client, floor, settings
from tests.service.house_fixtures import empty_postgresql, empty_sqlite, postgresql, sqlite, stored

__all__ = [
    "client",
    "empty_postgresql",
    "empty_sqlite",
    "floor",
    "postgresql",
    "settings",
    "sqlite",
    "stored",
]
