"""The desk over a fresh store, and the service over one."""

from tests.faults.running import starter  # noqa: F401
from tests.service.app_fixtures import *  # noqa: F403  pytest finds fixtures by name
from tests.service.house_fixtures import *  # noqa: F403  pytest finds fixtures by name
