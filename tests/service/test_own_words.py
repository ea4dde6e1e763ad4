"""A member's own word enters the shop's list, is never mended again, and can be taken out."""

from __future__ import annotations

import json
from typing import Any

import pytest
from tests.service.app_fixtures import Floor

from baylore_kb.values import Complaint
from baylore_service.desk import own_words
from baylore_service.desk.advise import advise
from baylore_service.desk.house import House
from baylore_service.errors import AlreadyThere, BadValue, NotFound, WrongRole
from baylore_service.store.records import Actor
from baylore_service.store.records.own import OwnWord


def read_as(house: House, actor: Actor, text: str) -> list[str]:
    """The words that were mended."""
    return [each.typed for each in advise(house, actor, Complaint(text)).read_as]


def test_a_kept_word_is_not_mended_from_the_next_question_on(house: House, tech: Actor, boss: Actor) -> None:
    assert read_as(house, boss, "compresor howls") == ["compresor"]
    own_words.add_word(house, tech, "Compresor")
    assert read_as(house, boss, "compresor howls") == []
    assert House.open(house.settings).hosts.snapshot(tech.shop.id).vocabulary.knows("compresor")
    assert [(each.word.id, each.by) for each in own_words.words(house, boss)] == [
        ("compresor", tech.member.name)
    ]


def test_only_who_added_a_word_and_managers_take_it_out(house: House, tech: Actor, boss: Actor) -> None:
    own_words.add_word(house, boss, "grobble")
    with pytest.raises(WrongRole):
        own_words.remove_word(house, tech, "grobble")
    own_words.remove_word(house, boss, "Grobble")
    assert own_words.words(house, tech) == ()
    with pytest.raises(NotFound):
        own_words.remove_word(house, boss, "grobble")


@pytest.mark.parametrize("word", ["one two three four five", "", "12.4 V", "P0301", "x" * 61, "in the"])
def test_what_is_no_word_is_refused(house: House, tech: Actor, word: str) -> None:
    with pytest.raises(BadValue, match="word: that is"):
        own_words.add_word(house, tech, word)


@pytest.mark.parametrize("means", ["Grobble", "12.4", "x" * 61])
def test_a_meaning_that_says_nothing_is_refused(house: House, tech: Actor, means: str) -> None:
    with pytest.raises(BadValue, match="means: "):
        own_words.add_word(house, tech, "grobble", means=means)


def test_a_word_that_stands_for_another_finds_cases_by_both(house: House, tech: Actor, boss: Actor) -> None:
    own_words.add_word(house, tech, "Tin worm", means="rust")
    told = advise(house, boss, Complaint("tin worm in the floor")).read_as
    assert [(each.typed, each.read, each.kind) for each in told] == [("tin worm", "rust", "own")]
    analysis = House.open(house.settings).hosts.snapshot(tech.shop.id).analyzer.analyze("tin worm")
    assert {"tin", "worm", "rust"} <= set(analysis.terms)


def test_a_word_added_again_stays_as_it_is_and_another_meaning_is_a_conflict(
    house: House, tech: Actor, boss: Actor
) -> None:
    own_words.add_word(house, tech, "tin worm", means="rust")
    again = own_words.add_word(house, boss, "tin worm")
    assert isinstance(again, own_words.ListedWord) and again.word == OwnWord(
        "tin worm", tech.member.id, "rust"
    )
    with pytest.raises(AlreadyThere):
        own_words.add_word(house, boss, "tin worm", means="worms")


def test_who_added_a_word_and_managers_change_what_it_stands_for(
    house: House, tech: Actor, boss: Actor
) -> None:
    own_words.add_word(house, boss, "tin worm")
    with pytest.raises(WrongRole):
        own_words.amend_word(house, tech, "tin worm", {"means": "rust"})
    changed = own_words.amend_word(house, boss, "Tin worm", {"means": "rust"})
    assert isinstance(changed, own_words.ListedWord) and changed.word.means == "rust"
    assert read_as(house, tech, "tin worm") == ["tin worm"]
    own_words.amend_word(house, boss, "tin worm", {"means": None})
    assert read_as(house, tech, "tin worm") == []


def test_another_shop_does_not_know_the_word(house: House, tech: Actor, stranger: Actor) -> None:
    own_words.add_word(house, tech, "grobble")
    assert not house.hosts.snapshot(stranger.shop.id).vocabulary.knows("grobble")


def test_no_as_typed_travels_with_a_question_and_stays_with_a_case(floor: Floor) -> None:
    asked = {"complaint": "compresor howls", "as_typed": ["compresor"]}
    answer = floor.post("/advice", asked).json()
    assert answer["read_as"] == []
    assert (
        floor.post("/advice", {"complaint": "compresor howls"}).json()["read_as"][0]["read"] == "compressor"
    )
    case = floor.post("/cases", asked).json()
    assert case["as_typed"] == ["compresor"]
    assert floor.ask("GET", f"/cases/{case['id']}/advice").json()["read_as"] == []


def listed(floor: Floor, **options: Any) -> list[dict[str, Any]]:
    """The shop's words as the web lists them."""
    items: list[dict[str, Any]] = floor.get("/trade/words", **options).json()["items"]
    return items


def test_words_are_a_list_like_the_others(floor: Floor) -> None:
    before = floor.get("/trade/words")
    made = floor.post("/trade/words", {"word": "Tin  worm", "means": "rust"})
    assert made.status_code == 201 and made.json()["id"] == "tin worm"
    after = floor.get("/trade/words", headers={"If-None-Match": before.headers["etag"]})
    assert after.status_code == 200 and after.json()["list"] == "words"
    assert floor.get("/trade/words", headers={"If-None-Match": after.headers["etag"]}).status_code == 304
    assert [(each["id"], each["means"], each["yours"]) for each in listed(floor)] == [
        ("tin worm", "rust", True)
    ]
    assert "trade" in [each["kind"] for each in floor.get("/changes").json()["changes"]]
    assert listed(floor, who="stranger") == []


def test_the_same_key_adds_once_and_conflicts_are_409(floor: Floor) -> None:
    body, key = {"word": "tin worm", "means": "rust"}, {"Idempotency-Key": "k1"}
    first, second = (floor.post("/trade/words", body, headers=key) for _ in range(2))
    assert second.headers["Idempotent-Replay"] == "true" and first.json() == second.json()
    assert floor.post("/trade/words", body | {"means": "worms"}).status_code == 409
    assert floor.ask("PATCH", "/trade/words/tin%20worm", json={"means": ""}).json()["means"] == ""
    assert floor.ask("PATCH", "/trade/words/tin%20worm", json={"word": "x"}).status_code == 422
    assert floor.ask("DELETE", "/trade/words/tin%20worm").status_code == 204
    assert floor.ask("DELETE", "/trade/words/tin%20worm").status_code == 404


def test_every_reading_says_its_kind_and_place(floor: Floor) -> None:
    told = floor.post("/advice", {"complaint": "washr dead, alter nator whines"}).json()["read_as"]
    assert [(each["kind"], each["at"]) for each in told] == [("slip", 0), ("joined", 12)]


def test_words_go_out_and_in_with_the_shops_memory(floor: Floor) -> None:
    floor.post("/trade/words", {"word": "tin worm", "means": "rust"})
    body = floor.ask("GET", "/export", who="manager").content
    lines = [json.loads(line) for line in body.splitlines() if b"own_word" in line]
    assert [(line["word"], line["means"]) for line in lines] == [("tin worm", "rust")]
    lines_type = {"Content-Type": "application/x-ndjson"}
    floor.ask("POST", "/import?mode=all", who="stranger", content=body, headers=lines_type)
    assert [(each["id"], each["by"]) for each in listed(floor, who="stranger")] == [("tin worm", "")]
