"""The harness itself: sets, measures, what is kept, and agreement with printed figures."""

import random
from dataclasses import replace

import pytest
from tests.quality import engines, shops
from tests.quality.mishearing import misheard, slipped
from tests.quality.published import PRINTED, WITHIN, apart
from tests.quality.queryset import Query, QuerySet, answerable, thinned
from tests.quality.run import results_of, rows
from tests.quality.sets import evaluate, load, present

TEXTS = {
    "a": "compressor clutch slips when hot",
    "b": "compressor clutch slips when hot",
    "c": "blower only works on high",
}
# `tests.quality.run` tells any figure unlike the printed one on the others, which take longer.
CHECKED = ("complaints", "recalls-car", "orders-system", "short-texts", "cranfield", "cisi")


@pytest.fixture
def small():
    asked = (
        Query("1", "clutch slips", {"b": 1.0}, frozenset({"a"})),
        Query("2", "blower on high", {"c": 1.0}),
        Query("3", "clutch slips", {"b": 1.0}),
    )
    return QuerySet("small", TEXTS, asked)


@pytest.fixture(autouse=True)
def kept_apart(monkeypatch, tmp_path):
    monkeypatch.setattr(engines, "_FOLDER", tmp_path / "kept")


@pytest.mark.parametrize("engine", [name for name in engines.ENGINES if name not in engines.OF_CASES])
def test_every_engine_hides_the_asked_record_and_breaks_ties_by_place(small, engine):
    if engines.version(engine) is None:
        pytest.skip(f"{engine} is not installed")
    assert engines.ranked(small, engine).ranks == (1.0, 1.0, 0.5)


@pytest.mark.parametrize("engine", list(engines.PEERS))
def test_a_question_without_words_finds_nothing(small, engine):
    if engines.version(engine) is None:
        pytest.skip(f"{engine} is not installed")
    blank = replace(small, queries=(Query("1", "?! ...", {"a": 1.0}),))
    assert engines.ranked(blank, engine).hit_10 == 0.0


def test_rankings_are_measured_over_all_queries_and_a_missing_one_counts_as_nothing(small):
    result = evaluate({"1": ["c", "b"], "2": ["c"]}, small)
    assert result.ranks == (0.5, 1.0, 0.0)
    assert (result.hit_1, result.hit_10, result.mrr) == (pytest.approx(1 / 3), pytest.approx(2 / 3), 0.5)


def test_only_the_first_ten_count(small):
    deep = evaluate({"2": [f"x{n}" for n in range(10)] + ["c"]}, small)
    assert deep.hit_10 == deep.mrr == deep.ndcg == 0.0


def test_what_a_peer_ranked_is_kept_until_what_it_reads_changes(small):
    made = engines.remembered(small, "TF-IDF")
    assert engines.kept(small, "TF-IDF") == replace(made, seconds=0.0)
    assert engines.kept(thinned(small, 2), "TF-IDF").ranks == made.ranks[::2]
    assert engines.kept(replace(small, queries=(Query("1", "other", {}),)), "TF-IDF") is None
    assert engines.kept(replace(small, documents={**TEXTS, "d": "new"}), "TF-IDF") is None
    assert engines.kept(small, "FTS5") is None


def test_our_own_rankings_are_never_kept(small):
    engines.remembered(small, "ours, text index")
    assert engines.kept(small, "ours, text index") is None


def test_ours_alone_is_compared_with_the_peers_kept_before(small):
    results_of(small, ["TF-IDF"], anew=True)
    again = results_of(small, ["ours, text index"], anew=False)
    assert [each.engine for each in again] == ["TF-IDF", "ours, text index"]
    assert "+0.000 [+0.000, +0.000] p 1.0000" in list(rows("small", small, again, seed=0))[-1]


def test_queries_without_a_right_answer_are_left_out_and_counted(small):
    wanting = replace(small, queries=(*small.queries, Query("4", "odd", {})))
    assert (len(answerable(wanting).queries), answerable(wanting).unanswerable) == (3, 1)


def test_thinning_asks_fewer_queries_spread_over_the_set(small):
    assert [query.id for query in thinned(small, 2).queries] == ["1", "3"]
    assert thinned(small, 3) is small and thinned(small, None) is small


@pytest.mark.slow
@pytest.mark.parametrize("name", CHECKED)
def test_baselines_come_out_as_printed(name):
    if not present(name):
        pytest.skip(f"BAYLORE_OUTSIDE_DATA holds no {name}")
    here = [peer for peer in PRINTED[name] if engines.version(peer)]
    assert {peer: apart(name, engines.ranked(load(name), peer)) <= WITHIN for peer in here} == dict.fromkeys(
        here, True
    )


@pytest.mark.parametrize("name", ["demo", "town-misheard"])
def test_an_invented_shop_is_asked_without_what_was_found_out(name):
    given = load(name)
    cases = {case.id: case for case in given.cases}
    for query in given.queries:
        asked = cases[query.id]
        assert query.id in query.hidden and not query.hidden & query.grades.keys()
        assert {cases[id].cause for id in query.grades} == {asked.cause}
        assert asked.confirmed_by not in {test.test for test in query.known.tests}
        assert query.known == replace(query.known, parts=(), repairs=(), objections=())
        assert query.known.text == query.text


def test_another_seed_makes_another_shop_and_the_same_seed_the_same(monkeypatch):
    monkeypatch.setattr(shops, "CASES", 80)
    first, again, other = load("town"), load("town"), load("town", seed=1)
    assert first == again
    assert first.documents != other.documents


def test_a_slip_changes_one_letter_of_a_longer_word():
    text = "the compressor will not engage"
    assert slipped(text, 0, random.Random(1)) == text
    for seed in range(50):
        changed = slipped(text, 1, random.Random(seed)).split()
        assert sum(a != b for a, b in zip(changed, text.split(), strict=True)) == 1
        assert changed[0] == "the" and changed[3] == "not"


def test_a_misheard_complaint_has_no_stops_and_at_most_so_many_other_words():
    text = "Brakes squeal, steering pulls."
    assert misheard(text, 0, random.Random(1)) == "brakes squeal steering pulls"
    heard = misheard(text, 2, random.Random(1)).split()
    assert sum(word not in heard for word in ("brakes", "squeal", "steering", "pulls")) == 2
