"""What trims and compressions come to together."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from baylore_kb.errors import OutOfRange
from baylore_kb.physics import (
    air_pressure_kpa,
    compression_spread,
    fuel_trim_sum_pct,
    ideal_air_mass_g_s,
    volumetric_efficiency,
)
from baylore_kb.readings.worked.gathered import Follows, Gathered, Taken

# Below this nothing was compressed at all: a test with the plug out or the gauge loose.
_LEAST_KPA = 10.0


def total_trims(held: Gathered) -> Iterator[Follows]:
    """Total trim of each bank that has both a short and a long term trim; the latest pair counts."""
    short = {_bank(taken): taken for taken in held.all("stft")}
    long = {_bank(taken): taken for taken in held.all("ltft")}
    for bank in short.keys() & long.keys():
        pair = short[bank], long[bank]
        total = fuel_trim_sum_pct(pair[0].own, pair[1].own)
        said = {"bank": bank} if bank else {}
        yield Follows("trim_total", total, "percent", pair, said)


def _bank(taken: Taken) -> str:
    return str(taken.known.values.get("bank", "")) or taken.reading.point.strip().casefold()


def compression_evenness(held: Gathered) -> Iterator[Follows]:
    """How uneven the cylinders are, dry and wet apart, once two of them are measured; the lowest is named."""
    groups: dict[str, list[Taken]] = defaultdict(list)
    for taken in held.all("compression"):
        groups[str(taken.known.values.get("wet_or_dry", ""))].append(taken)
    for group in groups.values():
        cylinders = _latest(group)
        if len(cylinders) > 1 and max(taken.own for taken in cylinders) >= _LEAST_KPA:
            yield _evenness(cylinders)


def _latest(group: Sequence[Taken]) -> list[Taken]:
    """One reading a cylinder, the latest; those without a point are each a cylinder of their own."""
    by_point = {taken.reading.point.strip().casefold() or str(at): taken for at, taken in enumerate(group)}
    return list(by_point.values())


def _evenness(cylinders: Sequence[Taken]) -> Follows:
    spread = compression_spread([taken.own for taken in cylinders])
    point = cylinders[spread.worst].reading.point
    lowest = f", lowest at {point}" if point else ""
    return Follows("compression_spread", spread.spread_pct, "percent", cylinders, {}, lowest)


def filling(held: Gathered) -> Iterator[Follows]:
    """Volumetric efficiency from the air mass at full load; nothing without displacement, speed and air."""
    air = held.last("maf_full")
    if air is None or "boost" in str(air.known.values.get("engine_type", "")):
        return
    share = _filled(air)
    if share is not None:
        yield Follows("vol_eff", 100.0 * share, "percent", (air,), {}, " against cylinders completely filled")


def _filled(air: Taken) -> float | None:
    litres, rpm, intake = (air.number(name) for name in ("engine_litres", "engine_rpm", "ambient_c"))
    if litres is None or rpm is None or intake is None:
        return None
    try:
        outside = air_pressure_kpa(air.number("altitude_m") or 0.0)
        return volumetric_efficiency(
            air.own, ideal_air_mass_g_s(litres, rpm, intake_c=intake, air_kpa=outside)
        )
    except OutOfRange:  # conditions no engine runs under
        return None
