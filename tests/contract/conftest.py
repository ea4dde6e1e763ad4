"""The running service of the routes' tests, for the contract's tests too."""

from __future__ import annotations

from tests.service.app_fixtures import client, empty_store, floor, settings

__all__ = ["client", "empty_store", "floor", "settings"]
