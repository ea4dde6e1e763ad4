"""Words that always come together count less than words that come alone."""

from math import sqrt
from zlib import crc32

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from baylore_kb.index import Snapshot
from baylore_kb.together import SAMPLE, crowding, level, level_of
from baylore_kb.values import Case, Complaint


def closed(number, text):
    return Case(f"c{number}", Complaint(text), "closed", cause="own.wet_joint")


def alike(present):
    """What to divide by where every word is used once."""
    return crowding(present, np.ones(len(present)))


def presence(*rows):
    return np.asarray(rows, dtype=np.float32)


def test_words_that_always_come_together_share_one_weight():
    always = [1, 1, 1, 1, 0, 0, 0, 0]
    assert alike(presence(always, always, always)) == pytest.approx([3.0, 3.0, 3.0])


def test_the_strength_is_the_phi_coefficient_to_the_power_of_one_and_a_half():
    one, other = [1, 1, 1, 1, 0, 0, 0, 0], [1, 1, 1, 0, 1, 0, 0, 0]
    phi = (3 * 3 - 1 * 1) / sqrt(4 * 4 * 4 * 4)
    assert alike(presence(one, other)) == pytest.approx([1.0 + phi**1.5] * 2)


def test_what_is_read_into_a_word_does_not_lower_the_word():
    always = [1, 1, 1, 1, 0, 0, 0, 0]
    three = presence(always, always, always)
    assert crowding(three, np.array([1.0, 0.5, 0.5])) == pytest.approx([2.0] * 3)
    assert crowding(three, np.array([1.0, 0.0, 0.0])) == pytest.approx([1.0] * 3)
    assert crowding(presence(always), np.array([0.5])) == pytest.approx([1.0])


def test_a_word_alone_a_rare_word_and_words_that_avoid_each_other_keep_their_weight():
    assert alike(presence([1, 0, 1, 0])) == pytest.approx([1.0])
    assert alike(presence([1, 0, 0, 0, 0], [1, 0, 0, 0, 0])) == pytest.approx([1.0, 1.0])
    assert alike(presence([1, 1, 1, 0, 0, 0], [0, 0, 0, 1, 1, 1])) == pytest.approx([1.0, 1.0])


@given(
    arrays(np.float32, st.tuples(st.integers(0, 6), st.integers(0, 12)), elements=st.sampled_from([0.0, 1.0]))
)
def test_any_words_are_divided_by_at_least_one_and_at_most_their_number(present):
    divided = alike(present)
    assert divided.shape == (len(present),)
    assert np.all((divided >= 1.0 - 1e-9) & (divided <= len(present) + 1e-6))


def test_a_sample_is_whole_while_small_and_halves_as_cases_double():
    assert [level(n) for n in (0, 1, SAMPLE, SAMPLE + 1, 2 * SAMPLE, 100 * SAMPLE)] == [0, 0, 0, 1, 1, 7]
    assert level_of("c1") == 32 - crc32(b"c1").bit_length()
    ids = [f"case-{n}" for n in range(4096)]
    assert 900 < sum(level_of(id) >= 2 for id in ids) < 1150


def test_a_standing_phrase_counts_as_one_word_in_a_question():
    routine = [closed(n, f"road tested okay returned unit{n}") for n in range(9)]
    shop = Snapshot.build([*routine, closed(20, "wiper motor hums"), closed(21, "road noise")])
    weights = shop.term_weights(shop.analyzer.analyze("road tested okay returned hums"))
    assert weights["hum"] > 3 * weights["okay"]


def test_a_case_with_the_fault_beats_one_with_the_standing_phrase():
    routine = [closed(n, f"road tested okay returned to owner unit{n}") for n in range(9)]
    shop = Snapshot.build([*routine, closed(20, "wiper hums")])
    analysis = shop.analyzer.analyze("road tested okay returned to owner wiper")
    best = shop.search.best(analysis, {}, among=shop.living.evidence, limit=3)
    assert best[0].case.id == "c20"
