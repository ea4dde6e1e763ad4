"""What lives in a snapshot is counted the same whatever order changes came in."""

from hypothesis import given, settings
from hypothesis import strategies as st

from baylore_kb.index import Snapshot
from baylore_kb.values import Case, Complaint, Vehicle

WORDS = ("belt squeals", "heater cold", "starter clicks", "P0301 misfire", "washer dead")
CARS = ("Linnet", "Wren", "")


def case(number, words, car):
    said = Complaint(WORDS[words], Vehicle(model=CARS[car]))
    return Case(f"c{number}", said, "closed", cause="own.wet_joint")


@given(
    st.lists(st.tuples(st.integers(0, 5), st.integers(0, 4), st.integers(0, 2), st.booleans()), max_size=15)
)
@settings(max_examples=25, deadline=None)
def test_counts_after_changes_equal_counts_from_the_start(changes):
    shop, kept = Snapshot.build([]), {}
    for number, words, car, delete in changes:
        one = case(number, words, car)
        shop = shop.with_changes(put=[] if delete else [one], deleted=[one.id] if delete else [], revision=1)
        kept = {id: other for id, other in kept.items() if id != one.id} | ({} if delete else {one.id: one})
    anew = Snapshot.build(kept.values())
    assert dict(shop.cases) == kept
    assert (shop.living.length, shop.cars.models) == (anew.living.length, anew.cars.models)
    assert {facet: shop.count(facet) for facet in facets(anew)} == {
        facet: anew.count(facet) for facet in facets(anew)
    }
    assert facets(shop) == facets(anew)


def facets(shop):
    return {f"{kind}:{name}" for kind, held in shop.living.facets.items() for name in held}


def test_joining_and_making_compact_leave_the_answers():
    shop = Snapshot.build([case(n, n % 5, n % 3) for n in range(6)])
    for n in range(6, 40):
        shop = shop.with_changes(put=[case(n, n % 5, n % 3)], deleted=[f"c{n - 6}"], revision=n)
    asked = shop.analyzer.analyze("belt squeals heater")
    answers = [
        [each.case.id for each in one.search.best(asked, {}, among=one.living.evidence, limit=9)]
        for one in (shop, shop.joined(), shop.compacted())
    ]
    assert answers[0] and answers[0] == answers[1] == answers[2]


def test_what_died_is_let_go_when_segments_are_joined_and_answers_stay():
    shop = Snapshot.build([case(n, n % 5, n % 3) for n in range(30)])
    for n in range(90):
        shop = shop.with_changes(put=[case(n % 20, n % 5, n % 3)], deleted=[], revision=n)
        shop = shop.joined() if shop.scattered else shop
        holding = [doc for part in shop.segments for doc in part.docs if doc.case.id]
        assert len(holding) <= len(shop.cases) + 65
    tidy, anew = shop.joined(), Snapshot.build(shop.cases.values())
    assert sum(len(part.docs) for part in tidy.segments) > len(tidy.cases)
    assert len([doc for part in tidy.segments for doc in part.docs if doc.case.id]) == len(tidy.cases)
    asked = shop.analyzer.analyze("belt squeals heater")
    found = [
        {each.case.id for each in one.search.best(asked, {}, among=one.living.evidence, limit=40)}
        for one in (shop, tidy, tidy.with_changes(put=[case(3, 1, 1)], deleted=["c7"], revision=99), anew)
    ]
    assert found[0] == found[1] == found[3] and "c7" not in found[2]
