"""Trouble codes against public lists of generic codes and the ISO 15031-6 byte layout."""

import csv
import gzip
import os
from pathlib import Path

import pytest

from baylore_kb.codes import from_hex, is_generic, parse_code

FILE = Path(os.environ.get("BAYLORE_OUTSIDE_DATA", "absent")) / "dtc" / "generic_codes.csv.gz"


@pytest.mark.parametrize(
    ("two_bytes", "code"),
    # bit layout of ISO 15031-6 / SAE J2012, from memory of the public standard
    [("0133", "P0133"), ("4123", "C0123"), ("9234", "B1234"), ("C100", "U0100"), ("0A1F", "P0A1F")],
)
def test_two_bytes_give_the_code_of_the_standard(two_bytes, code):
    assert from_hex(two_bytes) == code


@pytest.mark.skipif(not FILE.is_file(), reason="BAYLORE_OUTSIDE_DATA holds no dtc folder")
def test_every_listed_generic_code_is_read_and_known_as_generic():
    with gzip.open(FILE, "rt", encoding="utf-8") as lines:
        codes = [row["code"] for row in csv.DictReader(lines)]
    assert [code for code in codes if parse_code(code.lower()) != code or not is_generic(code)] == []
