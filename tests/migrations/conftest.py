"""The desk over a fresh store."""

from tests.service.house_fixtures import *  # noqa: F403  pytest finds fixtures by name
