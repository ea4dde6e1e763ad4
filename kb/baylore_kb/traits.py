"""What a vehicle has and has not, as far as its description says; the rest stays unknown."""

from __future__ import annotations

import re
from functools import lru_cache

from baylore_kb.engine import engine_key
from baylore_kb.tokens import fold
from baylore_kb.values import Vehicle

Traits = frozenset[str]

# word pattern -> traits it shows; the other side of each pair in _EXCLUDES is then known to be absent
_WORDS = (
    (r"\b(?:hybrid|phev|hev|mhev)\b", ("high_voltage", "combustion")),
    (r"\b(?:plug[- ]?in|phev)\b", ("plug_in", "high_voltage")),
    (r"\b(?:electric|bev|ev|battery electric)\b(?! (?:fan|park|steer))", ("high_voltage",)),
    (r"\b(?:turbo\w*|tdi|tsi|tfsi|tdci|hdi|dci|boosted|supercharged)\b", ("boosted",)),
    (r"\b(?:gdi|tsi|tfsi|fsi|direct inj\w*)\b", ("direct_injection", "high_pressure_injection")),
    (r"\b(?:port inj\w*|mpi|mpfi)\b", ("port_injection",)),
    (r"\bcommon rail\b", ("high_pressure_injection",)),
    (r"\b(?:dpf|particulate)\b", ("particulate_filter",)),
    (r"\b(?:adblue|urea|reductant|def)\b", ("reductant",)),
    (r"\b(?:awd|4wd|4x4|all[- ]wheel|four[- ]wheel)\b", ("all_wheel", "propshaft")),
    (r"\b(?:rwd|rear[- ]wheel drive)\b", ("propshaft",)),
    (r"\b(?:manual|stick|[56][- ]?mt)\b", ("manual",)),
    (r"\b(?:auto|automatic|cvt|dct|dsg|dual[- ]clutch|robotised|tiptronic)\b", ("automatic",)),
)
_PATTERNS = tuple((re.compile(pattern), traits) for pattern, traits in _WORDS)
_EXCLUDES = {
    "petrol": ("diesel", "reductant"),
    "diesel": ("petrol", "direct_injection", "port_injection"),
    "manual": ("automatic",),
    "automatic": ("manual",),
    "direct_injection": ("diesel",),
    "port_injection": ("diesel",),
}
_COMBUSTION_ONLY = (
    "petrol", "diesel", "egr", "boosted", "particulate_filter", "reductant", "direct_injection",
    "port_injection", "high_pressure_injection", "combustion", "viscous_fan",
)  # fmt: skip


def traits_of(vehicle: Vehicle) -> tuple[Traits, Traits]:
    """Traits known to be there and known to be absent; one in neither is unknown.

    The vehicle's own trait list wins over its words. An empty description knows nothing.
    """
    given = frozenset(vehicle.traits)
    text = fold(f"{vehicle.engine} ; {vehicle.transmission}")
    present = {*given, *_from_words(text)}
    fuel = engine_key(vehicle.engine).get("fuel")
    if fuel is not None:
        present |= {fuel, "combustion"}
    if present & {"petrol", "diesel"}:
        present.add("combustion")
    present |= _implied(present)
    absent = {gone for trait in present for gone in _EXCLUDES.get(trait, ())}
    absent |= _absent_by_kind(text, present)
    return frozenset(present), frozenset(absent - present)


@lru_cache(maxsize=20_000)
def _from_words(text: str) -> frozenset[str]:
    return frozenset(trait for pattern, traits in _PATTERNS if pattern.search(text) for trait in traits)


def _implied(present: set[str]) -> set[str]:
    implied = {"high_voltage"} if "plug_in" in present else set()
    if present & {"direct_injection", "port_injection"}:
        implied |= {"petrol", "combustion"}
    if "all_wheel" in present:
        implied.add("propshaft")
    return implied


def _absent_by_kind(text: str, present: set[str]) -> set[str]:
    """A plain engine has no traction battery; a car that is only electric has no engine."""
    if "combustion" in present and "high_voltage" not in present:
        return {"high_voltage", "plug_in", "electric_compressor"}
    if (
        "high_voltage" in present
        and "combustion" not in present
        and re.search(r"\b(?:electric|bev|ev)\b", text)
    ):
        return {*_COMBUSTION_ONLY, "manual"}
    return set()
