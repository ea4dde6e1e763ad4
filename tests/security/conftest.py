"""The whole service over a fresh store, and the desk alone."""

from tests.service.app_fixtures import client, empty_store, floor, settings
from tests.service.house_fixtures import *  # noqa: F403  pytest finds fixtures by name

__all__ = ["client", "empty_store", "floor", "settings"]
