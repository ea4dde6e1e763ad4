"""The trade lists: loaded once, checked against each other, every fault named."""

from importlib.resources import as_file, files
from shutil import copy

import pytest

from baylore_kb.errors import TradeFault
from baylore_kb.physics import static_pressure_kpa
from baylore_kb.trade import load


def copied(to):
    with as_file(files("baylore_kb.trade")) as shipped:
        for path in shipped.glob("*.yaml"):
            copy(path, to)
    return to


@pytest.fixture
def folder(tmp_path):
    return copied(tmp_path)


def change(folder, file, old, new):
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def faults(folder):
    with pytest.raises(TradeFault) as refused:
        load(folder)
    return refused.value.faults


def test_the_shipped_lists_hold_every_rule():
    trade = load()
    assert len(trade.causes) > 300
    assert len(trade.tests) > 200
    assert all(cause.part_price for cause in trade.causes.values())


def test_the_lists_are_read_once():
    assert load() is load()


def test_a_copy_is_the_same_trade_until_a_file_changes(folder):
    assert load(folder) == load()
    change(
        folder, "cautions.yaml", "Recover refrigerant, never vent it", "Recover refrigerant and never vent it"
    )
    assert load.__wrapped__(folder).version != load().version


def test_other_names_lead_to_the_listed_ids():
    trade = load()
    assert trade.also_quantities["battery_open_circuit_voltage"] == "batt_rest"
    assert trade.also_tests["fuse_voltage_drop"] == "draw_fuse"
    assert trade.also_conditions["altitude"] == "altitude_m"


# Each slip with the file it is in and a piece of the fault that must name it.
SLIPS = [
    (
        "tests.yaml",
        "p: {ok: 0.05, weak: 0.45, hot: 0.5}",
        "p: {ok: 0.25, weak: 0.45, hot: 0.5}",
        "sums to 1.2",
    ),
    (
        "tests.yaml",
        "p: {ok: 0.06, open: 0.9, pulls_not: 0.04}",
        "p: {ok: 0.0, open: 0.96, pulls_not: 0.04}",
        "a 0 or a 1",
    ),
    (
        "tests.yaml",
        "reading: {quantity: ac_static, below: 100,",
        "reading: {quantity: ac_static,",
        "without a bound",
    ),
    ("quantities.yaml", "high: 55*ambient_c+300", "high: 55*outside+300", "'outside'"),
    ("quantities.yaml", "low: 40*ambient_c+100", "low: open('x')", "open"),
    (
        "quantities.yaml",
        "hard_limits: {low: 0, high: 5}",
        "hard_limits: {low: 0, high: 0.5}",
        "is not inside",
    ),
    ("quantities.yaml", "accepted_units: [degC, degF]", "accepted_units: [degC, psi]", "'psi' is no degC"),
    ("quantities.yaml", "edges: [100, low, high]", "edges: [low, high]", "one edge"),
    ("quantities.yaml", "good: [liquid_present]", "good: [lovely]", "'lovely'"),
    ("causes.yaml", "symptoms: [", "symptoms: [no_such_symptom, ", "'no_such_symptom'"),
    ("causes.yaml", "confirm_test: ac_leak_search", "confirm_test: ac_leak_sarch", "'ac_leak_sarch'"),
    ("symptoms.yaml", "    systems: [aircon]\n", "", "`systems`"),
    ("cautions.yaml", "    text: Take the charge", "    texture: Take", "`texture`"),
    ("cautions.yaml", "Follow the vehicle maker's procedure", "Do as you like", "to defer"),
    ("cautions.yaml", "id: lift_stands", "id: rotating_parts", "occurs 2 times"),
    ("prices.yaml", "  aircon.condenser: 190", "  aircon.condensor: 190", "'aircon.condensor'"),
    ("systems.yaml", "cautions: [refrigerant_law", "cautions: [no_such_law", "'no_such_law'"),
    (
        "abbreviations.yaml",
        "refers_to: aircon.compressor",
        "refers_to: aircon.kompressor",
        "'aircon.kompressor'",
    ),
]


@pytest.fixture(scope="module")
def slipped(tmp_path_factory):
    folder = copied(tmp_path_factory.mktemp("slips"))
    for file, old, new, _ in SLIPS:
        change(folder, file, old, new)
    return faults(folder)


@pytest.mark.parametrize(("file", "old", "new", "reason"), SLIPS, ids=[slip[3] for slip in SLIPS])
def test_every_slip_is_named_by_file_though_there_are_many(slipped, file, old, new, reason):
    assert old != new
    assert any(fault.startswith(f"{file}: ") and reason in fault for fault in slipped)


def test_missing_and_unreadable_files_are_named(folder):
    (folder / "tests.yaml").unlink()
    change(folder, "systems.yaml", "systems:", "systems: [")
    found = faults(folder)
    assert any(fault.startswith("tests.yaml: whole file: cannot be read") for fault in found)
    assert any(fault.startswith("systems.yaml: whole file: is not YAML") for fault in found)


@pytest.mark.parametrize("gas", ["R134a", "R1234yf"])
def test_the_static_pressure_table_is_the_physics_at_sea_level(gas):
    points = dict(load().quantities["ac_static"].expected.points[gas])
    physics = {ambient: static_pressure_kpa(gas, ambient) for ambient in points}
    assert points == pytest.approx(physics, abs=1)
