"""Saturation pressures against CoolProp 8.0.0 at temperatures the shipped table leaves out."""

import csv
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
