"""The physics behind readings: plain functions of plain numbers, units in every docstring."""

from __future__ import annotations

from baylore_kb.physics.air import air_pressure_kpa, manifold_vacuum_kpa, tyre_pressure_kpa
from baylore_kb.physics.battery import (
    COLDEST_C,
    HOTTEST_C,
    hours_to_no_start,
    load_test_minimum_v,
    rest_voltage_shift_v,
    state_of_charge_pct,
)
from baylore_kb.physics.coolant import glycol_boiling_c, glycol_freezing_c
from baylore_kb.physics.electric import (
    LARGEST_FUSE_A,
    SMALLEST_FUSE_A,
    coil_current_a,
    copper_resistance_ohm,
    drop_power_w,
    drop_resistance_ohm,
    fuse_current_a,
    wire_resistance_ohm,
)
from baylore_kb.physics.engine import (
    CompressionSpread,
    compression_spread,
    fuel_trim_product_pct,
    fuel_trim_sum_pct,
    ideal_air_mass_g_s,
    leak_down_pct,
    speed_density_g_s,
    volumetric_efficiency,
)
from baylore_kb.physics.humid import GoodCar, vent_band_c, wet_bulb_c
from baylore_kb.physics.refrigerant import (
    saturation_kpa,
    saturation_temperature_c,
    static_pressure_kpa,
    subcooling_k,
    superheat_k,
)
from baylore_kb.physics.thermistor import beta_resistance_ohm, divider_v, steinhart_hart_c
from baylore_kb.physics.water import boiling_c, dew_point_c, evacuation_vacuum_kpa, vapour_pressure_kpa

__all__ = [
    "COLDEST_C",
    "HOTTEST_C",
    "LARGEST_FUSE_A",
    "SMALLEST_FUSE_A",
    "CompressionSpread",
    "GoodCar",
    "air_pressure_kpa",
    "beta_resistance_ohm",
    "boiling_c",
    "coil_current_a",
    "compression_spread",
    "copper_resistance_ohm",
    "dew_point_c",
    "divider_v",
    "drop_power_w",
    "drop_resistance_ohm",
    "evacuation_vacuum_kpa",
    "fuel_trim_product_pct",
    "fuel_trim_sum_pct",
    "fuse_current_a",
    "glycol_boiling_c",
    "glycol_freezing_c",
    "hours_to_no_start",
    "ideal_air_mass_g_s",
    "leak_down_pct",
    "load_test_minimum_v",
    "manifold_vacuum_kpa",
    "rest_voltage_shift_v",
    "saturation_kpa",
    "saturation_temperature_c",
    "speed_density_g_s",
    "state_of_charge_pct",
    "static_pressure_kpa",
    "steinhart_hart_c",
    "subcooling_k",
    "superheat_k",
    "tyre_pressure_kpa",
    "vapour_pressure_kpa",
    "vent_band_c",
    "volumetric_efficiency",
    "wet_bulb_c",
    "wire_resistance_ohm",
]
