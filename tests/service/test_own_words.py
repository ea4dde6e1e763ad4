"""A member's own word enters the shop's list, is never mended again, and can be taken out."""

from __future__ import annotations

import json

import pytest
from tests.service.app_fixtures import Floor

from baylore_kb.values import Complaint
from baylore_service.desk import own_words
from baylore_service.desk.advise import advise
from baylore_service.desk.house import House
from baylore_service.errors import BadValue, NotFound, WrongRole
from baylore_service.store.records import Actor


def read_as(house: House, actor: Actor, text: str) -> list[str]:
    """The words that were mended."""
    return [each.typed for each in advise(house, actor, Complaint(text)).read_as]


def test_a_kept_word_is_not_mended_from_the_next_question_on(house: House, tech: Actor, boss: Actor) -> None:
    assert read_as(house, boss, "compresor howls") == ["compresor"]
    own_words.add_word(house, tech, "Compresor")
    assert read_as(house, boss, "compresor howls") == []
    assert House.open(house.settings).hosts.snapshot(tech.shop.id).vocabulary.knows("compresor")
    assert [word.id for word in own_words.words(house, boss)] == ["compresor"]


def test_only_who_added_a_word_and_managers_take_it_out(house: House, tech: Actor, boss: Actor) -> None:
    own_words.add_word(house, boss, "grobble")
    with pytest.raises(WrongRole):
        own_words.remove_word(house, tech, "grobble")
    own_words.remove_word(house, boss, "Grobble")
    assert own_words.words(house, tech) == ()
    with pytest.raises(NotFound):
        own_words.remove_word(house, boss, "grobble")


@pytest.mark.parametrize("word", ["two words", "", "12.4 V", "P0301", "x" * 41])
def test_what_is_no_single_word_is_refused(house: House, tech: Actor, word: str) -> None:
    with pytest.raises(BadValue, match="not one word"):
        own_words.add_word(house, tech, word)


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


def test_words_go_out_and_in_with_the_shops_memory(floor: Floor) -> None:
    floor.post("/trade/words", {"word": "grobble"})
    lines = floor.ask("GET", "/export", who="manager").content.splitlines()
    assert [json.loads(line)["word"] for line in lines if b"own_word" in line] == ["grobble"]
    assert floor.ask("GET", "/trade/words").json() == {"words": ["grobble"]}
    floor.ask("DELETE", "/trade/words/grobble")
    assert floor.ask("GET", "/trade/words").json() == {"words": []}
