"""A saved index answers like the one it was saved from, or is refused."""

import json
from dataclasses import replace
from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made_cases import Maker

from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.saved import pack, unpack
from baylore_kb.trade import load
from baylore_kb.values import Complaint

TRADE = load()
MADE = Maker(TRADE, seed=21).cases(24)
STAMPS = {case.id: "1" for case in MADE}
SHOP = Snapshot.build(MADE)
SAVED = b"".join(pack(SHOP, stamps=STAMPS, version="a"))


def opened(data=SAVED, cases=MADE, *, stamps=STAMPS, version="a"):
    return unpack(data, cases, stamps=stamps, version=version, trade=TRADE, revision=7)


def answers(snapshot, text):
    question = understand(Complaint(text), snapshot)
    return [(each.case, each.words, each.chars, each.reasons) for each in snapshot.candidates(question)]


def test_a_saved_index_answers_like_the_one_it_was_saved_from():
    again = opened()
    assert again.revision == 7 and dict(again.cases) == dict(SHOP.cases)
    for case in MADE[:6]:
        assert answers(again, case.complaint.text) == answers(SHOP, case.complaint.text) != []
        assert again.doc(case.id).judged == SHOP.doc(case.id).judged
    assert again.tally == SHOP.tally


@pytest.mark.parametrize("most", [1, 5, len(MADE)])
def test_cases_saved_in_blocks_of_any_size_come_back_as_they_were(most):
    with patch("baylore_kb.saved._BLOCK", most):
        again = opened(b"".join(pack(SHOP, stamps=STAMPS, version="a")))
    for case in MADE:
        was, now = SHOP.doc(case.id), again.doc(case.id)
        for name in ("terms", "weights", "words"):
            assert np.array_equal(getattr(was, name), getattr(now, name))
        assert (was.case, was.length, was.facets) == (now.case, now.length, now.facets)
        assert (was.symptoms, was.judged) == (now.symptoms, now.judged)


def test_no_piece_holds_more_than_a_few_hundred_cases():
    many = Snapshot.build(replace(MADE[n % len(MADE)], id=f"m{n}") for n in range(1200))
    pieces = pack(many, stamps=dict.fromkeys(many.cases, "1"), version="a")
    told = [json.loads(piece)["ids"] for piece in map(bytes, pieces) if piece.startswith(b'{"ids"')]
    assert [len(ids) for ids in told] == [500, 500, 200]


def test_a_case_changed_since_is_read_anew_and_one_deleted_is_gone():
    changed = replace(MADE[0], complaint=Complaint("zorbit howls in the rain"))
    cases = [changed, *MADE[2:]]
    again = opened(cases=cases, stamps=STAMPS | {changed.id: "2"})
    assert answers(again, "zorbit howls")[0][0] == changed
    assert MADE[1].id not in again.cases
    assert answers(again, MADE[3].complaint.text) == answers(Snapshot.build(cases), MADE[3].complaint.text)


def test_a_saved_index_goes_on_changing():
    grown = opened().with_changes(put=[replace(MADE[0], id="new")], deleted=[MADE[1].id], revision=8)
    anew = Snapshot.build([MADE[0], *MADE[2:], replace(MADE[0], id="new")])
    assert sorted(map(str, answers(grown, MADE[4].complaint.text))) == sorted(
        map(str, answers(anew, MADE[4].complaint.text))
    )


@given(st.integers(0, len(SAVED) - 1), st.integers(1, 255))
@settings(max_examples=60)
def test_a_damaged_byte_is_found_wherever_it_is(place, flip):
    damaged = bytearray(SAVED)
    damaged[place] ^= flip
    with pytest.raises(SavedIndexUnusable):
        opened(bytes(damaged))


@given(st.integers(0, len(SAVED) - 1))
@settings(max_examples=30)
def test_a_file_cut_short_is_refused(size):
    with pytest.raises(SavedIndexUnusable):
        opened(SAVED[:size])


def test_what_another_version_read_is_refused():
    with pytest.raises(SavedIndexUnusable, match="another version"):
        opened(version="b")
