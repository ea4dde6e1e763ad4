"""Superheat and subcooling from a pressure and the temperature of the pipe beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from baylore_kb.errors import OutOfRange, UnknownRefrigerant
from baylore_kb.physics import subcooling_k, superheat_k
from baylore_kb.readings.worked.gathered import Follows, Gathered, Taken
from baylore_kb.units import shown

_Kelvin = Callable[[str, float, float, float], float]


def subcooling(held: Gathered) -> Iterator[Follows]:
    """Subcooling from the running high side pressure and the liquid pipe; nothing without the refrigerant."""
    yield from _heat(held, "ac_subcool", ("ac_high_run", "ac_liquid_temp"), subcooling_k)


def superheat(held: Gathered) -> Iterator[Follows]:
    """Superheat from the running low side pressure and the suction pipe; nothing without the refrigerant."""
    yield from _heat(held, "ac_superheat", ("ac_low_run", "ac_suction_temp"), superheat_k)


def _heat(held: Gathered, result: str, pair: tuple[str, str], kelvin: _Kelvin) -> Iterator[Follows]:
    pressure, pipe = held.last(pair[0]), held.last(pair[1])
    gas = pressure.known.values.get("refrigerant") if pressure else None
    if pressure is None or pipe is None or not isinstance(gas, str):
        return
    height = pressure.number("altitude_m") or 0.0
    found = _worked_out(kelvin, gas, pressure, pipe, height=height)
    if found is not None:
        above = f" at {shown(height, 'm')}" if height else ""
        how = f", {pressure.known.said.get('refrigerant', gas)}{above}"
        yield Follows(result, found, "delta_degC", (pressure, pipe), {"refrigerant": gas}, how)


def _worked_out(kelvin: _Kelvin, gas: str, pressure: Taken, pipe: Taken, *, height: float) -> float | None:
    try:
        return kelvin(gas, pressure.own, pipe.own, height)
    except (OutOfRange, UnknownRefrigerant):  # a vacuum, or a gas whose pressures nobody here knows
        return None
