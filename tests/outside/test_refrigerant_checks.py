"""Saturation pressures against CoolProp 8.0.0 at temperatures the shipped table leaves out."""

import csv
import importlib.util
from pathlib import Path

import pytest

from baylore_kb.physics import saturation_kpa, saturation_temperature_c

with (Path(__file__).parent / "refrigerant_pt.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
IDS = [f"{row['refrigerant']}-{row['temp_C']}" for row in ROWS]


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_saturation_pressure_equals_the_reference_equation(row):
    got = saturation_kpa(row["refrigerant"], float(row["temp_C"]))
    assert got == pytest.approx(float(row["kPa_abs"]), abs=float(row["tolerance_kPa"]) / 4)


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_saturation_temperature_equals_the_reference_equation(row):
    got = saturation_temperature_c(row["refrigerant"], float(row["kPa_abs"]))
    assert got == pytest.approx(float(row["temp_C"]), abs=0.02)


def test_most_rows_lie_between_the_points_of_the_shipped_table():
    between = [row for row in ROWS if float(row["temp_C"]) % 10]
    assert len(between) == 16


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_saturation_pressure_is_within_a_thousandth_of_the_table(row):
    got = saturation_kpa(row["refrigerant"], float(row["temp_C"]))
    assert got == pytest.approx(float(row["kPa_abs"]), rel=0.001)


@pytest.mark.skipif(
    importlib.util.find_spec("CoolProp") is None,
    reason="the reference equations of state are not installed here",
)
@pytest.mark.parametrize("refrigerant", ["R134a", "R1234yf"])
def test_the_curve_follows_the_reference_equation_at_every_degree(refrigerant):
    reference = pytest.importorskip("CoolProp.CoolProp")
    for celsius in range(-10, 71):
        want = reference.PropsSI("P", "T", celsius + 273.15, "Q", 0, refrigerant) / 1000
        assert saturation_kpa(refrigerant, celsius) == pytest.approx(want, rel=0.001)
