"""A snapshot finds candidates by words, spelling, codes, symptoms and vehicle, and changes cheaply."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made_cases import Maker

from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.tally import Tally
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, PartTried, RepairTried, Vehicle

MADE = Maker(load(), seed=5).cases(30)
FRESH = Maker(load(), seed=6).cases(8)
ASKED = [Complaint("ac cold then warm", Vehicle(2011, "Tarrow", "Linnet")), Complaint("one click, no crank")]


def closed(number, text, *, cause="own.wet_joint", state="closed", **more):
    return Case(f"c{number}", Complaint(text, **more), state, cause=cause)


def found(snapshot, complaint, **options):
    return [each.case.id for each in snapshot.candidates(understand(complaint, snapshot), **options)]


def test_the_case_with_the_same_words_comes_first():
    snapshot = Snapshot.build([closed(1, "squeal from belt when wet"), closed(2, "window stuck half way")])
    assert found(snapshot, Complaint("belt squeals in the wet"))[0] == "c1"


def test_a_misspelt_case_is_found():
    snapshot = Snapshot.build([closed(1, "altternatorr whining"), closed(2, "window stuck half way")])
    assert found(snapshot, Complaint("alternator"))[0] == "c1"


def test_a_shared_rare_code_is_found_with_no_words_in_common():
    others = [closed(n, "brake pedal soft") for n in range(2, 12)]
    snapshot = Snapshot.build([closed(1, "qqq", codes=("B1342",)), *others])
    assert found(snapshot, Complaint("brake pedal soft b1342"), limit=3)[0] == "c1"


def test_a_shared_symptom_is_found_with_no_words_in_common():
    snapshot = Snapshot.build([closed(1, "qqq", symptoms=("heat_none",)), closed(2, "qqq")])
    assert found(snapshot, Complaint("zzz", symptoms=("heat_none",))) == ["c1"]


def test_the_same_model_with_the_suspected_system_is_found():
    car = Vehicle(model="Linnet")
    past = replace(closed(1, "qqq", vehicle=car), cause_system="aircon")
    snapshot = Snapshot.build([past, closed(2, "qqq", vehicle=car)])
    assert found(snapshot, Complaint("zzz", car, symptoms=("no_cold_air",))) == ["c1"]


def test_what_stayed_wrong_after_a_part_or_repair_is_found():
    part = PartTried("cooling.fan_motor", "aftermarket", "partly", note="lamp out but blower howls")
    repair = RepairTried("own.wet_joint", "partly", note="blower howls when wet")
    for tried in ({"parts": (part,)}, {"repairs": (repair,)}):
        snapshot = Snapshot.build([closed(1, "qqq", **tried), closed(2, "window stuck half way")])
        assert found(snapshot, Complaint("blower howls"))[0] == "c1"


def test_open_cases_are_no_candidates_but_teach_words():
    snapshot = Snapshot.build([closed(1, "zorbit rattles", state="open", cause=None)])
    assert found(snapshot, Complaint("zorbit rattles")) == []
    assert snapshot.vocabulary.knows("zorbit")


def test_a_case_left_out_is_not_found():
    snapshot = Snapshot.build([closed(1, "belt squeal"), closed(2, "belt squeal")])
    assert found(snapshot, Complaint("belt squeal"), leave_out=frozenset({"c1"})) == ["c2"]


def test_an_empty_shop_and_an_empty_question_find_nothing():
    assert found(Snapshot.build([]), Complaint("belt squeal")) == []
    assert found(Snapshot.build([closed(1, "belt squeal")]), Complaint("")) == []


def test_the_older_snapshot_still_answers_after_changes():
    before = Snapshot.build(MADE, revision=1)
    answers = found(before, ASKED[0])
    after = before.with_changes(put=FRESH, deleted=[answers[0]], revision=2)
    assert found(before, ASKED[0]) == answers
    assert answers[0] not in after.cases
    assert (before.revision, after.revision) == (1, 2)


@given(st.lists(st.tuples(st.integers(0, 37), st.booleans(), st.integers(0, 37)), max_size=12))
@settings(max_examples=8, deadline=None)
def test_changes_answer_like_a_snapshot_built_anew(changes):
    pool = [replace(case, id=f"x{n}") for n, case in enumerate(MADE + FRESH)]
    changed, kept = Snapshot.build(pool[:20]), {case.id: case for case in pool[:20]}
    for place, delete, content in changes:
        put = [] if delete else [replace(pool[content], id=pool[place].id)]
        gone = [pool[place].id] if delete else []
        changed = changed.with_changes(put=put, deleted=gone, revision=changed.revision + 1)
        kept = {id: case for id, case in kept.items() if id not in gone} | {case.id: case for case in put}
    assert_same(changed, Snapshot.build(kept.values()))


def assert_same(changed, rebuilt):
    assert dict(changed.cases) == dict(rebuilt.cases)
    assert changed.tally.causes.keys() == Tally.of(rebuilt.cases.values()).causes.keys()
    for complaint in ASKED:
        one, other = (s.candidates(understand(complaint, s)) for s in (changed, rebuilt))
        assert [each.case.id for each in one] == [each.case.id for each in other]
        assert [each.words for each in one] == pytest.approx([each.words for each in other])
        assert [each.reasons for each in one] == [each.reasons for each in other]


def test_many_changes_to_one_case_keep_the_snapshot_small():
    snapshot = Snapshot.build(MADE[:3])
    for n in range(200):
        snapshot = snapshot.with_changes(put=[closed(1, f"belt squeal {n}")], deleted=[], revision=n)
    assert snapshot.living.size <= 2 * len(snapshot.cases) + 100
    assert len(snapshot.segments) < 10
    assert found(snapshot, Complaint("belt squeal"))[0] == "c1"
