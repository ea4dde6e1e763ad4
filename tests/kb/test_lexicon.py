"""Terms keep their numbers."""

from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.lexicon import Lexicon


@given(st.lists(st.text(max_size=3)), st.lists(st.text(max_size=3)))
def test_terms_are_found_by_the_numbers_they_were_given(added, asked):
    lexicon = Lexicon.of(added)
    assert lexicon.found(asked).tolist() == [
        -1 if number is None else number for number in map(lexicon.number, asked)
    ]
