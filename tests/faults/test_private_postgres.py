"""The tests' own PostgreSQL: killed it keeps what was committed, and it leaves nothing behind."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.postgres import Cluster, NoPostgreSQL, cluster, programs


@pytest.fixture
def running() -> Iterator[Cluster]:
    """A cluster of the test's own."""
    try:
        programs()
    except NoPostgreSQL as missing:
        pytest.skip(str(missing))
    with cluster() as made:
        yield made


def test_a_killed_server_comes_back_with_what_was_committed(running: Cluster) -> None:
    running.sql("CREATE TABLE kept AS SELECT 7 AS seven")
    running.kill()
    assert not running.running
    running.start()
    assert running.sql("SELECT seven FROM kept") == [(7,)]


def test_a_cluster_leaves_neither_a_process_nor_its_folder() -> None:
    try:
        with cluster() as made:
            process, folder = made.process, made.folder
    except NoPostgreSQL as missing:
        pytest.skip(str(missing))
    assert process is not None and process.returncode is not None
    assert not Path(folder).exists()
