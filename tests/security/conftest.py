"""The whole service over a fresh store."""

from tests.service.app_fixtures import client, empty_store, floor, settings

__all__ = ["client", "empty_store", "floor", "settings"]
