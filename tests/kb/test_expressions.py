"""Formulas of the data files: arithmetic and nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.errors import BadFormula
from baylore_kb.expressions import formula, names, value

NUMBERS = st.floats(-1e6, 1e6)


@given(NUMBERS, NUMBERS)
def test_a_formula_is_the_arithmetic_it_says(x, y):
    assert value("max(x, y) - min(x, y)", {"x": x, "y": y}) == abs(x - y)


@given(NUMBERS)
def test_a_number_stands_for_itself(x):
    assert value(x, {}) == x


def test_a_formula_names_the_conditions_it_uses():
    assert names("0.7*2500*exp(3500*(1/(part_temp_c+273.15)-1/293.15))") == {"part_temp_c"}
    assert names(12.4) == names(None) == frozenset()


def test_the_unused_branch_needs_no_condition():
    assert value("ambient if rested else 82", {"rested": 0}) == 82


def test_the_same_text_is_parsed_once():
    assert formula("a+1") is formula("a+1")


@pytest.mark.parametrize(
    "text",
    ["1+", "x*2", "__import__('os').getcwd()", "9**9**9**9", "().__class__", "1/0", "[y for y in (1,)]"],
)
def test_what_is_no_plain_arithmetic_is_refused_showing_the_text(text):
    with pytest.raises(BadFormula) as refused:
        value(text, {})
    assert text[:10] in refused.value.message
    assert refused.value.remedy
