"""A memory whose cases lie elsewhere answers like one that holds them, as long as they are found."""

from dataclasses import replace

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from made_cases import Maker

from baylore_kb.advice import advise
from baylore_kb.afar import Brief, FarSnapshot, News, brief_of, pack_counts, read, unpack_counts, write
from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.index import Snapshot
from baylore_kb.trade import load
from baylore_kb.values import Complaint

TRADE = load()
MADE = Maker(TRADE, seed=33).cases(30)


class Shelf:
    """A source that finds everything, in no order worth mentioning."""

    def __init__(self, spelt=None):
        self.cases, self.written, self.briefs = {}, {}, {}
        self.spelt, self.asked = spelt or {}, []

    def find(self, sought, *, limit, choose):
        assert sought.cases == len(self.cases) and limit >= len(self.written)
        found = [brief for id, brief in sorted(self.briefs.items()) if self.cases[id].state != "open"]
        return [self.written[id] for id in choose(found)]

    def alike(self, words):
        self.asked += words
        return self.spelt


def told(snapshot, cases=(), gone=()):
    """The news of these cases, and the shelf as it is after them."""
    shelf, news = snapshot.source, []
    for id in gone:
        news.append(News(id, read(shelf.written.pop(id), snapshot.reader), None))
        del shelf.cases[id], shelf.briefs[id]
    for case in cases:
        was = shelf.written.get(case.id)
        doc = snapshot.reader.read(case)
        shelf.cases[case.id], shelf.written[case.id] = case, write(doc, snapshot.reader)
        shelf.briefs[case.id] = Brief(case.id, doc.length, brief_of(doc, snapshot.reader))
        news.append(News(case.id, was and read(was, snapshot.reader), doc))
    return news


def far(cases=MADE):
    empty = FarSnapshot.none(TRADE, Shelf())
    return empty.with_news(told(empty, cases), revision=7)


SHOP, FAR = replace(Snapshot.build(MADE), revision=7), far()


@pytest.mark.parametrize("case", MADE[:8], ids=lambda case: case.id)
def test_a_far_memory_answers_as_one_at_hand(case):
    assert advise(case.complaint, FAR) == advise(case.complaint, SHOP)
    asked = Complaint(case.complaint.text)
    assert advise(asked, FAR, leave_out={case.id}) == advise(asked, SHOP, leave_out={case.id})


@given(st.sets(st.sampled_from(range(30))), st.sets(st.sampled_from(range(30))), st.data())
@settings(max_examples=3, deadline=None, phases=[Phase.explicit, Phase.generate])
def test_news_change_a_far_memory_as_one_at_hand(gone, changed, data):
    snapshot = far()
    new = [replace(MADE[n], title=MADE[n].title + " zorbit", verified=False) for n in sorted(changed - gone)]
    news = told(snapshot, new, [MADE[n].id for n in sorted(gone)])
    followed = snapshot.with_news(news, revision=8)
    near = Snapshot.build(MADE).with_changes(put=new, deleted={MADE[n].id for n in gone}, revision=8)
    asked = MADE[data.draw(st.integers(0, 29))].complaint
    assert advise(asked, followed) == advise(asked, near)


def test_what_was_counted_is_packed_for_others():
    again = unpack_counts(pack_counts(FAR), TRADE, FAR.source)
    assert again.revision == 7 and again.tally == FAR.tally
    for case in MADE[:4]:
        assert advise(case.complaint, again) == advise(case.complaint, FAR)


def test_damaged_counts_are_refused():
    with pytest.raises(SavedIndexUnusable):
        unpack_counts(pack_counts(FAR)[:-40], TRADE, FAR.source)


def test_a_far_memory_of_nothing_answers_from_the_lists():
    empty = FarSnapshot.none(TRADE, Shelf())
    asked = Complaint("one click and no crank")
    assert advise(asked, empty) == advise(asked, Snapshot.build(()))


def test_a_word_nothing_like_is_known_of_is_asked_of_the_source_and_found_by_what_that_says():
    lone = replace(MADE[0], id="lone", complaint=Complaint("quetzal"))
    shelf = Shelf({"kwettsl": [("quetzal", 0.4), ("unheard", 0.3)]})
    empty = FarSnapshot.none(TRADE, shelf)
    snapshot = empty.with_news(told(empty, [*MADE, lone]), revision=7)
    (first, *_) = advise(Complaint("kwettsl"), snapshot, limit=3).cases
    assert first.case.id == "lone" and shelf.asked == ["kwettsl"]


def test_a_word_that_is_known_or_spelt_like_one_is_not_asked_of_the_source():
    lone = replace(MADE[0], id="lone", complaint=Complaint("quetzal"))
    empty = FarSnapshot.none(TRADE, Shelf())
    snapshot = empty.with_news(told(empty, [*MADE, lone]), revision=7)
    for words in ("quetzal", "quetzaal"):
        assert advise(Complaint(words), snapshot, limit=3).cases[0].case.id == "lone"
    assert snapshot.source.asked == []
