"""A system that no list has is told by how the shop's own cases of it sound."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made_cases import Maker

from baylore_kb.advice import reckon
from baylore_kb.afar import FarSnapshot, News
from baylore_kb.heldout import asked_of_others
from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.saved import pack, unpack
from baylore_kb.system_sounds import HALF_KNOWN, Stories, SystemSounds
from baylore_kb.tfidf import smooth_idf
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint

TRADE = load()
LISTED = Maker(TRADE, seed=5).cases(20)
HEARD = {
    "awning": ("awning arm sticks half out", "awning fabric tears at the roller", "arm of the awning hums"),
    "winch": ("winch rope slips on the drum", "winch drum grinds under load", "rope jams on the winch"),
}


def filed(system, n, text, **more):
    cause = f"own.{system}_{n % 2}"
    return Case(f"{system}{n}", Complaint(text), "closed", cause=cause, cause_system=system, **more)


OWN = [filed(system, n, text, verified=True) for system, said in HEARD.items() for n, text in enumerate(said)]
SHOP = Snapshot.build([*LISTED, *OWN])
ASKED = Complaint("the arm of the awning does not roll in")


def sounds(snapshot, asked=ASKED, **more):
    return understand(asked, snapshot, **more).sounds


def figures(snapshot, **more):
    heard = sounds(snapshot, **more)
    return {(system, name): value for system in heard for name, value in heard[system]._asdict().items()}


def test_a_story_sounds_most_like_the_system_whose_cases_were_told_so():
    heard = sounds(SHOP)
    assert max(heard, key=lambda system: heard[system].share) == "awning"
    assert sum(sound.share for sound in heard.values()) == pytest.approx(1.0)


def test_a_story_of_a_listed_system_leaves_little_for_those_of_the_shop():
    for told in LISTED[:6]:
        heard = sounds(SHOP, told.complaint)
        assert heard["awning"].share + heard["winch"].share < heard[TRADE.causes[told.cause].system].share


def test_past_cases_of_the_system_a_story_sounds_like_come_first():
    hums = filed("winch", 7, "something hums when it turns and sticks", verified=True)
    shop = Snapshot.build(
        [*LISTED, *OWN, hums, filed("awning", 8, "something hums when it turns and sticks")]
    )
    found = reckon(Complaint("winch turns, rope sticks, something hums"), shop).matches
    chances = {match.case.id: match.chance for match in found}
    assert chances["winch7"] > chances["awning8"]


def test_a_shop_that_files_by_the_lists_alone_keeps_and_reckons_nothing():
    shop = Snapshot.build(LISTED)
    assert shop.stories is None and shop.system_sounds is None and sounds(shop) == {}
    gone = SHOP.with_changes(put=[], deleted=[case.id for case in OWN], revision=1)
    assert gone.stories is None and sounds(gone) == {}


def test_a_story_without_words_sounds_like_nothing():
    assert sounds(SHOP, Complaint("")) == sounds(SHOP, Complaint("zorbit")) == {}


def test_more_cases_make_a_system_better_known_and_an_unverified_cure_counts_half():
    shop = Snapshot.build([*OWN, filed("winch", 9, "winch squeals"), filed("mast", 1, "mast leans")])
    known = {system: sound.known for system, sound in sounds(shop).items()}
    assert known == {"awning": 3 / (3 + HALF_KNOWN), "winch": 3.5 / (3.5 + HALF_KNOWN), "mast": 0.5 / 5.5}


def test_a_symptom_heard_tells_a_system_where_no_word_is_shared():
    told = [filed("winch", 20 + n, "it howls") for n in range(3)]
    noisy = [replace(one, complaint=Complaint("it howls", symptoms=("brake_squeal",))) for one in told]
    shop = Snapshot.build([*OWN, *noisy])
    heard = sounds(shop, Complaint("", symptoms=("brake_squeal",)))
    assert heard["winch"].share > heard["awning"].share


def test_open_and_unresolved_cases_tell_nothing_of_a_system():
    others = [replace(OWN[0], id=state, state=state) for state in ("open", "unresolved")]
    assert not Stories.of(map(SHOP.reader.read, others)).told


def test_a_case_left_out_tells_nothing_of_how_its_system_sounds():
    alone = frozenset({"awning0", "awning1", "awning2"})
    assert sounds(SHOP, leave_out=alone).keys() == sounds(SHOP).keys() - {"awning"}
    assert not {"awning"} & reckon(ASKED, SHOP, leave_out=alone).question.sounds.keys()
    held = next(asked_of_others(SHOP, [OWN[0]]))
    assert held.question.sounds["awning"].known == 2 / (2 + HALF_KNOWN)


def test_a_memory_opened_again_and_one_that_lies_elsewhere_hear_the_same():
    stamps = dict.fromkeys(SHOP.cases, "1")
    saved = b"".join(pack(SHOP, stamps=stamps, version="a"))
    again = unpack(saved, SHOP.cases.values(), stamps=stamps, version="a", trade=TRADE, revision=0)
    empty = FarSnapshot.none(TRADE, None)
    news = [News(case.id, None, empty.reader.read(case)) for case in SHOP.cases.values()]
    far = empty.with_news(news, revision=0)
    for alone in (frozenset(), frozenset({"awning1"})):
        heard = pytest.approx(figures(SHOP, leave_out=alone))
        assert figures(again, leave_out=alone) == heard and figures(far, leave_out=alone) == heard
    assert FarSnapshot.none(TRADE, None).system_sounds is None


def test_the_first_case_under_a_system_of_the_shop_makes_all_its_systems_heard():
    shop = Snapshot.build(LISTED).with_changes(put=OWN, deleted=(), revision=1)
    assert figures(shop) == pytest.approx(figures(SHOP))
    assert sounds(shop.compacted()) == sounds(shop.joined()) == sounds(shop)


STORY = st.tuples(
    st.integers(0, 6), st.sampled_from(sorted(HEARD)), st.integers(0, 2), st.booleans(), st.booleans()
)


@given(st.lists(STORY, max_size=12))
@settings(max_examples=40, deadline=None)
def test_stories_after_changes_equal_those_summed_anew(changes):
    reader, held, stories = SHOP.reader, {}, Stories.of([])
    for number, system, words, verified, delete in changes:
        one = reader.read(filed(system, number, HEARD[system][words], verified=verified))
        was = held.pop(number, None)
        held |= {} if delete else {number: one}
        stories = stories.changed(removed=[was] if was else [], added=[] if delete else [one])
    anew = Stories.of(held.values())
    assert set(stories.told) == set(anew.told)
    for system, told in anew.told.items():
        assert stories.told[system].cases == told.cases
        assert stories.told[system].symptoms == told.symptoms
        size = len(told.terms)
        assert np.array_equal(stories.told[system].terms[:size], told.terms)
        assert not stories.told[system].terms[size:].any()


@given(st.sets(st.integers(0, len(OWN) - 1)))
@settings(max_examples=20, deadline=None)
def test_leaving_cases_out_equals_never_having_had_them(gone):
    docs = SHOP.docs(case.id for case in OWN)
    idf = smooth_idf(SHOP.living.held, SHOP.living.terms)
    left = SystemSounds.of(Stories.of(docs), idf).without(docs[n] for n in gone)
    anew = SystemSounds.of(Stories.of(doc for n, doc in enumerate(docs) if n not in gone), idf)
    assert set(left.lengths) == set(anew.lengths) == set(left.stories.told)
    for system, lengths in anew.lengths.items():
        assert left.lengths[system] == pytest.approx(lengths)
