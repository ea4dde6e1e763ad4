"""Parts fitted on the way: where they came from, what they cost and whether they cured."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from random import Random

from baylore_kb.trade.model import Cause
from baylore_kb.values import PartResult, PartTried, SourceKind
from baylore_service.demo.planted import Planted

WEIGHTS: Mapping[SourceKind, float] = {
    "maker": 0.3,
    "aftermarket": 0.5,
    "rebuilt": 0.06,
    "used": 0.07,
    "own stock": 0.07,
}
PRICE: Mapping[SourceKind, float] = {
    "maker": 2.4,
    "aftermarket": 1.0,
    "rebuilt": 1.3,
    "used": 0.5,
    "own stock": 0.8,
}
CURES: Mapping[SourceKind, float] = {
    "maker": 0.975,
    "aftermarket": 0.87,
    "rebuilt": 0.88,
    "used": 0.82,
    "own stock": 0.94,
}
ELECTRONIC_COPY = 0.76
ELECTRONIC = ("sensor", "module", "coil", "ckp", "cmp", "maf", "map", "o2_", "nox", "actuator", "tpms")
REBUILT = ("starter", "alternator", "caliper", "rack", "turbo", "pump", "compressor", "gearbox", "valve_body")
FAILURES: tuple[PartResult, ...] = ("no change", "partly", "failed later", "failed later")
NOTES: Mapping[PartResult, tuple[str, ...]] = {
    "no change": ("same fault with it", "made no difference", "n/c, sent back", "fault still there"),
    "partly": ("better but not gone", "lamp out but symptom stays", "half cured", "works cold only"),
    "failed later": ("lasted some weeks", "gave up again", "came back with it", "dead after a month"),
    "cured": ("", "", "", "good", "fits well", "with new seal"),
}
NEEDS_PART = (
    "replace",
    "rebuild",
    "new",
    "fit",
    "battery",
    "filter,",
    "splice",
    "refit or replace",
    "overhaul",
)


def needs_part(cause: Cause) -> bool:
    """Whether its usual correction fits something."""
    return cause.fix.lower().startswith(NEEDS_PART)


def source(component: str, chance: Random) -> SourceKind:
    """Where this one was bought."""
    picked: SourceKind = chance.choices(list(WEIGHTS), weights=list(WEIGHTS.values()))[0]
    if picked == "rebuilt" and not any(word in component for word in REBUILT):
        return "aftermarket"
    return picked


def cures(component: str, kind: SourceKind, *, copies: float | None = None) -> float:
    """The chance that a part of that kind does it; `copies` where it is known of aftermarket ones."""
    if kind != "aftermarket":
        return CURES[kind]
    if copies is not None:
        return copies
    return ELECTRONIC_COPY if any(word in component for word in ELECTRONIC) else CURES[kind]


def price(usual: float, kind: SourceKind, chance: Random) -> float:
    """What it cost, in whole money, halves or tenths as price lists have it."""
    raw = usual * PRICE[kind] * chance.lognormvariate(0.0, 0.16)
    return round(raw) + chance.choice((0.0, 0.0, 0.5, 0.9)) if raw > 3 else round(raw, 1)


def fitted(cause: Cause, chance: Random, *, planted: Planted | None = None) -> Iterator[PartTried]:
    """The parts fitted for the cause, the last of them the one that cured or failed only later."""
    usual = cause.part_price or 20.0
    for attempt in range(3):
        kind: SourceKind = "maker" if attempt else source(cause.component, chance)
        result = _result(cause.component, kind, planted, chance)
        yield _part(
            cause.component, kind, price(usual, kind, chance), result, note=chance.choice(NOTES[result])
        )
        if result in ("cured", "failed later"):
            return


def _result(component: str, kind: SourceKind, planted: Planted | None, chance: Random) -> PartResult:
    known = planted if kind == "aftermarket" else None
    if chance.random() < cures(component, kind, copies=known.copies_cure if known else None):
        return "cured"
    return chance.choice(known.copies_fail_as if known else FAILURES)


def _part(component: str, kind: SourceKind, cost: float, result: PartResult, *, note: str) -> PartTried:
    """What did not cure goes back or on the shop; what failed later was billed by then."""
    return PartTried(component, kind, result, cost, note, charged=result in ("cured", "failed later"))


def in_vain(cause: Cause, chance: Random) -> PartTried:
    """A part of the wrong cause, fitted on a guess."""
    kind = source(cause.component, chance)
    cost = price(cause.part_price or 20.0, kind, chance)
    note = chance.choice(NOTES["no change"])
    return PartTried(cause.component, kind, "no change", cost, note, charged=chance.random() < 0.3)


def small_stuff(cause: Cause, chance: Random) -> PartTried | None:
    """A crimp, a seal or a can of something from the shelf, where any was used."""
    if not cause.part_price or chance.random() < 0.45:
        return None
    return PartTried(cause.component, "own stock", "cured", price(cause.part_price, "own stock", chance))
