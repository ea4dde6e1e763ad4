"""Every figure of /metrics is documented with its kind and labels, and nothing else is."""

from __future__ import annotations

import re
from pathlib import Path

from prometheus_client.parser import text_string_to_metric_families

from baylore_service.desk.house import House
from baylore_service.routes.metrics import Meter
from baylore_service.settings import Settings

TABLE = Path(__file__).parents[2] / "service" / "OPERATION.md"
ROW = re.compile(r"^\| `((?:baylore|process)_\w+)` \| (\w+) \| ([\w, ]*?) ?\|", re.MULTILINE)
OF_EVERY_HISTOGRAM = {"le"}


def documented() -> dict[str, tuple[str, frozenset[str]]]:
    """Kind and labels by name, as the page says."""
    rows = ROW.findall(TABLE.read_text())
    return {name: (kind, frozenset(filter(None, labels.split(", ")))) for name, kind, labels in rows}


def told(house: House) -> dict[str, tuple[str, frozenset[str]]]:
    """Kind and labels by name, as the service says."""
    meter = Meter()
    meter.count("GET", "/health/live", status=200, seconds=0.01)
    meter.refuse("not-found")
    house.failed_rounds["tidy"] += 1
    families = text_string_to_metric_families(meter.text(house).decode())
    return {
        each.name + ("_total" if each.type == "counter" else ""): (each.type, labels_of(each.samples))
        for each in families
        if not each.name.endswith("_created")
    }


def labels_of(samples: list[object]) -> frozenset[str]:
    """The labels of a figure's samples."""
    return frozenset(name for sample in samples for name in sample.labels) - OF_EVERY_HISTOGRAM  # type: ignore[attr-defined]


def test_every_figure_stands_in_the_table_and_every_row_is_a_figure(tmp_path: Path) -> None:
    house = House.open(Settings(data=tmp_path))
    assert told(house) == documented()
    house.close()
