"""Cases are chosen by their briefs as by all that is known of them."""

from hypothesis import given, settings
from hypothesis import strategies as st
from made_cases import Maker

from baylore_kb.afar import Brief, brief_of
from baylore_kb.afar.brief import best, facet_term, promise
from baylore_kb.casedoc import Reader
from baylore_kb.index import Snapshot
from baylore_kb.lexicon import Lexicon, WordBook
from baylore_kb.question import understand
from baylore_kb.trade import load
from baylore_kb.values import Complaint

TRADE = load()
MADE = Maker(TRADE, seed=12).cases(40)
SHOP = Snapshot.build(MADE)
BRIEFS = [Brief(case.id, SHOP.doc(case.id).length, brief_of(SHOP.doc(case.id), SHOP.reader)) for case in MADE]


def promised(complaint, briefs=BRIEFS):
    """What each brief promises a complaint whose words are all spelt as the shop spells them."""
    question = understand(complaint, SHOP)
    facets = SHOP.facet_weights(question)
    alike = SHOP.search.stand_ins(question.analysis, question.weights)
    terms = {SHOP.reader.lexicon.terms[n]: worth for n, worth in alike.items()} | question.weights
    return promise(briefs, terms, facets, mean_length=SHOP.living.mean_length)


@given(st.sampled_from(MADE), st.integers(1, 12), st.randoms())
@settings(max_examples=25, deadline=None)
def test_briefs_choose_what_the_memory_chooses_in_whatever_order_they_come(case, limit, chance):
    asked = understand(case.complaint, SHOP)
    wanted = [each.case.id for each in SHOP.candidates(asked, limit=limit)]
    mixed = chance.sample(BRIEFS, len(BRIEFS))
    assert best(mixed, promised(case.complaint, mixed), limit=limit) == wanted


def test_a_case_left_out_makes_room_for_the_next():
    promises = promised(MADE[0].complaint)
    first, second, *_ = best(BRIEFS, promises, limit=3)
    assert best(BRIEFS, promises, limit=1, leave_out=frozenset({first})) == [second]


def test_what_promises_nothing_is_not_chosen():
    assert best(BRIEFS, promised(Complaint("")), limit=5) == []
    assert best([], promise([], {"pump": 1.0}, {}, mean_length=1.0), limit=5) == []
    assert not promise(BRIEFS, {"unheard": 1.0}, {"code:P9999": 1.0}, mean_length=1.0).any()


def test_a_word_is_no_facet_of_the_same_name():
    said = next(word for word in SHOP.reader.lexicon.terms if facet_term(word) != word)
    assert promise(BRIEFS, {said: 1.0}, {}, mean_length=1.0).any()
    assert not promise(BRIEFS, {}, {said: 1.0}, mean_length=1.0).any()


def test_a_brief_does_not_tell_what_else_its_reader_had_read():
    reader, doc = SHOP.reader, SHOP.doc(MADE[7].id)
    book = WordBook()
    fresh = Reader(reader.analyzer, Lexicon(), book, TRADE, reader.spotter)
    assert brief_of(fresh.read(MADE[7]), fresh) == brief_of(doc, reader)
