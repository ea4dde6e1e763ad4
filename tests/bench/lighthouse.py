"""How the client loads on a slow phone: `python -m tests.bench.lighthouse` (see README.md here).

The demo shop is loaded into a fresh folder and served; Lighthouse looks at the sign-in screen as a new phone
does (nothing kept), then at the places of a signed-in phone, each with its phone profile: a slow processor,
a slow line. Prints the scores and the times. Figures depend on the machine; look at several runs.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "pwa"))
from conftest import FLAGS, PHONE, chromium
from handset import Handset
from workshop import BAYLORE, free_port, wait_until_ready

SCORES = ("performance", "accessibility", "best-practices")
TIMES = {
    "first paint": "first-contentful-paint",
    "LCP": "largest-contentful-paint",
    "blocked": "total-blocking-time",
    "index": "speed-index",
}
PLACES = ("#/ask", "#/cases", "#/failing", "#/shop")


@contextmanager
def demo_shop(folder: Path) -> Iterator[tuple[str, str]]:
    """The served demo shop for as long as the block runs: its address, and the manager's sign-in link."""
    port = free_port()
    env = {**os.environ, "BAYLORE_DATA": str(folder), "BAYLORE_PORT": str(port), "PORT": str(port)}
    for words in (("migrate",), ("demo",)):
        subprocess.run([BAYLORE, *words], env=env, check=True, capture_output=True)
    links = subprocess.run([BAYLORE, "demo", "--links"], env=env, check=True, capture_output=True, text=True)
    code = re.findall(r"\(manager\): \S+(/#/join/\S+)", links.stdout)[0]
    address = f"http://127.0.0.1:{port}"
    with (folder / "serve.log").open("wb") as log:
        server = subprocess.Popen([BAYLORE, "serve"], env=env, stdout=log, stderr=log)
    try:
        wait_until_ready(address, server, folder / "serve.log")
        yield address, address + code
    finally:
        server.terminate()
        server.wait(timeout=20)


def looked_at(tool: list[str], address: str, port: int, *, keep: bool) -> dict[str, Any]:
    """Lighthouse's report of an address in the browser at that port; `keep` leaves what the page has kept."""
    words = [address, f"--port={port}", "--output=json", "--quiet", f"--only-categories={','.join(SCORES)}"]
    more = ["--disable-storage-reset"] if keep else []
    done = subprocess.run([*tool, *words, *more], check=True, capture_output=True, text=True, timeout=300)
    report: dict[str, Any] = json.loads(done.stdout)
    return report


def row(name: str, report: dict[str, Any]) -> str:
    """Scores and times of one look, and what was found wanting."""
    audits = report["audits"]
    scores = [f"{round(100 * (report['categories'][each]['score'] or 0)):>6}" for each in SCORES]
    times = [f"{audits[each]['numericValue']:>11.0f}" for each in TIMES.values()]
    lacks = [
        each["id"]
        for part in SCORES[1:]
        for each in report["categories"][part]["auditRefs"]
        if audits[each["id"]]["score"] == 0
    ]
    return f"{name:<12}{''.join(scores)}{''.join(times)}  {' '.join(lacks)}"


def sign_in(page: Page, link: str) -> None:
    """Join the shop and stay until the copy and the worker are there."""
    phone = Handset(page, link)
    phone.join(link)
    phone.wait_until_in_step()
    phone.wait_for_worker()
    expect(page.locator("nav.bottom")).to_be_visible()


def looks(tool: list[str], folder: Path, *, rounds: int, keep: Path | None) -> Iterator[str]:
    """A row for each look."""
    port = free_port()
    with demo_shop(folder / "shop") as (address, link), sync_playwright() as play:
        flags = [*FLAGS, f"--remote-debugging-port={port}"]
        browser = play.chromium.launch_persistent_context(
            folder / "phone", executable_path=chromium(), args=flags, viewport=PHONE, is_mobile=True
        )
        reports = [("new phone", f"{address}/#/join/", False)] * rounds
        yield from seen(tool, port, reports, keep)
        sign_in(browser.new_page(), link)
        reports = [(place, f"{address}/{place}", True) for place in PLACES] * rounds
        yield from seen(tool, port, reports, keep)
        browser.close()


def seen(tool: list[str], port: int, wanted: list[tuple[str, str, bool]], keep: Path | None) -> Iterator[str]:
    """The rows of these looks; the last whole report of each goes into the folder `keep`."""
    for name, address, stays in wanted:
        report = looked_at(tool, address, port, keep=stays)
        if keep:
            (keep / f"{re.sub(r'[^a-z]+', '-', name)}.json").write_text(json.dumps(report))
        yield row(name, report)


def main() -> None:
    """Look, and print what was seen."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--rounds", type=int, default=1)
    parser.add_argument("--reports", type=Path, help="a folder for the whole reports")
    parser.add_argument("--tool", default="npx --yes lighthouse@12", help="how Lighthouse is called")
    asked = parser.parse_args()
    if not chromium() or not shutil.which(asked.tool.split()[0]):
        sys.exit("Chromium and npx are needed here")
    os.environ.setdefault("CHROME_PATH", chromium() or "")
    heads = [f"{name[:5]:>6}" for name in SCORES] + [f"{name:>8} ms" for name in TIMES]
    print(f"{'':<12}{''.join(heads)}  found wanting")
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "shop").mkdir()
        for line in looks(asked.tool.split(), Path(folder), rounds=asked.rounds, keep=asked.reports):
            print(line, flush=True)


if __name__ == "__main__":
    main()
