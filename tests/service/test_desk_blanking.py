"""What must not leave the shop is found in free text; what a technician writes otherwise stays."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_service.desk.blanking import BLANK, Blanked, blanked

NAMES = ("Will Barrow", "Ina Solvey")


@pytest.mark.parametrize(
    ("text", "kind", "was"),
    [
        ("mail a.person+car@example.org when done", "e-mail", "a.person+car@example.org"),
        ("call 0664 123 45 67 first", "phone", "0664 123 45 67"),
        ("owner +1 (555) 010-4477, after six", "phone", "+1 (555) 010-4477"),
        ("plate: XK 23 ABC, red", "plate", "XK 23"),
        ("seen on AB12 CDE before", "plate", "AB12 CDE"),
        ("seen on ABC-1234 before", "plate", "ABC-1234"),
        ("Ina Solvey heard it", "name", "Ina Solvey"),
        ("ina solvey heard it", "name", "ina solvey"),
        ("as Solvey said", "name", "Solvey"),
        ("vin 1M8GDM9AXKP042788 read", "vin", "1M8GDM9AXKP042788"),
    ],
)
def test_what_points_to_a_person_is_taken_out(text: str, kind: str, was: str) -> None:
    left, taken = blanked(text, NAMES)
    assert Blanked(kind, was) in taken and was not in left and BLANK in left  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "text",
    [
        "12.6 14.2 13.81 V at idle, hot",
        "P0301 and U0100 stored, R134a 480 g, 5W30, H7 bulb",
        "replaced on 2026-03-11, torque 110 Nm",
        "will mark the ground, 0.12 V drop over 3000 rpm",
        "crank 9.8 V, fuse 15 A, 141000 km",
    ],
)
def test_readings_codes_dates_and_plain_words_stay(text: str) -> None:
    assert blanked(text, NAMES) == (text, ())


def test_a_vin_keeps_what_tells_the_kind_of_car() -> None:
    assert blanked("1M8GDM9AXKP042788", ())[0] == "1M8GDM9AXKP" + BLANK


@given(st.text(max_size=200), st.lists(st.text(max_size=20), max_size=4))
def test_any_text_comes_out_clean_the_second_time(text: str, names: list[str]) -> None:
    left, _ = blanked(text, names)
    for blank in blanked(left, ())[1]:
        assert BLANK in blank.was or blank.kind in ("phone", "plate")
