"""Members, their devices, and the shop."""

from __future__ import annotations

from pathlib import Path
from threading import Event
from typing import Any
from unittest.mock import patch

import pytest
from sqlalchemy import select
from tests.service.house_fixtures import DROP, PNG, Clock, a_case, keyed

from baylore_service.desk import cases, members, photos, shops, steps
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.desk.tidying import tidy
from baylore_service.errors import (
    AlreadyThere,
    BadValue,
    CodeRefused,
    LastManager,
    NotFound,
    NotSignedIn,
    WrongRole,
)
from baylore_service.jobs.rounds import Rounds, attempt
from baylore_service.settings import Settings
from baylore_service.store import tables
from baylore_service.store.migrate import upgrade
from baylore_service.store.records import Actor, CaseDraft, CaseFile, New


def test_a_phone_joins_by_a_code_once(house: House, boss: Actor, tech: Actor) -> None:
    code = members.enrol(house, boss, tech.member.id).code
    token, actor = members.join(house, code, "Ivo's phone")
    assert actor.member == tech.member and members.who(house, token).device.name == "Ivo's phone"
    with pytest.raises(CodeRefused):
        members.join(house, code, "another phone")


def test_wrong_used_and_old_codes_are_refused_alike(
    house: House, boss: Actor, tech: Actor, clock: Clock
) -> None:
    used, old = (members.enrol(house, boss, tech.member.id).code for _ in range(2))
    members.join(house, used, "phone")
    clock.wait(hours=house.settings.enrolment_hours)
    said = set()
    for code in (used, old, "made-up-code"):
        with pytest.raises(CodeRefused) as refused:
            members.join(house, code, "phone")
        said.add((refused.value.message, refused.value.remedy))
    assert len(said) == 1


def test_secrets_are_kept_as_hashes_only(house: House, boss: Actor, tech: Actor) -> None:
    code = members.enrol(house, boss, tech.member.id).code
    token = members.issue_token(house, tech.member.id, "phone")
    with house.store.read() as work:
        rows = [
            *work.connection.execute(select(tables.devices)),
            *work.connection.execute(select(tables.enrolments)),
        ]
    assert len(token) >= 43 and not any(secret in str(row) for row in rows for secret in (code, token))


def test_a_lost_phone_is_shut_out_by_its_owner_or_a_manager(house: House, boss: Actor, tech: Actor) -> None:
    for revoker in (tech, boss):
        token = members.issue_token(house, tech.member.id, "lost")
        members.revoke_device(house, revoker, members.who(house, token).device.id)
        with pytest.raises(NotSignedIn):
            members.who(house, token)


def test_nobody_else_revokes_a_phone(house: House, boss: Actor, tech: Actor, stranger: Actor) -> None:
    for revoker in (tech, stranger):
        with pytest.raises(NotFound):
            members.revoke_device(house, revoker, boss.device.id)
    assert {device.id for device in members.list_devices(house, tech)} == {tech.device.id}
    assert {device.id for device in members.list_devices(house, boss)} == {tech.device.id, boss.device.id}


def test_a_member_who_left_is_shut_out_with_all_phones_and_codes(
    house: House, boss: Actor, tech: Actor
) -> None:
    token, code = (
        members.issue_token(house, tech.member.id, "phone"),
        members.enrol(house, boss, tech.member.id).code,
    )
    members.amend_member(house, boss, tech.member.id, {"active": False})
    with pytest.raises(NotSignedIn):
        members.who(house, token)
    with pytest.raises(CodeRefused):
        members.join(house, code, "phone")
    with pytest.raises(NotFound):
        members.enrol(house, boss, tech.member.id)


@pytest.mark.parametrize("changes", [{"role": "technician"}, {"active": False}])
def test_the_last_manager_stays(house: House, boss: Actor, changes: dict[str, Any]) -> None:
    with pytest.raises(LastManager, match="Mara"):
        members.amend_member(house, boss, boss.member.id, changes)
    second = members.add_member(house, boss, name="Lena", role="manager")
    members.amend_member(house, boss, boss.member.id, changes)
    assert second in members.list_members(house, boss)


@pytest.mark.parametrize(
    ("changes", "field"),
    [({"name": " "}, "name"), ({"role": "owner"}, "role"), ({"skill": 5}, "skill"), ({"id": "x"}, "id")],
)
def test_a_member_cannot_be_what_there_is_not(
    house: House, boss: Actor, tech: Actor, changes: dict[str, Any], field: str
) -> None:
    with pytest.raises(BadValue) as refused:
        members.amend_member(house, boss, tech.member.id, changes)
    assert refused.value.field == field


def test_people_are_the_managers_business(house: House, tech: Actor) -> None:
    for act in (
        lambda: members.list_members(house, tech),
        lambda: members.add_member(house, tech, name="x", role="manager"),
        lambda: members.amend_member(house, tech, tech.member.id, {"role": "manager"}),
        lambda: members.enrol(house, tech, tech.member.id),
        lambda: shops.amend_shop(house, tech, {"name": "Mine"}),
    ):
        with pytest.raises(WrongRole):
            act()


def test_a_member_of_another_shop_is_nobody_here(house: House, stranger: Actor, tech: Actor) -> None:
    with pytest.raises(NotFound):
        members.amend_member(house, stranger, tech.member.id, {"active": False})
    with pytest.raises(NotFound):
        members.enrol(house, stranger, tech.member.id)


def test_a_phone_is_noted_as_seen_without_writing_each_time(house: House, tech: Actor, clock: Clock) -> None:
    token = members.issue_token(house, tech.member.id, "phone")
    first = members.who(house, token).device.last_seen
    clock.wait(minutes=5)
    members.who(house, token)
    assert members.who(house, token).device.last_seen == first
    clock.wait(minutes=6)
    members.who(house, token)
    assert members.who(house, token).device.last_seen != first


@pytest.mark.parametrize("token", ["short", "with a blank", "ключ-от-всего", "x" * 600])
def test_a_token_one_chooses_oneself_must_be_sendable(house: House, tech: Actor, token: str) -> None:
    with pytest.raises(BadValue) as refused:
        members.issue_token(house, tech.member.id, "phone", token)
    assert refused.value.field == "token"


def test_a_token_is_for_one_device(house: House, boss: Actor, tech: Actor) -> None:
    members.issue_token(house, tech.member.id, "phone", "chosen-by-hand")
    with pytest.raises(AlreadyThere):
        members.issue_token(house, boss.member.id, "phone", "chosen-by-hand")


def test_a_shop_changes_its_habits(house: House, boss: Actor) -> None:
    after = shops.amend_shop(house, boss, {"rate_per_hour": 110.0, "time_zone": "Europe/Helsinki"})
    assert shops.get_shop(house, boss) == after and after.rate_per_hour == 110.0


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"currency": "euro"}, "currency"),
        ({"rate_per_hour": 0.0}, "rate_per_hour"),
        ({"time_zone": "Mars/Base"}, "time_zone"),
        ({"unit_system": "cgs"}, "unit_system"),
        ({"name": ""}, "name"),
    ],
)
def test_a_shop_cannot_have_what_there_is_not(
    house: House, boss: Actor, changes: dict[str, Any], field: str
) -> None:
    with pytest.raises(BadValue) as refused:
        shops.amend_shop(house, boss, changes)
    assert refused.value.field == field


def test_old_answers_and_codes_are_forgotten_and_fresh_ones_kept(
    house: House, boss: Actor, clock: Clock
) -> None:
    cases.open_case(house, boss, CaseDraft("no crank"), receipt=keyed("old"))
    members.enrol(house, boss, boss.member.id)
    clock.wait(days=house.settings.receipt_days + 1)
    cases.open_case(house, boss, CaseDraft("no heat"), receipt=keyed("fresh"))
    done = tidy(house)
    assert (done.receipts, done.codes) == (1, 1)
    assert cases.open_case(house, boss, CaseDraft("no heat"), receipt=keyed("fresh")).replayed  # type: ignore[union-attr]


def test_a_round_that_finds_no_store_is_logged_and_left_to_the_next(tmp_path: Path) -> None:
    house = House.open(Settings(data=tmp_path))
    assert attempt(house, "tidy", lambda: tidy(house)) is False
    upgrade(house.settings.store_url)
    assert attempt(house, "tidy", lambda: tidy(house)) is True
    house.close()


def test_the_rounds_begin_with_building_the_indexes(house: House, boss: Actor, closed: CaseFile) -> None:
    built = Event()
    with patch.object(house, "warm", side_effect=built.set):
        rounds = Rounds(house)
        rounds.start()
        assert built.wait(timeout=30)
        rounds.stop()
    house.warm()
    assert house.hosts.host(boss.shop.id).snapshot().cases.keys() == {closed.id}


def test_a_new_name_is_put_on_all_a_member_did(house: House, boss: Actor, tech: Actor) -> None:
    file = a_case(house, tech, tests=(New(DROP),))
    steps.add_test(house, boss, file.id, DROP)
    photos.add_photo(house, tech, file.id, type="image/png", data=PNG)
    members.amend_member(house, boss, tech.member.id, {"name": "former member"})
    after = cases.get_case(house, boss, file.id)
    assert (after.by, after.photos[0].by) == ("former member", "former member")
    assert [step.stamp.by for step in after.tests] == ["former member", "Mara"]
    assert verify(house).good


def test_a_name_two_members_have_stays_on_what_they_did(house: House, boss: Actor, tech: Actor) -> None:
    file = a_case(house, tech)
    members.add_member(house, boss, name="Ivo", role="technician")
    members.amend_member(house, boss, tech.member.id, {"name": "Ivo K."})
    assert cases.get_case(house, boss, file.id).by == "Ivo"
