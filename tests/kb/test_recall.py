"""The text index finds what a plain reckoning finds, compiled or not, whatever came, went and was merged."""

import math
import threading
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.recall import TextIndex
from baylore_kb.recall.kernels import compiled
from baylore_kb.recall.layout import K1, B, impacts
from baylore_kb.recall.postings import FRESH
from baylore_kb.recall.words import Words, words_of
from baylore_kb.stems import STOP_WORDS, stem

WORDS = "belt squeal wet cold heater fan clicks starter relay fuse pump leak drip noise P0301".split()  # noqa: SIM905
TEXTS = st.lists(st.sampled_from(WORDS), max_size=9).map(" ".join)
KERNELS = [
    pytest.param(False, id="numpy"),
    pytest.param(True, id="compiled", marks=pytest.mark.skipif(compiled is None, reason="numba is missing")),
]


def stems(text):
    return [stem(word) for word in words_of(text) if word not in STOP_WORDS]


def by_hand(texts, question):
    """BM25 (k1 1.2, b 0.75, always-positive idf) of every text, word by word."""
    docs = {id: Counter(stems(text)) for id, text in texts.items()}
    mean = sum(doc.total() for doc in docs.values()) / len(docs) or 1.0
    scores = dict.fromkeys(docs, 0.0)
    for word, uses in Counter(stems(question)).items():
        df = sum(word in doc for doc in docs.values())
        idf = math.log1p((len(docs) - df + 0.5) / (df + 0.5))
        for id, doc in docs.items():
            tf = doc[word]
            scores[id] += uses * idf * tf * (K1 + 1) / (tf + K1 * (1 - B + B * doc.total() / mean))
    return scores


@pytest.mark.parametrize("compile", KERNELS)
@given(texts=st.lists(TEXTS, min_size=1, max_size=12), question=st.sampled_from(WORDS))
@settings(max_examples=60, deadline=None)
def test_one_word_is_scored_as_by_hand_within_a_byte_of_impact(compile, texts, question):
    held = dict(enumerate(texts))
    found = dict(TextIndex.build(held.items(), compile=compile).search(question, k=20))
    expected = {id: score for id, score in by_hand(held, question).items() if score > 0}
    assert found.keys() == expected.keys()
    assert all(found[id] == pytest.approx(expected[id], rel=0.02, abs=0.01) for id in found)


@pytest.mark.skipif(compiled is None, reason="numba is missing")
@given(st.lists(TEXTS, max_size=40), TEXTS)
@settings(max_examples=60, deadline=None)
def test_compiled_and_numpy_kernels_give_the_same(texts, question):
    one, other = (TextIndex.build(enumerate(texts), compile=way) for way in (True, False))
    assert_same(one.search(question, k=15), other.search(question, k=15))


@pytest.mark.skipif(compiled is None, reason="numba is missing")
def test_the_kernels_agree_over_many_blocks_and_all_kinds_of_terms():
    chance = np.random.default_rng(3)
    p = 1.0 / (np.arange(400) + 2.0)
    drawn = chance.choice(400, (20_000, 12), p=p / p.sum())
    texts = [" ".join([f"unit{n // 5}", *(f"word{word}" for word in row)]) for n, row in enumerate(drawn)]
    one, other = (TextIndex.build(enumerate(texts), compile=way) for way in (True, False))
    kind = one._postings.parts[0].segment.kind
    assert (kind <= -2).any() and (kind >= 0).any() and (kind == -1).any()
    for n in range(40):
        assert_same(one.search(texts[n * 499], k=30), other.search(texts[n * 499], k=30))


def assert_same(one, other):
    """The same to the rounding of a weight, which may turn round what differs by less."""
    assert [score for _, score in one] == pytest.approx([score for _, score in other], rel=1e-5)
    least = min((score for _, score in one), default=0.0) * (1 + 1e-5)
    assert {id for id, score in one if score > least} == {id for id, score in other if score > least}


CHANGES = st.lists(st.tuples(st.integers(0, 9), TEXTS | st.none(), st.booleans()), max_size=30)


@pytest.mark.parametrize("compile", KERNELS)
@given(first=st.dictionaries(st.integers(0, 9), TEXTS, max_size=6), changes=CHANGES, question=TEXTS)
@settings(max_examples=60, deadline=None)
def test_after_changes_and_merges_the_living_texts_are_found_and_no_others(compile, first, changes, question):
    index, kept = TextIndex.build(first.items(), compile=compile, background=False), dict(first)
    for id, text, merge in changes:
        if text is None:
            assert index.delete(id) == (kept.pop(id, None) is not None)
        else:
            index.put(id, text)
            kept[id] = text
        if merge:
            index.merge()
    asked = set(stems(question))
    assert {id for id, _ in index.search(question, k=50)} == {
        i for i, t in kept.items() if asked & set(stems(t))
    }
    index.merge()
    assert len(index) == len(kept) and all(id in index for id in kept)
    anew = TextIndex.build(kept.items(), compile=compile)
    assert {id for id, _ in index.search(question, k=50)} == {id for id, _ in anew.search(question, k=50)}


def test_a_text_written_anew_is_found_by_its_new_words_only_at_once():
    index = TextIndex.build([("a", "belt squeals"), ("b", "heater cold")])
    index.put("a", "relay clicks")
    assert [id for id, _ in index.search("relay")] == ["a"]
    assert index.search("belt") == []
    assert index.delete("b") and index.search("heater") == []


def test_of_equal_texts_the_older_comes_first():
    index = TextIndex.build([(n, "belt squeals") for n in (5, 3, 9)], background=False)
    index.put(1, "belt squeals")
    assert [id for id, _ in index.search("belt")] == [5, 3, 9, 1]
    index.merge()
    assert [id for id, _ in index.search("belt", k=3)] == [5, 3, 9]


def test_a_misspelt_word_is_mended_and_said():
    index = TextIndex.build([("a", "alternator whines"), ("b", "starter clicks")])
    asked = index.ask("alternater wines")
    assert asked.read_as == {"alternater": ("alternator",), "wines": ("whines",)}
    assert [id for id, _ in index.find(asked)] == ["a"]
    assert index.ask("alternator").read_as == {} and index.search("zzzzzz qq 12x") == []


def test_a_word_of_a_fresh_text_mends_a_slip_too():
    index = TextIndex.build([("a", "belt squeals")], background=False)
    index.put("b", "compressor seized")
    assert [id for id, _ in index.search("compresor")] == ["b"]


def test_a_form_no_text_has_is_found_by_its_stem_and_is_no_slip():
    index = TextIndex.build([("a", "belt squeals"), ("b", "heater cold")])
    assert index.ask("squealing").read_as == {}
    assert [id for id, _ in index.search("squealing")] == ["a"]


@pytest.mark.parametrize("typed", ["12-3456-A", "12.3456.a", "123456a", "3456"])
def test_a_part_number_is_one_word_however_its_dashes_are_written(typed):
    index = TextIndex.build([("a", "fitted 12-3456-A new"), ("b", "fitted 12-9999-A new")])
    assert [id for id, _ in index.search(typed)] == ["a"]


@pytest.mark.parametrize("typed", ["P0301", "p0301-00", "code p0301."])
def test_a_code_is_found_with_its_suffix_and_without(typed):
    index = TextIndex.build([("a", "stored P0301-00"), ("b", "stored P0302")])
    assert [id for id, _ in index.search(typed)] == ["a"]


def test_a_measure_is_one_word_and_joined_words_are_several():
    assert words_of("12.4V wet/cold no-start at 3.5.") == ["12.4v", "wet", "cold", "no", "start", "at", "3.5"]
    index = TextIndex.build([("a", "reads 12.4V"), ("b", "reads 12.9V")])
    assert [id for id, _ in index.search("12.4V")] == ["a"]


@pytest.mark.parametrize("typed", ["LH", "l/h", "L.H."])
def test_single_letters_joined_are_one_word(typed):
    assert words_of("A/C off, wet/cold door, plan b. a") == [
        "a/c",
        "off",
        "wet",
        "cold",
        "door",
        "plan",
        "b",
        "a",
    ]
    index = TextIndex.build([("a", "replace L/H door"), ("b", "replace R/H door, h and l")])
    assert [id for id, _ in index.search(typed)] == ["a"]


PIECES = st.text(st.sampled_from("abZé10.-/,'_(²٣"), max_size=8)


@given(st.lists(PIECES, max_size=6), st.sampled_from([" ", "\n", " \t", "\x1c", "\u2003"]))
def test_no_word_has_a_space_in_it_and_a_sign_after_it_changes_none(pieces, space):
    assert words_of(space.join(pieces)) == [word for piece in pieces for word in words_of(piece)]
    plain = [piece for piece in pieces if piece.isalnum()]
    assert words_of(" ".join(plain)) == words_of(", ".join(plain) + ";")


@given(st.lists(st.lists(st.sampled_from([*WORDS, "the", "12-3456-A", "98-7654"])).map(" ".join), max_size=5))
def test_texts_read_at_once_are_read_as_one_by_one(texts):
    words = Words()
    alone = [words.read([text])[0].tolist() for text in texts]
    flat, ends = words.read(texts)
    assert flat.tolist() == [number for numbers in alone for number in numbers]
    assert ends.tolist() == np.cumsum([len(numbers) for numbers in alone], dtype=int).tolist()
    assert all(number >= -1 for number in flat.tolist())


def test_kindred_words_stand_beside_the_written_one_in_texts_and_questions():
    def also(word):
        return {"maf": ("mass", "airflow")}.get(word, ())

    index = TextIndex.build([("a", "MAF dirty"), ("b", "belt squeals")], also=also)
    assert [id for id, _ in index.search("airflow")] == ["a"]
    index.put("c", "airflow meter cracked")
    assert {id for id, _ in index.search("maf")} == {"a", "c"}
    again = TextIndex.from_bytes(index.to_bytes(), also=also)
    assert {id for id, _ in again.search("maf")} == {"a", "c"}


def test_a_page_of_dashes_is_read_in_no_time_worth_telling():
    assert words_of("a-" * 9_999) == ["a"] * 9_999
    assert len(words_of("a/" * 9_999)) == 1


def test_nothing_asked_and_nothing_held_find_nothing():
    assert TextIndex().search("belt") == TextIndex.build([]).search("belt") == []
    held = TextIndex.build([("a", "belt squeals")])
    assert held.search("") == held.search("the and of") == held.search("belt", k=0) == []


def test_an_impact_grows_with_use_and_falls_with_length():
    often, long = impacts(np.array([1, 2, 5]), 10, 10.0), impacts(np.array(2), np.array([5, 10, 50]), 10.0)
    assert list(often) == sorted(often) and list(long) == sorted(long, reverse=True)
    assert impacts(np.array(1), np.array(10**6), 1.0) == 1


def test_questions_and_changes_go_on_while_it_merges():
    index = TextIndex.build([(n, f"{WORDS[n % 9]} unit{n}") for n in range(2000)])
    failures = []

    def ask():
        for n in range(300):
            if [id for id, _ in index.search(f"unit{n}", k=1)] != [n]:
                failures.append(n)

    asking = threading.Thread(target=ask)
    asking.start()
    for n in range(2000, 2000 + 3 * FRESH):
        index.put(n, f"belt unit{n}")
        assert index.search(f"unit{n}", k=1)[0][0] == n
    asking.join()
    index.merge()
    assert not failures and len(index) == 2000 + 3 * FRESH


HELD = [("a", "belt squeals wet"), (7, "heater cold fan")]
SAVED = TextIndex.build(HELD).to_bytes()


def test_a_saved_index_answers_alike_and_goes_on():
    index = TextIndex.from_bytes(SAVED)
    assert index.search("belt hheater") == TextIndex.build(HELD).search("belt hheater") != []
    index.put(8, "relay clicks")
    assert index.delete("a")
    again = TextIndex.from_bytes(index.to_bytes())
    assert {id for id, _ in again.search("belt heater relay")} == {7, 8}


@given(st.integers(0, len(SAVED) - 1), st.integers(1, 255))
def test_a_damaged_byte_of_a_saved_index_is_found(place, flip):
    damaged = bytearray(SAVED)
    damaged[place] ^= flip
    with pytest.raises(SavedIndexUnusable):
        TextIndex.from_bytes(bytes(damaged))


@given(st.integers(0, len(SAVED) - 1))
def test_a_saved_index_cut_short_is_refused(size):
    with pytest.raises(SavedIndexUnusable):
        TextIndex.from_bytes(SAVED[:size])


def test_ids_that_cannot_be_written_are_named():
    with pytest.raises(TypeError, match="id 1.5"):
        TextIndex.build([(1.5, "belt")]).to_bytes()
