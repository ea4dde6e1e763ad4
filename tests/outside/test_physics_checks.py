"""Physics against published formulas and CoolProp; each check names its source in physics.json."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from baylore_kb import physics
from baylore_kb.physics.coolant import HALF_GLYCOL_WATER_SHARE
from baylore_kb.units import convert

HERE = Path(__file__).parent
CASES = json.loads((HERE / "physics.json").read_text(encoding="utf-8"))["cases"]
FUSES = json.loads((HERE / "fuse_resistance.json").read_text(encoding="utf-8"))["cases"][0]


def kpa(psi):
    return convert(psi, "psi", "kPa")


def saturation(i):
    absolute = kpa(i["psig"]) + physics.air_pressure_kpa(i["altitude_m"])
    return {"kPa_abs": absolute, "T_sat_C": physics.saturation_temperature_c(i["refrigerant"], absolute)}


def static(i):
    gauge = physics.static_pressure_kpa(i["refrigerant"], i["ambient_C"], i["altitude_m"])
    absolute = physics.saturation_kpa(i["refrigerant"], i["ambient_C"])
    return {"kPa_abs": absolute, "kPa_gauge": gauge, "psig": convert(gauge, "kPa", "psi")}


def heat(i):
    high, low = kpa(i["high_psig"]), kpa(i["low_psig"])
    under = physics.subcooling_k(i["refrigerant"], high, i["liquid_line_C"])
    over = physics.superheat_k(i["refrigerant"], low, i["suction_line_C"])
    return {
        "subcooling_K": under,
        "superheat_K": over,
        "T_cond_bubble_C": under + i["liquid_line_C"],
        "T_evap_dew_C": i["suction_line_C"] - over,
    }


def vent(i):
    low, high = physics.vent_band_c(i["ambient_C"], 100 * i["rel_humidity"])
    dew = physics.dew_point_c(i["ambient_C"], 100 * i["rel_humidity"])
    return {"vent_low_C": low, "vent_high_C": high, "dew_point_C": dew}


def evacuation(i):
    water = physics.vapour_pressure_kpa(i["ambient_C"])
    vacuum = physics.evacuation_vacuum_kpa(i["ambient_C"], i["altitude_m"])
    return {
        "kPa_abs": water,
        "micron": convert(water, "kPa", "micrometer_Hg"),
        "gauge_inHg_vacuum": convert(vacuum, "kPa", "inHg"),
    }


def vacuum(i):
    below = physics.manifold_vacuum_kpa(i["map_kPa"], i["altitude_m"])
    return {"kPa_below_atm": below, "inHg_vacuum": convert(below, "kPa", "inHg")}


def dew(i):
    humidity = 100 * i["RH"]
    return {
        "dew_C": physics.dew_point_c(i["T_C"], humidity),
        "wet_bulb_C": physics.wet_bulb_c(i["T_C"], humidity),
    }


def rest(i):
    return {
        "volts_at_26_7C": i["volts"] + physics.rest_voltage_shift_v(i["battery_C"]),
        "soc_percent": physics.state_of_charge_pct(i["volts"], i["battery_C"]),
    }


def load_test(_):
    temperatures = (21.1, 15.6, 10.0, 4.4, -1.1, -6.7, -12.2, -17.8)
    return {"min_volts_by_C": {str(t): physics.load_test_minimum_v(t) for t in temperatures}}


def fuse(i):
    low, likely, high = physics.fuse_current_a(i["mV"], float(i["rating_A"]))
    return {"amps": likely, "lo": low, "hi": high}


def coil(i):
    hot = physics.copper_resistance_ohm(i["R20_ohm"], i["coil_C"])
    amps = physics.coil_current_a(i["volts"], i["R20_ohm"], i["coil_C"])
    return {"R_hot": hot, "amps": amps, "watts": i["volts"] * amps}


def drop(i):
    ohm = physics.drop_resistance_ohm(i["drop_V"], i["current_A"])
    return {"milliohm": ohm * 1000, "watts": physics.drop_power_w(i["drop_V"], i["current_A"])}


def wire(i):
    ohm = physics.wire_resistance_ohm(i["length_m"], i["area_mm2"])
    return {"milliohm": ohm * 1000, "drop_V": ohm * i["current_A"]}


def drain(i):
    hours = physics.hours_to_no_start(
        i["capacity_Ah"], i["draw_mA"] / 1000, soc_now=i["soc_now"], soc_no_start=i["soc_no_start"]
    )
    return {"hours": hours, "days": hours / 24}


def steinhart(i):
    return {"T_C": physics.steinhart_hart_c(i["R_ohm"], a=i["A"], b=i["B"], c=i["C"])}


def beta(i):
    ohm = physics.beta_resistance_ohm(i["R25"], i["beta_K"], i["T_C"])
    return {"R_ohm": ohm, "volts": physics.divider_v(ohm, i["pullup"])}


def air_mass(i):
    at = {"intake_c": i["intake_C"], "air_kpa": i["baro_kPa"]}
    ideal = physics.ideal_air_mass_g_s(i["displacement_L"], i["rpm"], **at)
    return {
        "ideal_g_s": ideal,
        "air_density_g_per_L": physics.ideal_air_mass_g_s(1, 120, **at),
        "ve": physics.volumetric_efficiency(i["maf_g_s"], ideal),
    }


def speed_density(i):
    at = {"intake_c": i["iat_C"], "map_kpa": i["map_kPa"], "efficiency": i["ve"]}
    return {"g_s": physics.speed_density_g_s(i["displacement_L"], i["rpm"], **at)}


def trim(i):
    both = i["stft"], i["ltft"]
    return {
        "sum_percent": physics.fuel_trim_sum_pct(*both),
        "product_percent": physics.fuel_trim_product_pct(*both),
    }


def leak(i):
    return {"leak_percent": physics.leak_down_pct(i["supply"], i["cylinder"])}


def compression(i):
    spread = physics.compression_spread(i["psi"])
    return {
        "min_over_max": spread.share,
        "spread_percent": spread.spread_pct,
        "pass_75": spread.even,
        "worst": spread.worst,
    }


def boiling(i):
    total = i["cap_kPa_gauge"] + physics.air_pressure_kpa(i["altitude_m"])
    return {
        "P_abs_kPa": total,
        "water_C": physics.boiling_c(total),
        "glycol50_raoult_C": physics.glycol_boiling_c(i["cap_kPa_gauge"], i["altitude_m"]),
        "x_water": HALF_GLYCOL_WATER_SHARE,
    }


def freezing(i):
    return {"T_C": physics.glycol_freezing_c(i["mass_fraction"])}


def tyre(i):
    gauge = physics.tyre_pressure_kpa(i["kPa_gauge"], i["T1_C"], i["T2_C"], i["altitude_m"])
    return {"kPa_gauge": gauge, "psig": convert(gauge, "kPa", "psi")}


def altitude(i):
    air = physics.air_pressure_kpa(i["altitude_m"])
    return {"kPa": air, "psi": convert(air, "kPa", "psi"), "inHg": convert(air, "kPa", "inHg")}


def factors(_):
    pairs = {
        "psi_to_kPa": ("psi", "kPa"),
        "inHg_to_kPa": ("inHg", "kPa"),
        "bar_to_kPa": ("bar", "kPa"),
        "kgf_cm2_to_kPa": ("kg/cm2", "kPa"),
        "mmHg_to_kPa": ("mmHg", "kPa"),
        "mile_to_km": ("mi", "km"),
        "lbft_to_Nm": ("lb-ft", "Nm"),
    }
    return {name: convert(1.0, unit, to) for name, (unit, to) in pairs.items()}


WORK: dict[str, Callable] = {
    "tsat": saturation,
    "static": static,
    "scsh": heat,
    "vent": vent,
    "evac": evacuation,
    "vac": vacuum,
    "dew": dew,
    "ocv": rest,
    "loadtest": load_test,
    "fuse": fuse,
    "coil": coil,
    "vdrop": drop,
    "wire": wire,
    "drain": drain,
    "sh": steinhart,
    "beta": beta,
    "maf": air_mass,
    "speeddens": speed_density,
    "trim": trim,
    "leak": leak,
    "comp": compression,
    "boil": boiling,
    "freeze": freezing,
    "tyre": tyre,
    "alt": altitude,
    "units": factors,
}
INSIDE = {"enthalpy_drop_kJ_per_kg", "bypass_factor"}  # steps on the way, covered by the result


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_physics_equals_the_published_value(case):
    got = WORK[case["id"].split("-")[1]](case["inputs"])
    want = {name: value for name, value in case["expected"].items() if name not in INSIDE}
    # Published factors are rounded to seven figures.
    assert got == nested(want, case["tolerance"])


def nested(want, tolerance):
    if isinstance(want, dict):
        return {name: nested(value, tolerance) for name, value in want.items()}
    if isinstance(want, bool):
        return want
    return pytest.approx(want, rel=tolerance.get("rel", 0), abs=tolerance.get("abs", 0) + 1e-7)


@pytest.mark.parametrize("rating", FUSES["expected"]["mohm"])
def test_fuse_currents_rest_on_the_resistances_of_the_regular_series(rating):
    milliohm = FUSES["expected"]["mohm"][rating]
    _, likely, _ = physics.fuse_current_a(1.0, float(rating))
    assert likely == pytest.approx(1.0 / milliohm, rel=1e-6)
