"""What keeps failing shows the same figures wherever it is read: asked, in files, on the screen, in print."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from html.parser import HTMLParser
from typing import Any

import pytest
from handset import Handset
from playwright.sync_api import Browser, Page, expect
from workshop import Workshop, open_demo

Row = dict[str, Any]
Cells = list[str]
DESK: Any = {"width": 1280, "height": 800}
MARKS = {"strong": "Stands out strongly", "signal": "Stands out", "none": "As expected"}


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workshop]:
    """The demo shop, served."""
    with open_demo(tmp_path_factory.mktemp("demo")) as opened:
        yield opened


@pytest.fixture(scope="module")
def printed(demo: Workshop) -> dict[str, list[Cells]]:
    """The tables of the month's page by the heading they stand under."""
    page = Printed()
    page.feed(demo.api.get("/api/report").text)
    return page.tables


@pytest.fixture(scope="module")
def screen(demo: Workshop, browser: Browser) -> Iterator[Page]:
    """A manager's wide screen at what keeps failing, its tables unfolded by the address."""
    context = browser.new_context(viewport=DESK, locale="en-US")
    phone = Handset(context.new_page(), demo.address)
    phone.join(demo.link_for("manager"))
    phone.go("#/failing?open=rows,parts,cures,givenAway,diagnosisMinutes,shelf")
    expect(phone.page.get_by_role("region", name="Figures: diagnosis-minutes")).to_be_visible()
    yield phone.page
    context.close()


class Printed(HTMLParser):
    """Reads the cells of each table of the page."""

    def __init__(self) -> None:
        super().__init__()
        self.tables: dict[str, list[Cells]] = {}
        self._heading, self._tag = "", ""

    def handle_starttag(self, tag: str, attrs: object) -> None:
        """Begin a heading, a row or a cell."""
        self._tag = tag
        if tag == "h2":
            self._heading = ""
        if tag == "tr":
            self.tables.setdefault(self._heading, []).append([])
        if tag == "td":
            self.tables[self._heading][-1].append("")

    def handle_endtag(self, tag: str) -> None:
        """End it."""
        self._tag = ""

    def handle_data(self, data: str) -> None:
        """Words of a heading or a cell."""
        if self._tag == "h2":
            self._heading += data
        if self._tag == "td":
            self.tables[self._heading][-1][-1] += data

    def error(self, message: str) -> None:
        """Nothing of it is expected to be unreadable."""
        raise AssertionError(message)


def as_shown(value: float | None) -> str:
    """A figure with the places it is shown with."""
    if value is None:
        return ""
    places = next(places for least, places in ((1000, 0), (100, 1), (1, 2), (0, 3)) if abs(value) >= least)
    rounded = Decimal(str(value)).quantize(Decimal(10) ** -places, ROUND_HALF_UP)
    return f"{rounded.normalize():,f}"


def as_share(value: float) -> str:
    """A share as a whole percentage."""
    return f"{round(100 * value)} %"


def as_span(middle: float, low: float, high: float) -> str:
    """A share with its limits."""
    return f"{as_share(middle)} ({as_share(low)} to {as_share(high)})"


def asked(demo: Workshop, path: str) -> Any:
    """What the service answers."""
    answer = demo.api.get(f"/api{path}")
    answer.raise_for_status()
    return answer.json()


def files_of(demo: Workshop, path: str) -> tuple[list[Row], list[Row]]:
    """The rows of a table as the spreadsheet has them, and as objects a line."""
    sep = "&" if "?" in path else "?"
    plain = demo.api.get(f"/api{path}").text
    lines = demo.api.get(f"/api{path}{sep}form=jsonl").text
    return list(csv.DictReader(plain.splitlines())), [json.loads(each) for each in lines.splitlines()]


def check_files(demo: Workshop, path: str, rows: list[Row]) -> None:
    """Every figure of the answer's rows stands in both files, in the same order, unrounded."""
    plain, lines = files_of(demo, path)
    assert len(rows) == len(plain) == len(lines) > 3
    for row, cells, line in zip(rows, plain, lines, strict=True):
        for name, value in row.items():
            assert line[name] == value, name
            assert cells[name] == ("" if value is None else str(value)), name


def cells_of(screen: Page, name: str) -> list[Cells]:
    """The cells of a table on the screen."""
    rows = screen.get_by_role("region", name=f"Figures: {name}", exact=True).locator("tbody tr")
    expect(rows.first).to_be_visible()
    found: list[Cells] = rows.evaluate_all("rows => rows.map(row => [...row.cells].map(c => c.innerText))")
    return found


def flat(row: Row) -> Row:
    """The figures of a row under the names of the file's columns."""
    since, trend, cured = row["since"] or {}, row["trend"] or {}, row["first_cured"] or {}
    low, middle, high = row["odometer_km"] or (None, None, None)
    kept = ("title", "observed", "expected", "p", "q", "signal", "comebacks", "total_cost")
    medians = ("median_minutes", "median_diagnosis", "median_cost")
    return {
        **row["key"],
        **{name: row[name] for name in (*kept, *medians)},
        **{"ratio": row["ratio"], "ratio_low": row["low"], "ratio_high": row["high"]},
        **{"odometer_km_low": low, "odometer_km_middle": middle, "odometer_km_high": high},
        **{"since": since.get("month"), "since_times": since.get("times")},
        **{"rise_per_month": trend.get("per_period"), "rise_p": trend.get("p")},
        **{"first_cured": cured.get("count"), "first_judged": cured.get("of")},
        **{"first_cured_low": cured.get("low"), "first_cured_high": cured.get("high")},
    }


def test_recurrences(demo: Workshop, screen: Page, printed: dict[str, list[Cells]]) -> None:
    rows = asked(demo, "/recurrences?by=model,system")["rows"]
    check_files(demo, "/recurrences/table?by=model,system", [flat(row) for row in rows])
    assert cells_of(screen, "rows") == [
        [
            row["title"],
            *[as_shown(row[name]) for name in ("observed", "expected", "ratio", "low", "high", "q")],
            MARKS[row["signal"]],
            (row["since"] or {}).get("month", ""),
            *[as_shown(row[name]) for name in ("comebacks", "median_minutes", "median_cost")],
        ]
        for row in rows[:100]
    ]
    loud = [row for row in rows[:15] if row["signal"] != "none"]
    assert [[*cells[:4], *cells[6:]] for cells in printed["What keeps failing"][1:]] == [
        [
            row["title"],
            *[as_shown(row[name]) for name in ("observed", "expected", "ratio")],
            (row["since"] or {}).get("month", ""),
            str(row["comebacks"]),
        ]
        for row in loud
    ]
    spans = [cells[4] for cells in printed["What keeps failing"][1:]]
    for row, span in zip(loud, spans, strict=True):
        assert span == f"{as_shown(row['low'])} to {as_shown(row['high'])}, {MARKS[row['signal']].lower()}"


def test_parts(demo: Workshop, screen: Page, printed: dict[str, list[Cells]]) -> None:
    components = asked(demo, "/parts")["components"]
    rows = [
        {"title": part["title"], **row, "component": part["component"]}
        for part in components
        for row in part["sources"]
    ]
    check_files(
        demo, "/parts/table", [{k: v for k, v in row.items() if k not in ("prices",)} for row in rows]
    )
    counts = ("tried", "cured", "partly", "no_change", "failed_later")
    shown = (*counts, "success", "low", "high", "median_price", "expected_cost")
    found = cells_of(screen, "parts")
    assert [[cells[0], *cells[2:]] for cells in found] == [
        [row["title"], *[as_shown(row[name]) for name in shown]] for row in rows
    ]
    first = [row for row in rows if row["component"] in {part["component"] for part in components[:15]}]
    assert printed["Parts by source"][1:] == [
        [
            row["title"],
            row["source"],
            str(row["tried"]),
            str(row["cured"]),
            str(row["partly"] + row["no_change"]),
            str(row["failed_later"]),
            as_span(row["success"], row["low"], row["high"]),
            as_shown(row["median_price"]),
            as_shown(row["expected_cost"]),
        ]
        for row in first
    ]


def test_comebacks(demo: Workshop, screen: Page, printed: dict[str, list[Cells]]) -> None:
    cures = asked(demo, "/office")["cures"]
    rows = [
        {"by": by, **row}
        for by, of in (("quarter", "quarters"), ("system", "systems"), ("kind", "kinds"))
        for row in cures[of]
    ]
    check_files(demo, "/office/table?of=cures", rows)
    shown = ("closed", "came_back", "cured", "low", "high")
    assert cells_of(screen, "cures") == [
        [row["title"] or row["name"], *[as_shown(row[name]) for name in shown]] for row in rows
    ]
    few = [*cures["quarters"][-6:], *cures["systems"][:8], *cures["kinds"][:6]]
    assert printed["Cured at the first visit"][1:] == [
        [
            row["title"] or row["name"],
            str(row["closed"]),
            str(row["came_back"]),
            as_span(row["cured"], row["low"], row["high"]),
        ]
        for row in few
    ]


def test_money_and_minutes(demo: Workshop, screen: Page, printed: dict[str, list[Cells]]) -> None:
    held = asked(demo, "/office")
    check_files(demo, "/office/table?of=given-away", held["losses"])
    check_files(demo, "/office/table?of=diagnosis-minutes", held["times"])
    losses = [
        [row["title"], *[as_shown(row[name]) for name in ("cases", "minutes", "parts", "given")]]
        for row in held["losses"]
    ]
    assert cells_of(screen, "given-away") == losses
    given = [[title, *rest] for title, _cases, *rest in losses[:10]]
    assert printed[f"Given away, {held['currency']}"][1:] == given
    times = [
        [row["title"], *[as_shown(row[name]) for name in ("jobs", "middle", "most", "worst")]]
        for row in held["times"]
    ]
    assert cells_of(screen, "diagnosis-minutes") == times
    assert printed["Minutes of diagnosis"][1:] == times[:12]


def test_the_shelf(demo: Workshop, screen: Page) -> None:
    shown = ("keep", "fitted", "short", "price")
    rows = asked(demo, "/shelf")["rows"]
    assert cells_of(screen, "shelf") == [
        [row["title"], *[as_shown(row[name]) for name in shown], "yes" if row["seasonal"] else ""]
        for row in rows
    ]
