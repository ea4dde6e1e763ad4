"""What volts, millivolts and ohms come to: resistance, current, charge, hours to a flat battery."""

from __future__ import annotations

from collections.abc import Iterator

from baylore_kb.physics import (
    COLDEST_C,
    HOTTEST_C,
    LARGEST_FUSE_A,
    SMALLEST_FUSE_A,
    drop_resistance_ohm,
    fuse_current_a,
    hours_to_no_start,
    state_of_charge_pct,
)
from baylore_kb.readings.worked.gathered import Follows, Gathered, Taken
from baylore_kb.units import shown

# A drop, the condition that holds its current, and the quantity that measures that current.
_CURRENT_OF = {
    "drop_pos": ("crank_a", "crank_a"),
    "drop_neg": ("crank_a", "crank_a"),
    "alt_drop": ("charge_a", "charge_a"),
    "alt_drop_gnd": ("charge_a", "charge_a"),
    "drop_gnd": ("load_a", ""),
    "drop_feed": ("load_a", ""),
    "drop_switch": ("load_a", ""),
}
_LEAST_A = 0.1
_COILS = ("ac_clutch_ohm", "sol_ohm", "inj_ohm")
_BATTERY_V = 12.6
# Below half charge an engine may not start; common practice.
_NO_START = 0.5
_LEAST_DRAW_A = 0.001
# What one fuse of a sleeping car may draw at most before it is the car's draw too.
LEAST_FUSE_DRAW_MA = 50.0


def drop_resistances(held: Gathered) -> Iterator[Follows]:
    """The resistance behind each voltage drop whose current is known, against its drop's own limit."""
    for drop in held.all(*_CURRENT_OF):
        current = _current(drop, held)
        limit = drop.quantity.expected.high
        if current is None or not isinstance(limit, float):
            continue
        ohm = drop_resistance_ohm(drop.own, current)
        said = {"load_a": current, "drop_limit_v": limit}
        yield Follows("drop_ohm", ohm * 1000.0, "milliohm", (drop,), said, f" at {shown(current, 'A')}")


def _current(drop: Taken, held: Gathered) -> float | None:
    condition, measured = _CURRENT_OF[drop.quantity.id]
    beside = held.last(measured) if measured else None
    current = drop.number(condition) or (beside.own if beside else None)
    return current if current is not None and current >= _LEAST_A else None


def fuse_draws(held: Gathered) -> Iterator[Follows]:
    """The current through each fuse of a sleeping car; the car's draw too where one fuse alone exceeds it."""
    for drop in held.all("fuse_mv"):
        rating = drop.number("fuse_rating_a")
        if rating is None or not SMALLEST_FUSE_A <= rating <= LARGEST_FUSE_A:
            continue
        low, likely, high = (amps * 1000.0 for amps in fuse_current_a(drop.own, rating))
        how = f" on a {rating:g} A fuse, {low:.3g} to {shown(high, 'mA')}"
        yield Follows("fuse_draw", likely, "milliampere", (drop,), {"fuse_rating_a": rating}, how)
        if low > LEAST_FUSE_DRAW_MA:
            yield Follows("key_off_draw", likely, "milliampere", (drop,), {}, f"{how}, this circuit alone")


def coil_currents(held: Gathered) -> Iterator[Follows]:
    """What each coil would draw, from its resistance as measured; piezo injectors are no coils."""
    volts = _volts(held)
    for coil in held.all(*_COILS):
        low, high = coil.quantity.expected.low, coil.quantity.expected.high
        piezo = "piezo" in str(coil.known.values.get("injector_type", ""))
        if coil.own <= 0.0 or piezo or not isinstance(low, float) or not isinstance(high, float):
            continue
        said = {"battery_v": volts, "low_ohm": low, "high_ohm": high}
        yield Follows("coil_a", volts / coil.own, "ampere", (coil,), said, f" on {shown(volts, 'V')}")


def _volts(held: Gathered) -> float:
    rest = held.last("batt_rest")
    beside = (taken.number("battery_v") for sources in held.by_quantity.values() for taken in sources)
    said = next((volts for volts in beside if volts), None)
    return said or (rest.own if rest and rest.own > 0.0 else _BATTERY_V)


def charge_left(held: Gathered) -> Iterator[Follows]:
    """The charge of a rested flooded battery."""
    rest = held.last("batt_rest")
    share = _charge(rest)
    if rest is not None and share is not None:
        yield Follows("batt_soc", share * 100.0, "percent", (rest,))


def _charge(rest: Taken | None) -> float | None:
    if rest is None or rest.known.values.get("battery_type") == "agm":
        return None
    warmth = rest.number("battery_temp_c")
    if warmth is None or not COLDEST_C <= warmth <= HOTTEST_C:
        return None
    return state_of_charge_pct(rest.own, warmth) / 100.0


def standing_hours(held: Gathered) -> Iterator[Follows]:
    """Hours until a measured draw leaves half a charge; a full battery where its voltage is not known."""
    draw, rest = held.last("key_off_draw"), held.last("batt_rest")
    capacity = draw.number("battery_ah") if draw else None
    if draw is None or not capacity or capacity < 1.0 or draw.own / 1000.0 < _LEAST_DRAW_A:
        return
    share = _charge(rest)
    hours = hours_to_no_start(
        capacity, draw.own / 1000.0, soc_now=1.0 if share is None else share, soc_no_start=_NO_START
    )
    assumed = " (assumed)" if "battery_ah" in draw.known.assumed else ""
    full = ", full (assumed)" if share is None else f", {100.0 * share:.0f} % charged"
    inputs = (draw,) if share is None or rest is None else (draw, rest)
    how = f", {shown(capacity, 'Ah')}{assumed}{full}, down to half"
    yield Follows("flat_hours", hours, "hour", inputs, {"battery_ah": capacity}, how)
