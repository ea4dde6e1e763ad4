"""Words one or two slips apart are found among all a shop knows, none left out."""

from hypothesis import given
from hypothesis import strategies as st
from rapidfuzz.distance import OSA

from baylore_kb.lexicon import WordBook

WORDS = st.text(alphabet="abcdé1", min_size=1, max_size=9)


@given(st.lists(WORDS, max_size=40), WORDS)
def test_every_word_two_slips_away_is_found_and_no_other(words, asked):
    book = WordBook()
    book.numbers(words)
    away = {word for word in words if OSA.distance(word, asked) == 2}
    assert set(book.within_two(asked, lambda number: True)) == away
    assert book.within_two(asked, lambda number: False) == []


@given(st.lists(WORDS, max_size=40), WORDS)
def test_every_word_one_slip_away_is_found_and_no_other(words, asked):
    book = WordBook()
    book.numbers(words)
    assert set(book.within_one(asked)) == {word for word in words if OSA.distance(word, asked) == 1}
