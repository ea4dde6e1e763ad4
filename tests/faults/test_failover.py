"""The primary dies under load: nothing acknowledged is lost, and the phones' outboxes drain."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.faults.failover import drill
from tests.postgres import NoPostgreSQL, programs


@pytest.mark.slow
def test_a_killed_primary_loses_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    try:
        programs()
    except NoPostgreSQL as missing:
        pytest.skip(str(missing))
    found = drill(tmp_path, phones=4, cases=8)
    assert found.acknowledged <= found.kept and len(found.acknowledged) == 32
    assert found.left == 0 and found.good
    assert found.log == list(range(1, len(found.log) + 1))
    assert found.refused <= {503}
