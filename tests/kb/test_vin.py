"""VINs are checked by the rules of 49 CFR 565.15."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.errors import MalformedVin
from baylore_kb.vin import check_digit, read_vin

# Worked example of 49 CFR 565.15 (Table VI): weighted sum 411, remainder 4.
EXAMPLE = "1G4AH59H45G118341"
VINS = st.text("0123456789ABCDEFGHJKLMNPRSTUVWXYZ", min_size=17, max_size=17)


def test_the_regulations_own_example_is_right():
    read = read_vin(EXAMPLE)
    assert (check_digit(EXAMPLE), read.check_ok, read.year) == ("4", True, 2005)


def test_blanks_dashes_and_lower_case_are_fine():
    assert read_vin(" 1g4ah59h4-5g118341 ").vin == EXAMPLE


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (EXAMPLE[:-1], "16 characters"),
        (EXAMPLE.replace("G4", "O4"), "character 2 is 'O'"),
        (EXAMPLE.replace("341", "314"), "asks for"),
        (EXAMPLE[:-1] + "?", "character 17"),
    ],
)
def test_a_broken_vin_is_refused_saying_where(typed, says):
    with pytest.raises(MalformedVin, match=says) as refused:
        read_vin(typed)
    assert refused.value.field == "vehicle.vin"
    assert refused.value.remedy


def test_outside_north_america_the_check_digit_is_only_noted():
    foreign = "W" + EXAMPLE[1:]
    read = read_vin(foreign)
    assert not read.check_ok
    assert check_digit(foreign) in read.note


def test_a_letter_in_position_seven_moves_the_year_to_the_later_cycle():
    later = EXAMPLE[:6] + "A" + EXAMPLE[7:]
    later = later[:8] + check_digit(later) + later[9:]
    assert read_vin(later).year == 2035


@given(VINS)
def test_putting_in_the_check_digit_makes_any_vin_right(vin):
    whole = vin[:8] + check_digit(vin) + vin[9:]
    assert read_vin(whole).check_ok


@given(VINS, st.integers(0, 16), st.sampled_from("0123456789"))
def test_one_wrong_digit_is_noticed(vin, place, digit):
    whole = vin[:8] + check_digit(vin) + vin[9:]
    wrong = whole[:place] + digit + whole[place + 1 :]
    same_value = wrong[:8] + check_digit(wrong) + wrong[9:] == wrong
    assert (wrong == whole) <= same_value
    if whole[place].isdigit() and wrong != whole:
        assert not same_value
