"""The table of security requirements is whole, and every test it names is there."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "service" / "SECURITY.md").read_text()
ROWS = [line.split("|")[1:-1] for line in TEXT.splitlines() if re.match(r"\| \d", line)]
# Requirements of levels 1 and 2 by section, without those withdrawn or of level 3 alone.
# Source: OWASP ASVS 4.0.3, the table of requirements published with it.
WANTED = {
    "1.1": range(1, 8), "1.2": range(1, 5), "1.4": (1, 4, 5), "1.5": range(1, 5), "1.6": range(1, 5),
    "1.7": (1, 2), "1.8": (1, 2), "1.9": (1, 2), "1.10": (1,), "1.11": (1, 2), "1.12": (2,),
    "1.14": range(1, 7),
    "2.1": range(1, 13), "2.2": range(1, 4), "2.3": range(1, 4), "2.4": range(1, 7), "2.5": range(1, 8),
    "2.6": range(1, 4), "2.7": range(1, 7), "2.8": range(1, 8), "2.9": range(1, 4), "2.10": range(1, 5),
    "3.1": (1,), "3.2": range(1, 5), "3.3": range(1, 5), "3.4": range(1, 6), "3.5": range(1, 4), "3.7": (1,),
    "4.1": (1, 2, 3, 5), "4.2": (1, 2), "4.3": (1, 2, 3),
    "5.1": range(1, 6), "5.2": range(1, 9), "5.3": range(1, 11), "5.4": range(1, 4), "5.5": range(1, 5),
    "6.1": range(1, 4), "6.2": range(1, 7), "6.3": (1, 2), "6.4": (1, 2),
    "7.1": range(1, 5), "7.2": (1, 2), "7.3": (1, 3, 4), "7.4": range(1, 4),
    "8.1": range(1, 5), "8.2": range(1, 4), "8.3": range(1, 9), "9.1": range(1, 4), "9.2": range(1, 5),
    "10.2": (1, 2), "10.3": range(1, 4), "11.1": range(1, 9),
    "12.1": range(1, 4), "12.2": (1,), "12.3": range(1, 7), "12.4": (1, 2), "12.5": (1, 2), "12.6": (1,),
    "13.1": (1, 3, 4, 5), "13.2": (1, 2, 3, 5, 6), "13.3": (1, 2), "13.4": (1, 2),
    "14.1": range(1, 5), "14.2": range(1, 7), "14.3": (2, 3), "14.4": range(1, 8), "14.5": range(1, 5),
}  # fmt: skip


def numbers(cell: str) -> list[str]:
    """The requirements a row is about; `2.1.1-2.1.12` is all between."""
    found = []
    for part in cell.replace(" ", "").split(","):
        first, _, last = part.partition("-")
        section, low = first.rsplit(".", 1)
        high = last.rsplit(".", 1)[1] if last else low
        found += [f"{section}.{number}" for number in range(int(low), int(high) + 1)]
    return found


def test_every_requirement_has_one_row_and_no_other_has() -> None:
    told = [number for row in ROWS for number in numbers(row[0])]
    wanted = {f"{section}.{number}" for section, each in WANTED.items() for number in each}
    assert sorted(told) == sorted(set(told)) and set(told) == wanted


def test_every_state_is_one_of_four_and_what_is_not_met_says_why() -> None:
    for number, _, state, how, _ in ([cell.strip() for cell in row] for row in ROWS):
        assert state in ("met", "partly", "not met", "n/a"), number
        assert how or state == "met", number


def test_every_test_that_is_named_is_there() -> None:
    named = {path for row in ROWS for path in re.findall(r"`((?:tests|deploy)/[^`]+)`", row[4])}
    assert len(named) > 20
    assert [path for path in sorted(named) if not (ROOT / path).exists()] == []


def test_every_row_that_is_not_met_is_explained_as_whose_it_is() -> None:
    section = TEXT.partition("## Left to whoever runs it")[2].partition("Found a hole?")[0]
    groups = re.findall(r"\((\d[\d., -]*)\)", section.replace("\n", " "))
    told = [number for group in groups for number in numbers(re.sub(r",\s*$", "", group))]
    left = [n for row in ROWS if row[2].strip() in ("partly", "not met") for n in numbers(row[0])]
    assert sorted(told) == sorted(left)
