"""The store goes back to a moment: what was there comes back, what came after is gone, and work goes on."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.faults.point_in_time import drill
from tests.postgres import NoPostgreSQL, programs


@pytest.mark.slow
def test_a_store_gone_back_holds_what_was_there_at_the_moment_and_nothing_after(tmp_path: Path) -> None:
    try:
        programs()
    except NoPostgreSQL as missing:
        pytest.skip(str(missing))
    found = drill(tmp_path, cases=4)
    assert len(found.at_the_moment) == 8 and found.back == found.at_the_moment
    assert found.at_the_end != found.at_the_moment and len(found.at_the_end) == 11
    assert found.verdict.good, found.verdict
    assert found.read_anew
