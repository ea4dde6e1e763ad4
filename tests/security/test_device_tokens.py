"""Tokens: long, kept as hashes, renewed without losing a phone, worthless after silence."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

import pytest
from sqlalchemy import text
from tests.service.house_fixtures import Clock

from baylore_service.desk import members
from baylore_service.desk.devices import OVERLAP
from baylore_service.desk.house import House
from baylore_service.errors import CodeRefused, NotSignedIn
from baylore_service.settings import Settings
from baylore_service.store.records import Actor


def signed_in(house: House, actor: Actor) -> str:
    """The token of another phone of the member."""
    return members.issue_token(house, actor.member.id, "phone")


def holds(house: House, token: str) -> bool:
    """Whether a token is good now."""
    try:
        members.who(house, token)
    except NotSignedIn:
        return False
    return True


def test_tokens_and_codes_are_long_random_and_kept_as_hashes_only(
    house: House, tech: Actor, boss: Actor
) -> None:
    tokens = {signed_in(house, tech) for _ in range(5)}
    code = members.enrol(house, boss, tech.member.id).code
    assert len(tokens) == 5 and all(re.fullmatch(r"[\w-]{43}", token) for token in tokens)
    assert re.fullmatch(r"[\w-]{22}", code)
    with house.store.read() as work:
        kept = [
            str(row)
            for table in ("devices", "enrolments")
            for row in work.connection.execute(text(f"SELECT * FROM {table}"))
        ]
    assert not any(secret in row for secret in (*tokens, code) for row in kept)


def test_a_renewed_token_takes_over_when_it_is_first_used(house: House, tech: Actor, clock: Clock) -> None:
    old = signed_in(house, tech)
    new = members.renew(house, members.who(house, old))
    assert holds(house, old) and holds(house, new)
    assert holds(house, old), "what is on its way with the old one must arrive"
    clock.wait(seconds=OVERLAP.total_seconds() + 60)
    assert holds(house, new) and not holds(house, old)


def test_a_phone_that_never_hears_the_answer_keeps_its_token(house: House, tech: Actor, clock: Clock) -> None:
    old = signed_in(house, tech)
    lost = [members.renew(house, members.who(house, old)) for _ in range(3)]
    clock.wait(days=100)
    assert holds(house, old)
    assert [holds(house, token) for token in lost] == [False, False, True]
    assert holds(house, old)


def test_revoking_ends_all_tokens_of_the_phone(house: House, tech: Actor, boss: Actor) -> None:
    old = signed_in(house, tech)
    actor = members.who(house, old)
    new = members.renew(house, actor)
    assert holds(house, new)
    unused = members.renew(house, actor)
    members.revoke_device(house, boss, actor.device.id)
    assert not any(holds(house, token) for token in (old, new, unused))


def test_a_silent_phone_is_signed_out_and_a_working_one_is_not(
    house: House, tech: Actor, clock: Clock
) -> None:
    silent, working = signed_in(house, tech), signed_in(house, tech)
    for _ in range(3):
        clock.wait(days=house.settings.idle_days / 2)
        assert holds(house, working)
    with pytest.raises(NotSignedIn):
        members.who(house, silent)
    assert timedelta(days=house.settings.idle_days) > timedelta(days=100), (
        "a long winter without signal is no silence"
    )


def test_codes_can_end_within_ten_minutes_and_phones_within_twelve_hours(
    house: House, boss: Actor, tech: Actor, clock: Clock
) -> None:
    short = Settings.from_env({"BAYLORE_ENROLMENT_HOURS": "0.1", "BAYLORE_IDLE_DAYS": "0.5"})
    house.settings = replace(house.settings, enrolment_hours=short.enrolment_hours, idle_days=short.idle_days)
    code, token = members.enrol(house, boss, tech.member.id).code, signed_in(house, tech)
    clock.wait(minutes=7)
    with pytest.raises(CodeRefused):
        members.join(house, code, "phone")
    clock.wait(hours=13)
    with pytest.raises(NotSignedIn):
        members.who(house, token)
