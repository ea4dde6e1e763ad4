"""What the office reads, as it travels."""

from __future__ import annotations

from datetime import datetime

from msgspec import convert

from baylore_kb import office as kb
from baylore_kb.score import Score
from baylore_service.desk.office import Office
from baylore_service.wire import fields as f


class WatchRow(f.Outgoing, frozen=True):
    """A part found at fault `found` times of `jobs` in its system on a model; `not_it` the others' share."""

    component: str
    title: str
    system: str
    found: int
    jobs: int
    not_it: float
    says: str


class WatchList(f.Outgoing, frozen=True):
    """The three parts most often found at fault on a model here."""

    model: str
    watch: tuple[WatchRow, ...]


class CureRow(f.Outgoing, frozen=True):
    """Of `closed` settled cases, `came_back`; the share cured at the first visit with 95 % limits."""

    name: str
    title: str
    closed: int
    came_back: int
    cured: float
    low: float
    high: float


class Cures(f.Outgoing, frozen=True):
    """First-visit cures by quarter, system and kind of cause; no member is named."""

    quarters: tuple[CureRow, ...]
    systems: tuple[CureRow, ...]
    kinds: tuple[CureRow, ...]


class LossRow(f.Outgoing, frozen=True):
    """Minutes not billed and parts that did not cure, by cause, and what both are worth."""

    cause: str
    title: str
    cases: int
    minutes: float
    parts: int
    parts_money: float
    given: float


class TimeRow(f.Outgoing, frozen=True):
    """Diagnosis minutes of a system: middle, what nine of ten stay under, and the worst."""

    system: str
    title: str
    jobs: int
    middle: float
    most: float
    worst: float
    says: str


class SavedMinutes(f.Outgoing, frozen=True):
    """Diagnosis minutes a job against the shop's own early jobs."""

    minutes: float
    early: float
    late: float
    jobs: int


class SystemGap(f.Outgoing, frozen=True):
    """A system with many complaints and few confirmed causes."""

    system: str
    title: str
    complaints: int
    closed: int


class MissingFacts(f.Outgoing, frozen=True):
    """A closed case that lacks facts; `asked` where its author, if known, is asked for some already."""

    case: str
    title: str
    lacks: tuple[str, ...]
    author: str | None
    asked: bool


class MemoryGaps(f.Outgoing, frozen=True):
    """Minutes saved, and where the memory has gaps."""

    saved: SavedMinutes | None
    systems: tuple[SystemGap, ...]
    unrecorded: tuple[str, ...]
    missing: tuple[MissingFacts, ...]


class Overview(f.Outgoing, frozen=True):
    """Cures, money and minutes, and the gaps of the memory."""

    currency: str
    cures: Cures
    losses: tuple[LossRow, ...]
    times: tuple[TimeRow, ...]
    gaps: MemoryGaps


class ShelfRow(f.Outgoing, frozen=True):
    """How many of a part to keep, from demand over the time an order takes."""

    component: str
    title: str
    fitted: int
    expected: float
    price: float
    keep: int
    short: float
    seasonal: bool
    says: str


class ShelfAdvice(f.Outgoing, frozen=True):
    """Parts worth keeping, and the costs they were reckoned with."""

    currency: str
    rush: float
    holding: float
    lead_days: float
    rows: tuple[ShelfRow, ...]


class StockRow(f.Outgoing, frozen=True):
    """How many of a part to keep for the season; `price` is the middle one, null where it is not known."""

    component: str
    title: str
    fitted: int
    expected: float
    keep: int
    short: float
    price: float | None


class SeasonalRow(f.Outgoing, frozen=True):
    """A failure of the season ahead: `last` cases in it last year, of `year` in that whole year."""

    cause: str
    title: str
    last: int
    year: int
    parts: tuple[str, ...]
    says: str


class Season(f.Outgoing, frozen=True):
    """The season ahead as it was a year before, and what to have ready for it."""

    currency: str
    starts: datetime
    ends: datetime
    lead_days: float
    failures: tuple[SeasonalRow, ...]
    stock: tuple[StockRow, ...]


class ChanceBin(f.Outgoing, frozen=True):
    """Of `count` answers given a chance of `said` on average, the share that was right."""

    count: int
    said: float
    right: float


class Memory(f.Outgoing, frozen=True):
    """How often the memory is right, on closed cases each asked without itself.

    `first`, `third`, `tenth` are the shares whose true cause is the first, among three, among ten.
    """

    asked: int
    first: float | None
    third: float | None
    tenth: float | None
    calibration_error: float
    bins: tuple[ChanceBin, ...]


def watch_list(model: str, found: tuple[kb.Watch, ...]) -> WatchList:
    """What is kept finding on a model."""
    return WatchList(model, convert(found, tuple[WatchRow, ...], from_attributes=True))


def overview(found: Office, *, currency: str) -> Overview:
    """What the office reads."""
    return Overview(
        currency,
        convert(found.cures, Cures, from_attributes=True),
        convert(found.losses, tuple[LossRow, ...], from_attributes=True),
        convert(found.times, tuple[TimeRow, ...], from_attributes=True),
        _gaps(found),
    )


def _gaps(found: Office) -> MemoryGaps:
    held = found.gaps
    return MemoryGaps(
        convert(held.saved, SavedMinutes | None, from_attributes=True),
        convert(held.systems, tuple[SystemGap, ...], from_attributes=True),
        held.unrecorded,
        tuple(
            MissingFacts(
                each.case, each.title, each.lacks, found.authors.get(each.case), each.case in found.asked
            )
            for each in held.missing
        ),
    )


def shelf_advice(found: tuple[kb.Shelf, ...], costs: kb.Costs, *, currency: str) -> ShelfAdvice:
    """Parts to keep."""
    rows = convert(found, tuple[ShelfRow, ...], from_attributes=True)
    return ShelfAdvice(currency, costs.rush, costs.holding, costs.lead_days, rows)


def season(found: kb.Season, *, currency: str, lead_days: float) -> Season:
    """The season ahead."""
    return Season(
        currency,
        found.starts,
        found.ends,
        lead_days,
        convert(found.failures, tuple[SeasonalRow, ...], from_attributes=True),
        convert(found.stock, tuple[StockRow, ...], from_attributes=True),
    )


def memory(found: Score) -> Memory:
    """How often the memory is right."""
    hits = found.cause_hits
    bins = tuple(
        ChanceBin(each.count, each.mean_forecast, each.share_true) for each in found.calibration.bins
    )
    return Memory(found.asked, hits[1], hits[3], hits[10], found.calibration.ece, bins)
