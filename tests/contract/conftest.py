"""The running service of the routes' tests, for the contract's tests too."""

from __future__ import annotations

from tests.service.app_fixtures import empty_store, floor, settings, spotter

__all__ = ["empty_store", "floor", "settings", "spotter"]
