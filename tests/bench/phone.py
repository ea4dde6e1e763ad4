"""The phone's own answer in a real browser: `python -m tests.bench.phone` (see README.md here).

A service with as many cases as asked for, made like the demo shop's, is started; a phone signs in, takes its
copy and goes without signal. Then it is asked, the processor slowed down as asked for. Prints the bytes of
the copy, how long its first reading takes, and the times of answering. Figures depend on the machine.
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, expect, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "pwa"))
from conftest import FLAGS, PHONE, chromium, missing
from handset import Handset
from workshop import open_workshop

from baylore_service.demo.generator import SEED, cases
from baylore_service.wire.decode import encode

AT_ONCE, QUESTIONS = 200, 60
COPY_LIMIT_MS = 900_000

COUNT = """
store => new Promise(tell => {
  const opened = indexedDB.open('baylore');
  opened.onsuccess = () => {
    const db = opened.result, count = db.transaction(store).objectStore(store).count();
    count.onsuccess = () => { db.close(); tell(count.result); };
  };
})
"""
BYTES = """
store => new Promise(tell => {
  const opened = indexedDB.open('baylore');
  opened.onsuccess = () => {
    const db = opened.result, all = db.transaction(store).objectStore(store).getAll();
    all.onsuccess = () => { db.close(); tell(new Blob([JSON.stringify(all.result)]).size); };
  };
})
"""
# The slow-down holds for the page's own thread alone, so the reckoning is done there.
WARM = """
async address => {
  window.postMessage = told => window.tell(told);
  await import(address);
  window.reckon = asking => new Promise(tell => {
    window.tell = tell;
    window.dispatchEvent(new MessageEvent('message', { data: { id: 1, asking } }));
  });
  const begun = performance.now();
  const { why } = await window.reckon();
  return { ms: performance.now() - begun, why };
}
"""
PACKETS = """
() => new Promise(tell => {
  const opened = indexedDB.open('baylore');
  opened.onsuccess = () => {
    const db = opened.result, all = db.transaction('texts').objectStore('texts').getAll();
    all.onsuccess = () => {
      db.close();
      tell(all.result.reduce((sum, { data }) => sum + data.byteLength, 0));
    };
  };
})
"""
ASK = """
async ([text, vehicle, tests]) => {
  const body = { complaint: text, vehicle, tests, limit: 10 };
  const begun = performance.now();
  const { advice, why } = await window.reckon({ body, asker: { skill: 4, rights: [] }, without: [] });
  return { ms: performance.now() - begun, why, causes: advice ? advice.causes.length : 0 };
}
"""


def main() -> None:
    """Print the figures for each slow-down asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=10_000)
    parser.add_argument("--slow", default="1,4", help="times the processor is slowed down")
    parser.add_argument("--json", type=Path)
    asked = parser.parse_args()
    if missing():
        raise SystemExit(missing())
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium(), args=FLAGS)
        found = measured(Path(folder), browser, asked.cases, [float(each) for each in asked.slow.split(",")])
        browser.close()
    for name, value in found.items():
        print(f"{name:40}{value}")
    if asked.json:
        asked.json.write_text(json.dumps(found, indent=1))


def measured(folder: Path, browser: Browser, count: int, slow: list[float]) -> dict[str, Any]:
    """Bytes and times by name."""
    found: dict[str, Any] = {}
    with open_workshop(folder) as shop:
        lines = list(case_lines(count))
        for at in range(0, len(lines), AT_ONCE):
            send(shop.api, lines[at : at + AT_ONCE])
        context = browser.new_context(viewport=PHONE, is_mobile=True, bypass_csp=True)
        phone = Handset(context.new_page(), shop.address)
        phone.join(shop.link_for("technician"), "Bench phone")
        page = phone.page
        wait_for(page, "cases", count)
        wait_for(page, "reasoning", 2)
        context.set_offline(True)
        worker = next(Path(__file__).parents[2].glob("pwa/dist/assets/reason-worker-*.js")).name
        found |= answers(page, f"/assets/{worker}", slow)
        for store in ("cases", "trade", "reasoning"):
            found[f"{store}, MB as JSON"] = round(page.evaluate(BYTES, store) / 1e6, 2)
        found["what was read of them, MB in packets"] = round(page.evaluate(PACKETS) / 1e6, 2)
        found["IndexedDB, MB by the browser"] = round(usage(page) / 1e6, 2)
    return found


def answers(page: Page, worker: str, slow: list[float]) -> dict[str, Any]:
    """Times of the first reading, of a start with everything read, and of answering."""
    found: dict[str, Any] = {}
    session = page.context.new_cdp_session(page)
    for times in slow:
        page.reload()
        expect(page.locator("header.strip h1")).to_be_visible()
        session.send("Emulation.setCPUThrottlingRate", {"rate": times})
        warm = page.evaluate(WARM, worker)
        assert not warm["why"], warm["why"]
        name = f"{times:g}x slower" if times > 1 else "as it is"
        kind = "start" if found else "first reading"
        found[f"{name}: {kind}, s"] = round(warm["ms"] / 1000, 2)
        told = [page.evaluate(ASK, question) for question in questions()]
        assert all(each["causes"] for each in told), told
        times_ms = sorted(each["ms"] for each in told[5:])
        found[f"{name}: answer p50, ms"] = round(statistics.median(times_ms), 1)
        found[f"{name}: answer p95, ms"] = round(times_ms[int(0.95 * len(times_ms))], 1)
        session.send("Emulation.setCPUThrottlingRate", {"rate": 1})
    return found


def questions() -> Iterator[tuple[str, dict[str, Any], list[dict[str, Any]]]]:
    """Complaints of cases no copy holds, every other one with two tests done."""
    for place, case in enumerate(cases(SEED + 1, QUESTIONS)):
        said = case.complaint
        car = {"year": said.vehicle.year, "make": said.vehicle.make, "model": said.vehicle.model}
        done = [{"test": each.test, "outcome": each.outcome} for each in said.tests[:2]]
        yield said.text, car, done if place % 2 else []


def case_lines(count: int) -> Iterator[dict[str, Any]]:
    """Lines of an import, as many as asked for, from the demo shop's generator."""
    for place, case in enumerate(cases(SEED, count)):
        plain = json.loads(encode(case))
        said = plain.pop("complaint")
        line = {"kind": "case", **plain, **said, "complaint": said["text"]}
        line = {name: value for name, value in line.items() if value is not None and name not in UNSENT}
        yield line | {"id": f"00000000-0000-4000-8000-{place:012d}", "returned_as": []}


UNSENT = ("text", "skill", "rights", "minutes_spent", "comeback_of")


def send(api: Any, lines: list[dict[str, Any]]) -> None:
    """Import some lines as the manager."""
    body = "\n".join(json.dumps(line) for line in lines)
    told = api.post(
        "/api/import", content=body, headers={"Content-Type": "application/x-ndjson"}, timeout=300
    )
    assert told.status_code == 200, told.text[:500]


def wait_for(page: Page, store: str, count: int) -> None:
    """Stay until a store of the phone holds so many."""
    deadline = time.monotonic() + COPY_LIMIT_MS / 1000
    while page.evaluate(COUNT, store) < count:
        if time.monotonic() > deadline:
            raise SystemExit(f"the phone's {store} did not come")
        page.wait_for_timeout(500)


def usage(page: Page) -> float:
    """What the browser counts for the site's IndexedDB."""
    told = page.evaluate("navigator.storage.estimate()")
    return float(told.get("usageDetails", {}).get("indexedDB", told["usage"]))


if __name__ == "__main__":
    main()
