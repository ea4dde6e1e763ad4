"""The month as one page of HTML for paper: no script, no outside file."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable, Sequence
from hashlib import sha256
from html import escape

from baylore_kb.office.gaps import MOST
from baylore_kb.recurrence import Recurrence
from baylore_service.desk.report import Report
from baylore_service.wire.say_patterns import STANDS, say_row
from baylore_service.wire.shown import figure, percent

STYLE = """
@page { size: A4; margin: 14mm }
body { font: 10pt/1.35 system-ui, sans-serif; color: #000; background: #fff }
body { margin: 1rem auto; max-width: 60rem }
h1 { font-size: 16pt; margin: 0 } h2 { font-size: 12pt; margin: 1.1em 0 .3em; border-bottom: 1px solid #000 }
table { border-collapse: collapse; width: 100% } th, td { text-align: left; padding: .15em .5em .15em 0 }
th { border-bottom: 1px solid #000; font-weight: 600 } td.n, th.n { text-align: right }
tr { break-inside: avoid } h2 { break-after: avoid } .soft { color: #444 } svg { display: block }
"""
# The one style the page may have, by its digest: nothing written into it can bring another.
STYLE_SOURCE = f"'sha256-{b64encode(sha256(STYLE.encode()).digest()).decode()}'"
Cells = Sequence[str]


def page(report: Report) -> bytes:
    """The page of a month."""
    title = f"{report.shop.name}, {report.month}"
    parts = [
        f"<h1>{escape(title)}</h1>",
        f'<p class="soft">Made {report.made:%Y-%m-%d %H:%M} UTC, {report.standing.cases} closed cases.</p>',
        *_alerts(report),
        *_standing(report),
        *_parts(report),
        *_cures(report),
        *_money(report),
        *_times(report),
        *_season(report),
        *_memory(report),
    ]
    head = f'<meta charset="utf-8"><title>{escape(title)}</title><style>{STYLE}</style>'
    return f'<!doctype html><html lang="en"><head>{head}</head><body>{"".join(parts)}</body></html>'.encode()


def _alerts(report: Report) -> Iterable[str]:
    yield "<h2>New this month</h2>"
    if not report.alerts:
        yield "<p>Nothing new stands out.</p>"
        return
    yield "<ul>"
    yield from (f"<li>{escape(one.alert.says)} ({one.state})</li>" for one in report.alerts)
    yield "</ul>"


def _standing(report: Report) -> Iterable[str]:
    yield "<h2>What keeps failing</h2>"
    rows = [row for row in report.standing.rows if row.signal != "none"]
    if not rows:
        yield "<p>Nothing fails more often than chance would have it.</p>"
    heads = ("Model and system", "#Seen", "#Expected", "#Times", "Span", "", "Since", "#Came back")
    yield table(heads, [_row(row) for row in rows])
    yield from (f"<p>{escape(say_row(row))}</p>" for row in rows[:3])
    yield from (f'<p class="soft">{escape(note)}</p>' for note in report.standing.notes)


def _row(row: Recurrence) -> Cells:
    low, ratio, high = row.low or 0.0, row.ratio or 0.0, row.high or 0.0
    return (
        escape(row.title),
        str(row.observed),
        figure(row.expected),
        figure(ratio),
        f"{figure(low)} to {figure(high)}, {STANDS[row.signal]}",
        interval(low, ratio, high),
        row.since.month if row.since else "",
        str(row.comebacks),
    )


def interval(low: float, middle: float, high: float, *, width: int = 120) -> str:
    """A bar from `low` to `high` on a scale of 0 to 6 times with a mark at 1; beyond it is cut."""
    x = [min(each, 6.0) / 6.0 * width for each in (low, middle, high, 1.0)]
    return (
        f'<svg width="{width}" height="12" viewBox="0 0 {width} 12" role="img" aria-label="{low:.1f} to '
        f'{high:.1f} times"><path d="M{x[3]:.1f} 0V12" stroke="#888" stroke-dasharray="2 2"/>'
        f'<path d="M{x[0]:.1f} 6H{x[2]:.1f}" stroke="#000" stroke-width="2"/>'
        f'<circle cx="{x[1]:.1f}" cy="6" r="3.5"/></svg>'
    )


def _parts(report: Report) -> Iterable[str]:
    yield "<h2>Parts by source</h2>"
    rows = [
        (
            escape(report.titles.get(part.component, part.component)),
            row.source,
            str(row.tried),
            str(row.cured),
            str(row.partly + row.no_change),
            str(row.failed_later),
            _share(row.success, row.low, row.high),
            figure(row.median_price),
            figure(row.expected_cost),
        )
        for part in report.parts
        for row in part.sources
    ]
    heads = ("Part", "Source", "#Tried", "#Cured", "#Not", "#Later", "Success", "#Price", "#To a working car")
    yield table(heads, rows)


def _cures(report: Report) -> Iterable[str]:
    yield "<h2>Cured at the first visit</h2>"
    held = report.office.cures
    rows = [
        (
            escape(row.title or row.name),
            str(row.closed),
            str(row.came_back),
            _share(row.cured, row.low, row.high),
        )
        for row in (*held.quarters[-6:], *held.systems[:8], *held.kinds[:6])
    ]
    yield table(("Quarter, system or kind", "#Closed", "#Came back", "Cured"), rows)


def _money(report: Report) -> Iterable[str]:
    currency = escape(report.shop.currency)
    yield f"<h2>Given away, {currency}</h2>"
    rows = [
        (escape(row.title), figure(row.minutes), str(row.parts), figure(row.given))
        for row in report.office.losses[:10]
    ]
    yield table(("Cause", "#Minutes not billed", "#Parts that did not cure", f"#{currency}"), rows)


def _times(report: Report) -> Iterable[str]:
    yield "<h2>Minutes of diagnosis</h2>"
    rows = [
        (escape(row.title), str(row.jobs), figure(row.middle), figure(row.most), figure(row.worst))
        for row in report.office.times[:12]
    ]
    yield table(("Kind of job", "#Jobs", "#Middle", "#Nine of ten under", "#Worst"), rows)


def _season(report: Report) -> Iterable[str]:
    held = report.season
    yield f"<h2>The season ahead, {held.starts:%Y-%m-%d} to {held.ends:%Y-%m-%d}</h2>"
    if not held.failures:
        yield "<p>Nothing failed more often in these months a year ago than in the rest of the year.</p>"
    yield from (f"<p>{escape(row.says)}</p>" for row in held.failures)
    rows = [
        (escape(row.title), str(row.keep), str(row.fitted), percent(row.short), figure(row.price))
        for row in held.stock
    ]
    yield table(("Part", "#Have ready", "#Fitted then", "#Chance to run out", "#Price"), rows)


def _memory(report: Report) -> Iterable[str]:
    held = report.office.gaps
    yield "<h2>The memory</h2>"
    if held.saved is not None:
        yield (
            f"<p>A diagnosis takes {held.saved.late:.0f} minutes where the first jobs took "
            f"{held.saved.early:.0f} ({held.saved.jobs} jobs compared).</p>"
        )
    more = " or more" if len(held.missing) >= MOST else ""
    yield f"<p>{len(held.missing)}{more} closed cases lack facts worth asking for.</p>"


def table(heads: Sequence[str], rows: Sequence[Cells]) -> str:
    """A table; heads that begin with # stand over numbers. Nothing for no rows."""
    if not rows:
        return ""
    kinds = [' class="n"' if head.startswith("#") else "" for head in heads]
    top = "".join(f"<th{k}>{head.removeprefix('#')}</th>" for k, head in zip(kinds, heads, strict=True))
    body = "".join(f"<tr>{_cells(row, kinds)}</tr>" for row in rows)
    return f"<table><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"


def _cells(row: Cells, kinds: Sequence[str]) -> str:
    return "".join(f"<td{kind}>{cell}</td>" for kind, cell in zip(kinds, row, strict=True))


def _share(share: float, low: float, high: float) -> str:
    return f"{percent(share)} ({percent(low)} to {percent(high)})"
