"""A shop whose cases are found by PostgreSQL answers as one whose cases are in memory."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Any
from unittest.mock import patch

import psycopg
import pytest
from msgspec import to_builtins
from tests.service.house_fixtures import KINDS, LINNET, a_case, a_file

from baylore_kb.afar import Sought
from baylore_kb.trade.own import OwnCause
from baylore_kb.values import Complaint
from baylore_service.demo.loading import load
from baylore_service.desk import advise, cases, close, own_lists, own_words, shops
from baylore_service.desk.house import House
from baylore_service.errors import SettingRefused
from baylore_service.far_host import MOST_WALKED, asked
from baylore_service.settings import Settings
from baylore_service.store.records import Actor, Closing
from baylore_service.store.records import OwnCause as OwnWords
from baylore_service.store.seeking import words

ASKED = (
    Complaint("one click and nothing, lights go dim", LINNET),
    Complaint("rear washr runs by itself when the heated screen is on", codes=("B1342",)),
    Complaint("coolant smell, it's losing coolant \\ 'slowly'"),
    Complaint("zzz"),
    Complaint(""),
)
SHOP_CASES = 60

if "postgresql" not in KINDS:
    pytest.skip("BAYLORE_TEST_PG names no PostgreSQL", allow_module_level=True)


@pytest.fixture
def near(postgresql: Settings) -> Iterator[House]:
    """A house that holds the demo shop in memory."""
    with psycopg.connect(postgresql.database_url, autocommit=True) as connection:
        connection.execute("DROP SCHEMA IF EXISTS baylore_seek CASCADE")
    opened = House.open(postgresql)
    load(opened, count=SHOP_CASES)
    yield opened
    opened.close()


@pytest.fixture
def mechanic(near: House) -> Actor:
    """Somebody of the demo shop."""
    return shops.console(shops.list_shops(near)[0])


def opened_far(near: House) -> House:
    """A house over the same store that lets PostgreSQL find the cases."""
    return House.open(replace(near.settings, candidates="database"))


@contextmanager
def spelling(near: House) -> Iterator[House]:
    """As `opened_far`, with trigrams, for a while."""
    house = House.open(replace(near.settings, candidates="database", trigrams=1))
    yield house
    house.close()


@pytest.fixture
def far(near: House) -> Iterator[House]:
    """One of those, and another of another process."""
    opened = opened_far(near)
    yield opened
    opened.close()


def answers(house: House, actor: Actor, asked: Sequence[Complaint] = ASKED) -> list[Any]:
    """What a house says to some questions, but for the last digits: they hang on the order of sums."""
    found = [advise.advise(house, actor, complaint) for complaint in asked]
    return [rounded(to_builtins(each, str_keys=True, order="deterministic")) for each in found]


def rounded(value: Any) -> Any:
    """The same with eight decimals."""
    if isinstance(value, dict):
        return {key: rounded(each) for key, each in value.items()}
    if isinstance(value, (list, tuple)):
        return [rounded(each) for each in value]
    return round(value, 8) if isinstance(value, float) else value


def test_postgresql_finds_what_the_memory_finds(near: House, far: House, mechanic: Actor) -> None:
    assert answers(far, mechanic) == answers(near, mechanic)
    assert len(far.hosts.snapshot(mechanic.shop.id).cases) == SHOP_CASES
    case_id = next(iter(far.hosts.snapshot(mechanic.shop.id).cases))
    found = [advise.advise_case(each, mechanic, case_id).cases for each in (far, near)]
    assert [case.case.id for case in found[0]] == [case.case.id for case in found[1]]


def test_what_another_process_wrote_is_found_at_once(near: House, far: House, mechanic: Actor) -> None:
    other = opened_far(near)
    answers(other, mechanic), answers(far, mechanic)
    gone = advise.advise(far, mechanic, ASKED[0]).cases[0].case.id
    fresh = a_case(near, mechanic, "zorbit flaps at the tow bar")
    a_file(close.close_case(near, mechanic, fresh.id, Closing(cause="starting.ground_cable.high_resistance")))
    cases.delete_case(near, mechanic, gone, expected_revision=None)
    found = advise.advise(far, mechanic, Complaint("zorbit at tow bar"))
    assert fresh.id in {match.case.id for match in found.cases}
    assert answers(far, mechanic) == answers(other, mechanic) == answers(near, mechanic)
    other.close()


def test_a_change_of_lists_reads_the_cases_it_concerns_anew(near: House, far: House, mechanic: Actor) -> None:
    fresh = a_case(near, mechanic, "wuppel is loose")
    gone = Closing(own_cause=OwnWords("Wuppel gone", "brakes"))
    a_file(close.close_case(near, mechanic, fresh.id, gone))
    answers(far, mechanic)
    own_words.add_word(near, mechanic, "wuppel", means="wheel bearing")
    listed = OwnCause("", "Wuppel gone", "brakes", ("brake_squeal",), fix="new wuppel")
    own_lists.add_cause(near, mechanic, listed)
    assert answers(far, mechanic) == answers(near, mechanic)
    meant = [Complaint("wheel bearing is loose")]
    assert answers(far, mechanic, meant) == answers(near, mechanic, meant)
    assert fresh.id in {match.case.id for match in advise.advise(far, mechanic, meant[0]).cases}


def test_a_process_that_begins_later_takes_what_was_counted(near: House, far: House, mechanic: Actor) -> None:
    answers(far, mechanic)
    far.hosts.save()
    a_case(near, mechanic, "another one")
    later = opened_far(near)
    assert answers(later, mechanic) == answers(near, mechanic)
    assert answers(far, mechanic) == answers(near, mechanic)
    later.close()


def test_a_store_that_was_set_back_is_read_anew(near: House, far: House, mechanic: Actor) -> None:
    answers(far, mechanic)
    with near.store.write() as work:
        work.connection.exec_driver_sql("UPDATE baylore_seek.shops SET filled = 999999")
    later = opened_far(near)
    assert answers(later, mechanic) == answers(near, mechanic)
    later.close()


def test_tables_of_another_layout_are_made_anew(near: House, mechanic: Actor) -> None:
    with near.store.write() as work:
        work.connection.exec_driver_sql("CREATE SCHEMA baylore_seek; CREATE TABLE baylore_seek.shops (n int)")
    later = opened_far(near)
    assert answers(later, mechanic) == answers(near, mechanic)
    later.close()


def test_a_sqlite_store_cannot_search_by_itself(sqlite: Settings) -> None:
    with pytest.raises(SettingRefused, match="SQLite"):
        House.open(replace(sqlite, candidates="database"))


def test_rare_words_are_looked_for_alone_and_those_found_everywhere_by_twos() -> None:
    worth = {"rare": 3.0, "often": 2.0, "everywhere": 1.0}
    held = {"rare": 10, "often": MOST_WALKED, "everywhere": 10 * MOST_WALKED, "code:P0301": 5}
    sought = Sought(worth, {"code:P0301": 0.9}, held, mean_length=20.0, ideal=6.0, cases=100 * MOST_WALKED)
    wanted = [group.terms for group in asked(sought, limit=5).groups]
    assert ("rare",) in wanted and (" code:P0301",) in wanted and ("often", "everywhere") in wanted
    assert ("often",) not in wanted and ("everywhere",) not in wanted


def test_a_word_mistyped_beyond_the_book_is_found_by_its_trigrams(near: House, mechanic: Actor) -> None:
    file = a_case(near, mechanic, "marmalade on the quetzalcoat")
    close.close_case(near, mechanic, file.id, Closing(cause="cooling.fan_motor.worn", correction=None))
    with spelling(near) as far:
        found = advise.advise(far, mechanic, Complaint("quetzcaloat"))
        assert [match.case.id for match in found.cases][:1] == [file.id]
        host = far.hosts.host(mechanic.shop.id)
        spelt = host.snapshot().source.alike(["quetzcaloat"])  # type: ignore[attr-defined]
        assert spelt["quetzcaloat"][0][0] == "quetzalcoat"
        fresh = a_case(near, mechanic, "xylophone hums")
        close.close_case(near, mechanic, fresh.id, Closing(cause="cooling.fan_motor.worn", correction=None))
        found = advise.advise(far, mechanic, Complaint("xylohpone"))
        assert [match.case.id for match in found.cases][:1] == [fresh.id]


def test_a_database_that_may_not_have_trigrams_goes_without(near: House, mechanic: Actor) -> None:
    refused = ("SELECT no_such_extension()", "SELECT 1")
    with patch.object(words, "TRIGRAMS", refused), spelling(near) as far:
        host = far.hosts.host(mechanic.shop.id)
        assert host.snapshot().source.alike(["anything"]) == {}  # type: ignore[attr-defined]
        assert answers(far, mechanic) == answers(near, mechanic)
