"""The alarms are what Prometheus takes, go off when they should, and rest on figures there are."""

from __future__ import annotations

import re
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import httpx
import pytest
import yaml
from tests.docs.test_metrics_documented import documented
from tests.postgres import free_port
from tests.serving import Served, served

from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade

WATCH = Path(__file__).parents[2] / "deploy" / "watch"
CASES = Path(__file__).with_name("alarms_tests.yaml")
ALARMS = [
    rule for group in yaml.safe_load((WATCH / "alarms.yaml").read_text())["groups"] for rule in group["rules"]
]
HERE = shutil.which("promtool") and shutil.which("prometheus")
prometheus = pytest.mark.skipif(not HERE, reason="no prometheus and promtool on this machine")
LIMIT_S = 60.0


def test_each_alarm_rests_on_documented_figures_and_says_what_to_look_at() -> None:
    known = {*documented(), "up"}
    for rule in ALARMS:
        assert set(re.findall(r"\b(?:baylore|process)_\w+|\bup\b", rule["expr"])) <= known, rule["alert"]
        assert rule["annotations"]["look"]


def test_each_alarm_is_tried() -> None:
    assert [rule["alert"] for rule in ALARMS if rule["alert"] not in CASES.read_text()] == []


@prometheus
def test_alarms_go_off_when_they_should_and_not_before(tmp_path: Path) -> None:
    shutil.copy(WATCH / "alarms.yaml", tmp_path)
    shutil.copy(CASES, tmp_path)
    for command in (["check", "config", WATCH / "prometheus.yaml"], ["test", "rules", tmp_path / CASES.name]):
        done = subprocess.run(["promtool", *command], capture_output=True, text=True, timeout=60)
        assert done.returncode == 0, done.stdout + done.stderr


@contextmanager
def watching(service: Served, folder: Path) -> Iterator[httpx.Client]:
    """A Prometheus of the shipped settings that reads this service, every second."""
    given = yaml.safe_load((WATCH / "prometheus.yaml").read_text())
    given["global"] = {"scrape_interval": "1s", "evaluation_interval": "1s"}
    given["scrape_configs"][0]["static_configs"] = [{"targets": [service.address.removeprefix("http://")]}]
    (folder / "prometheus.yaml").write_text(yaml.safe_dump(given))
    shutil.copy(WATCH / "alarms.yaml", folder)
    address = f"127.0.0.1:{free_port()}"
    command = ["prometheus", f"--config.file={folder}/prometheus.yaml", f"--web.listen-address={address}"]
    with (folder / "prometheus.log").open("wb") as said:
        process = subprocess.Popen(
            [*command, f"--storage.tsdb.path={folder}/series"], stdout=said, stderr=said
        )
    try:
        with httpx.Client(base_url=f"http://{address}/api/v1", timeout=10) as client:
            yield client
    finally:
        process.terminate()
        process.wait(20)


def asked(client: httpx.Client, path: str, **given: str) -> Any:
    """What Prometheus answers, None while it does not."""
    with suppress(httpx.TransportError):
        answer = client.get(path, params=given)
        return answer.json()["data"] if answer.is_success else None
    return None


@prometheus
def test_a_prometheus_reads_every_documented_figure_of_a_running_service(tmp_path: Path) -> None:
    settings = Settings(data=tmp_path / "data")
    upgrade(settings.store_url)
    with served(settings, tmp_path) as service, watching(service, tmp_path) as client:
        service.wait_ready()
        until, up = time.monotonic() + LIMIT_S, {"result": []}
        while time.monotonic() < until and not up["result"]:
            time.sleep(0.5)
            up = asked(client, "/query", query='up{job="baylore"} == 1') or up
        time.sleep(2.5)
        names = set(asked(client, "/label/__name__/values"))
        alarms = asked(client, "/rules")["groups"][0]["rules"]
    plain = {f"{name}_bucket" if kind == "histogram" else name for name, (kind, _) in documented().items()}
    assert plain - names == set()
    assert {rule["name"]: (rule["health"], rule["state"]) for rule in alarms} == {
        rule["alert"]: ("ok", "inactive") for rule in ALARMS
    }
