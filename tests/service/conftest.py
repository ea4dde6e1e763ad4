"""Fixtures of the service tests: the desk alone, and the whole service before it."""

from tests.service.app_fixtures import client, floor, settings
from tests.service.house_fixtures import *  # noqa: F403  pytest finds fixtures by name

__all__ = ["client", "floor", "settings"]
