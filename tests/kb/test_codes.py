"""Trouble codes are read in any writing and weighed by rarity."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.codes import (
    find_codes,
    from_hex,
    is_common,
    is_generic,
    low_battery_set,
    parse_code,
    rarity,
    read_code,
    system_hints,
)
from baylore_kb.errors import MalformedCode

CODES = st.from_regex(r"[PCBU][0-3][0-9A-F]{3}", fullmatch=True)


@pytest.mark.parametrize(
    "typed", ["P0301", "p0301", " p 0301 ", "P-0301", "PO301", "P0301-13", "p0301:13", "P030113"]
)
def test_a_code_is_read_in_any_writing(typed):
    assert parse_code(typed) == "P0301"


def test_the_failure_type_is_kept_apart():
    assert read_code("U0100-87").failure_type == "87"
    assert read_code("U0100").failure_type is None


@pytest.mark.parametrize("typed", ["", "P", "P4301", "X0301", "P030", "P03011", "P03G1", "0301", "hello"])
def test_what_is_no_code_is_refused_with_the_field_and_a_way_out(typed):
    with pytest.raises(MalformedCode) as refused:
        parse_code(typed, field="codes[2]")
    assert refused.value.field == "codes[2]"
    assert "P0301" in refused.value.remedy
    assert repr(typed) in refused.value.message


def test_codes_are_found_in_a_sentence_once_each():
    assert find_codes("had P0301, p 0420 and again P0301") == ("P0301", "P0420")


@given(CODES)
def test_a_canonical_code_reads_as_itself_and_is_found_in_text(code):
    assert parse_code(code) == code
    assert parse_code(f"{code[0].lower()}-{code[1:].lower()}") == code


@given(st.integers(0, 0xFFFF))
def test_two_bytes_give_a_code_and_each_a_different_one(value):
    code = from_hex(f"{value:04x}")
    assert "PCBU".index(code[0]) << 14 | int(code[1:], 16) == value


def test_bytes_that_are_no_bytes_are_refused():
    with pytest.raises(MalformedCode):
        from_hex("12")


def test_generic_and_maker_ranges_are_told_apart():
    assert all(map(is_generic, ("P0301", "P2301", "P3401", "U0100", "U3003", "B0001", "C0035")))
    assert not any(map(is_generic, ("P1301", "P3301", "U1100", "B1342", "C1200")))


def test_a_range_hints_at_its_system():
    assert system_hints("P0301") == ("ignition",)
    assert system_hints("P0A1F") == ("hv",)
    assert system_hints("C0035")[0] == "abs_stab"


def test_voltage_and_lost_module_codes_together_mean_a_weak_battery():
    assert low_battery_set(["P0562"])
    assert low_battery_set(["U0100", "U0121", "U0140"])
    assert not low_battery_set(["P0301", "U0100"])


@given(st.integers(0, 500), st.integers(0, 500))
def test_a_rarer_code_never_weighs_less(seen, more):
    few, many = sorted((seen, more))
    assert 0 < rarity("P0301", {"P0301": many}, 500) <= rarity("P0301", {"P0301": few}, 500) <= 1


def test_a_common_code_weighs_less_than_a_rare_one():
    assert is_common("U0100")
    assert rarity("U0100", {}, 10) < rarity("P0301", {}, 10)
