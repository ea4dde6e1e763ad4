"""What stands beside a reading: the circumstances in the bay on that day."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from math import cos, pi
from random import Random

from baylore_kb.engine import engine_key
from baylore_kb.trade.model import Quantity
from baylore_kb.values import ConditionValue
from baylore_service.demo.world import Car

MEAN_C, SWING_C = 16.0, 13.0
TOWN_ALTITUDE_M = 120.0


@dataclass(frozen=True)
class Bay:
    """A car in the bay on a day."""

    car: Car
    day: datetime
    chance: Random

    @cached_property
    def ambient(self) -> float:
        """Air temperature in °C: warm in July, cold in January."""
        season = -cos(2 * pi * (self.day.timetuple().tm_yday - 20) / 365)
        return float(round(MEAN_C + SWING_C * season + self.chance.uniform(-4, 4)))

    @cached_property
    def litres(self) -> float:
        """Engine displacement, 1.6 where the engine does not say."""
        return float(engine_key(self.car.engine).get("size", 1.6))

    def number(self, low: float, high: float, digits: int = 0) -> float:
        """Any number between."""
        return round(self.chance.uniform(low, high), digits)

    def word(self, *words: str) -> str:
        """Any of the words."""
        return self.chance.choice(words)


Maker = Callable[[Bay], ConditionValue]
MAKERS: Mapping[str, Maker] = {
    "altitude_m": lambda bay: TOWN_ALTITUDE_M,
    "ambient_c": lambda bay: bay.ambient,
    "atf_temp_c": lambda bay: bay.number(65, 92),
    "bank": lambda bay: 1.0,
    "battery_connected": lambda bay: False,
    "battery_soc": lambda bay: bay.number(60, 95),
    "battery_temp_c": lambda bay: bay.ambient,
    "battery_type": lambda bay: bay.word("flooded", "flooded", "EFB", "AGM"),
    "battery_v": lambda bay: bay.number(12.3, 12.8, 1),
    "blower_step": lambda bay: "full",
    "cap_rating_kpa": lambda bay: bay.word("108", "108", "138"),
    "charge_a": lambda bay: bay.number(25, 60),
    "chemistry": lambda bay: bay.word("nickel-metal", "lithium"),
    "compressor_type": lambda bay: "fixed" if "clutch_compressor" in bay.car.traits else "variable",
    "coolant_temp_c": lambda bay: bay.number(86, 96),
    "crank_a": lambda bay: bay.number(120, 260),
    "crank_rpm": lambda bay: bay.number(180, 250),
    "crank_v": lambda bay: bay.number(10.0, 10.9, 1),
    "desired_bar": lambda bay: bay.word("260", "300", "320"),
    "doors_latched": lambda bay: True,
    "engine_litres": lambda bay: bay.litres,
    "engine_rpm": lambda bay: bay.word("750", "800", "1500", "2500"),
    "engine_state": lambda bay: bay.word("idle", "2500"),
    "engine_temp_c": lambda bay: bay.number(60, 92),
    "engine_type": lambda bay: "boosted" if "boosted" in bay.car.traits else "natural",
    "fan_command_pct": lambda bay: 90.0,
    "fan_state": lambda bay: bay.word("low", "high"),
    "fluid_grade": lambda bay: "4",
    "fuel_level_pct": lambda bay: bay.number(10, 90),
    "fuel_type": lambda bay: "diesel" if "diesel" in bay.car.traits else "petrol",
    "fuse_rating_a": lambda bay: bay.word("10", "15", "20"),
    "fuse_type": lambda bay: "small blade",
    "gear": lambda bay: bay.number(2, 5),
    "humidity_pct": lambda bay: bay.number(35, 70),
    "injector_type": lambda bay: "coil",
    "key_away": lambda bay: True,
    "key_state": lambda bay: "on",
    "label_cca": lambda bay: bay.word("540", "640", "720"),
    "label_grams": lambda bay: bay.word("480", "550", "620"),
    "load_a": lambda bay: bay.number(3, 9, 1),
    "load_pct": lambda bay: bay.number(25, 80),
    "load_state": lambda bay: bay.word("hanging", "loaded"),
    "loads_on": lambda bay: "lamps, blower, rear heat",
    "minutes": lambda bay: 10.0,
    "minutes_driven": lambda bay: bay.number(10, 25),
    "minutes_off": lambda bay: bay.number(15, 40),
    "minutes_since_lock": lambda bay: bay.number(30, 50),
    "nuts_torqued": lambda bay: True,
    "oil_temp_c": lambda bay: bay.number(75, 98),
    "pack_current_a": lambda bay: 0.0,
    "pack_v": lambda bay: bay.word("201", "360"),
    "part_temp_c": lambda bay: bay.ambient,
    "placard_kpa": lambda bay: bay.word("220", "230", "250"),
    "place_count": lambda bay: 8.0,
    "pump_duty_pct": lambda bay: 100.0,
    "rated_a": lambda bay: bay.word("90", "120", "150"),
    "recirculation": lambda bay: "on",
    "refrigerant": lambda bay: "R1234yf" if bay.car.year >= 2017 else "R134a",
    "rest_hours": lambda bay: bay.word("0", "8", "12"),
    "returnless": lambda bay: True,
    "sensor_type": lambda bay: "coil" if bay.car.year < 2010 else "active",
    "set_kpa": lambda bay: bay.word("300", "350", "400"),
    "smart_charging": lambda bay: bay.car.year >= 2012,
    "solenoid_type": lambda bay: bay.word("on-off", "pulsed"),
    "start_kpa": lambda bay: bay.number(300, 400, -1),
    "state_of_charge": lambda bay: bay.number(70, 95),
    "test_pressure_kpa": lambda bay: bay.word("100", "120"),
    "throttle_pct": lambda bay: bay.number(12, 20),
    "tyre_sizes_equal": lambda bay: True,
    "tyre_temp_c": lambda bay: bay.ambient,
    "vehicle_speed_kmh": lambda bay: bay.word("10", "30", "60"),
    "wet_or_dry": lambda bay: "dry",
    "wheel": lambda bay: bay.word("LF", "RF", "LR", "RR"),
    "wheel_turns": lambda bay: "4 places",
}


def conditions_of(quantity: Quantity, bay: Bay) -> dict[str, ConditionValue]:
    """A value for each condition of the quantity that somebody in the bay would write down."""
    made = {name: MAKERS[name](bay) for name in quantity.conditions if name in MAKERS}
    if "engine_state" in made and "rest_hours" in made:  # a running engine does not rest
        made["rest_hours"] = 0.0
    return {name: _number(value) for name, value in made.items()}


def _number(value: ConditionValue) -> ConditionValue:
    """A word made of digits as the number it is."""
    return float(value) if isinstance(value, str) and value.isdigit() else value
