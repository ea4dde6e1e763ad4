"""Lead-acid batteries: rest voltage, load test, how long a draw takes to flatten them."""

from __future__ import annotations

from baylore_kb.physics.ranges import straight, within

REFERENCE_C = (80.0 - 32.0) / 1.8
# What the rest voltage's correction holds for.
COLDEST_C, HOTTEST_C = -40.0, 60.0
_V_PER_F = 0.0024
_SOC = ((11.89, 0.0), (12.06, 25.0), (12.24, 50.0), (12.45, 75.0), (12.65, 100.0))
_LOAD_MINIMUM = (
    (-17.8, 8.5),
    (-12.2, 8.7),
    (-6.7, 8.9),
    (-1.1, 9.1),
    (4.4, 9.3),
    (10.0, 9.4),
    (15.6, 9.5),
    (21.1, 9.6),
)


def rest_voltage_shift_v(battery_c: float) -> float:
    """Volts to add to a rest voltage to have it at 80 °F (26.7 °C); -40 to 60 °C.

    Raises OutOfRange. Source: Battery Council International, 0.0024 V per °F.
    """
    within("battery temperature", battery_c, "°C", low=COLDEST_C, high=HOTTEST_C)
    return _V_PER_F * (battery_c - REFERENCE_C) * 1.8


def state_of_charge_pct(rest_v: float, battery_c: float = REFERENCE_C) -> float:
    """State of charge in percent, 0 to 100, from the rest voltage of a flooded 12 V battery.

    Rested for hours, no surface charge; AGM reads 0.1 to 0.2 V higher at full (from memory).
    Battery at -40 to 60 °C, else OutOfRange. Source: Battery Council International table.
    """
    return straight(_SOC, rest_v + rest_voltage_shift_v(battery_c))


def load_test_minimum_v(battery_c: float) -> float:
    """Lowest voltage a good 12 V battery shows after 15 s at half its cranking rating.

    Held at the table's ends below -17.8 and above 21.1 °C. Source: from memory, no
    published source.
    """
    return straight(_LOAD_MINIMUM, battery_c)


def hours_to_no_start(capacity_ah: float, draw_a: float, *, soc_now: float, soc_no_start: float) -> float:
    """Hours until a constant draw in A takes a battery from one charge share (0 to 1) to another.

    No self-discharge. 0 when it is already too low. Raises OutOfRange for a capacity or draw
    that is not positive and for shares outside 0 to 1. Source: charge balance.
    """
    within("capacity", capacity_ah, "Ah", low=0.1, high=10_000.0)
    within("draw", draw_a, "A", low=1e-6, high=10_000.0)
    within("charge now", soc_now, "share", low=0.0, high=1.0)
    within("charge at no start", soc_no_start, "share", low=0.0, high=1.0)
    return max(0.0, capacity_ah * (soc_now - soc_no_start) / draw_a)
