"""The desk over a fresh store whose schema may be changed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.postgres import database
from tests.service.house_fixtures import *  # noqa: F403  pytest finds fixtures by name
from tests.service.house_fixtures import POSTGRESQL

from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade


@pytest.fixture
def postgresql(tmp_path: Path) -> Iterator[Settings]:
    """Settings of a database of the test's own."""
    with database(POSTGRESQL) as address:
        settings = Settings(database_url=address, data=tmp_path)
        upgrade(settings.store_url)
        yield settings
