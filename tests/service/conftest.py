"""Fixtures of the service tests: the desk alone, and the whole service before it."""

from tests.service.app_fixtures import client, empty_store, floor, settings
from tests.service.house_fixtures import *  # noqa: F403  pytest finds fixtures by name

__all__ = ["client", "empty_store", "floor", "settings"]
