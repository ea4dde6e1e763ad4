"""Every route of the document, asked by everybody: what is another shop's looks like what is not there."""

from __future__ import annotations

import json
import os
import re
import shutil
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from httpx import Response
from litestar import Litestar
from litestar.testing import TestClient
from tests.security.filled import Names, Side, fill, send, two_shops
from tests.security.matrix import SHARED, TABLE, Line
from tests.security.shelf import Shelf, in_a_database, in_a_file, opened
from tests.service.app_fixtures import Floor
from tests.service.house_fixtures import KINDS, POSTGRESQL

from baylore_service.desk import members, shops
from baylore_service.desk.house import House
from baylore_service.desk.tries import Tries
from baylore_service.settings import Settings
from baylore_service.store import devices

NAMED = re.compile(r"\{(\w+)\}")
PARTS = {"json", "params"}
ROUTES = list(TABLE)
ROLES = ("technician", "manager")
Client = TestClient[Litestar]
Folders = pytest.TempPathFactory
# A copy of a database takes half a second: on PostgreSQL all routes are tried where this is set.
WHOLE = bool(os.environ.get("BAYLORE_MATRIX"))


def on_each_store(routes: Sequence[str], *, step: int = 5) -> list[tuple[str, str]]:
    """Each kind of store there is, with the routes tried on it: on PostgreSQL every `step`-th."""
    tried = {"sqlite": routes, "postgresql": routes[:: 1 if WHOLE else step]}
    return [(kind, route) for kind in KINDS for route in tried[kind]]


@dataclass(frozen=True)
class Still:
    """A service that nothing asked here may change."""

    floor: Floor
    bad_tokens: dict[str, str]
    before: dict[str, Any]


def standing_still(client: Client, shelf: Shelf, folder: Path) -> Iterator[Still]:
    """One copy for all that must change nothing, with the bad tokens made and what both shops have."""
    with shelf.copy(folder) as settings, opened(client, settings) as floor:
        floor.house.tries = Tries(floor.house.store, 1_000_000)
        tokens = bad_tokens(floor, shelf.sides["here"])
        yield Still(floor, tokens, {where: listed(floor, side) for where, side in shelf.sides.items()})


@pytest.fixture(scope="module")
def full_sqlite(client: Client, empty_sqlite: Path, tmp_path_factory: Folders) -> Iterator[Shelf]:
    """Both shops in a file."""
    folder = tmp_path_factory.mktemp("filled")
    shutil.copy(empty_sqlite, folder / "baylore.db")
    with in_a_file(client, folder) as shelf:
        yield shelf


@pytest.fixture(scope="module")
def full_postgresql(client: Client, tmp_path_factory: Folders) -> Iterator[Shelf]:
    """Both shops in a database."""
    with in_a_database(client, tmp_path_factory.mktemp("filled"), POSTGRESQL) as shelf:
        yield shelf


@pytest.fixture(scope="module")
def still_sqlite(client: Client, full_sqlite: Shelf, tmp_path_factory: Folders) -> Iterator[Still]:
    """The untouched copy of the file."""
    yield from standing_still(client, full_sqlite, tmp_path_factory.mktemp("still"))


@pytest.fixture(scope="module")
def still_postgresql(client: Client, full_postgresql: Shelf, tmp_path_factory: Folders) -> Iterator[Still]:
    """The untouched copy of the database."""
    yield from standing_still(client, full_postgresql, tmp_path_factory.mktemp("still"))


@pytest.fixture
def shelf(request: pytest.FixtureRequest, kind: str) -> Shelf:
    """Both shops in a store of the kind."""
    found: Shelf = request.getfixturevalue(f"full_{kind}")
    return found


@pytest.fixture
def still(request: pytest.FixtureRequest, kind: str) -> Still:
    """The untouched copy of the kind, in front."""
    found: Still = request.getfixturevalue(f"still_{kind}")
    opened.show(found.floor)
    return found


@pytest.fixture
def fresh(client: Client, shelf: Shelf, tmp_path: Path) -> Iterator[Callable[[], Floor]]:
    """Gives the service over a new copy of the filled store each time it is called."""
    with ExitStack() as held:

        def again() -> Floor:
            folder = tmp_path / uuid4().hex
            folder.mkdir()
            settings = held.enter_context(shelf.copy(folder))
            return held.enter_context(opened(client, settings))

        yield again


@pytest.fixture
def sides(shelf: Shelf) -> dict[str, Side]:
    """What both shops have."""
    return shelf.sides


def line_ids(route: str, line: Line) -> dict[str, str]:
    """The names that stand in a route and in what is sent, each with the name of the id put there."""
    found = NAMED.findall(route) + NAMED.findall(json.dumps([line.sent.get(part) for part in PARTS]))
    return {name: line.ids.get(name, name) for name in found if name not in SHARED}


def ask(floor: Floor, token: str, route: str, names: Names) -> Response:
    """A route asked with these ids."""
    line = TABLE[route]
    method, path = filled_in(route, SHARED | names).split(" ", 1)
    sent = dict(line.sent)
    for part in PARTS & sent.keys():
        sent[part] = json.loads(filled_in(json.dumps(sent[part]), names))
    return send(floor, token, method, path, **sent)


def filled_in(text: str, names: Names) -> str:
    """The text with the ids in their places; other braces stay."""
    return NAMED.sub(lambda found: names.get(found[1], found[0]), text)


def own(side: Side, ids: dict[str, str]) -> Names:
    """A shop's own ids for the names of a route."""
    return {name: side.names[of] for name, of in ids.items()}


def absent(id: str) -> str:
    """An id of the same form that nothing has."""
    uuid = re.fullmatch(r"[0-9a-f-]{36}", id)
    return str(uuid4()) if uuid else id[:-3] + "qqq"


def seen(answer: Response, ids: list[str]) -> tuple[int, bytes, dict[str, str]]:
    """All that an answer shows, without the ids that were sent."""
    content = answer.content
    for id in ids:
        content = content.replace(id.encode(), b"(id)")
    return answer.status_code, content, dict(answer.headers)


def test_every_route_of_the_document_has_a_line_in_the_table_and_no_other(floor: Floor) -> None:
    paths = floor.client.get("/api/openapi.json").json()["paths"]
    routes = {f"{method.upper()} {path}" for path, item in paths.items() for method in item}
    assert routes == TABLE.keys()


@pytest.mark.parametrize(("kind", "route"), on_each_store(ROUTES, step=20))
def test_each_role_gets_what_the_table_says_of_its_own_shops_things(
    fresh: Callable[[], Floor], sides: dict[str, Side], route: str
) -> None:
    line, here = TABLE[route], sides["here"]
    for role, expected in zip(ROLES, line.own, strict=True):
        answer = ask(fresh(), here.tokens[role], route, own(here, line_ids(route, line)))
        assert answer.status_code == expected, (role, answer.text[:400])
        shows_nothing_of(sides["there"], answer)


@pytest.mark.parametrize(("kind", "route"), on_each_store([r for r in ROUTES if line_ids(r, TABLE[r])]))
def test_anothers_thing_is_answered_byte_for_byte_like_one_that_is_not_there(
    still: Still, sides: dict[str, Side], route: str
) -> None:
    line, here, there = TABLE[route], sides["here"], sides["there"]
    ids = line_ids(route, line)
    floor = still.floor
    for role, expected in zip(ROLES, (line.foreign_technician, line.foreign), strict=True):
        for swapped in [*({name} for name in ids), set(ids)]:
            theirs = own(here, ids) | {name: there.names[ids[name]] for name in swapped}
            nobodys = theirs | {name: absent(theirs[name]) for name in swapped}
            found = ask(floor, here.tokens[role], route, theirs)
            missing = ask(floor, here.tokens[role], route, nobodys)
            assert found.status_code == expected, (role, swapped, found.text[:300])
            sent = [theirs[name] for name in swapped], [nobodys[name] for name in swapped]
            assert seen(found, sent[0]) == seen(missing, sent[1])
    assert listed(floor, there) == still.before["there"]


@pytest.mark.parametrize(("kind", "route"), on_each_store(ROUTES))
def test_without_a_token_that_holds_every_route_says_the_same(
    still: Still, sides: dict[str, Side], route: str
) -> None:
    line, here, floor = TABLE[route], sides["here"], still.floor
    expected = line.own[0] if line.open else 401
    answers = []
    for why, token in still.bad_tokens.items():
        answer = ask(floor, token, route, own(here, line_ids(route, line)))
        assert answer.status_code == expected, (why, answer.text[:300])
        answers.append(seen(answer, []))
    assert all(each == answers[0] for each in answers)
    assert without_token(floor, route, here).status_code == expected
    assert listed(floor, here) == still.before["here"]


def without_token(floor: Floor, route: str, side: Side) -> Response:
    """A route asked without a token at all."""
    ids = own(side, line_ids(route, TABLE[route]))
    method, path = filled_in(route, SHARED | ids).split(" ", 1)
    return floor.client.request(method, path, **TABLE[route].sent)


def bad_tokens(floor: Floor, side: Side) -> dict[str, str]:
    """Tokens that do not hold, and why; each was good once but the first two."""
    house = floor.house
    boss = members.who(house, side.tokens["manager"])
    made = {}
    for why in ("revoked", "expired", "left"):
        member = members.add_member(house, shops.console(side.shop), name=why, role="manager")
        made[why] = members.issue_token(house, member.id, why)
        actor = members.who(house, made[why])
        if why == "revoked":
            members.revoke_device(house, boss, actor.device.id)
        if why == "expired":
            long_ago(house, actor.device.id)
        if why == "left":
            members.amend_member(house, boss, member.id, {"active": False})
    return {"bad": "x" * 43, "another bad": "token-of-nobody-at-all-0000000000000000000"} | made


def long_ago(house: House, device_id: str) -> None:
    """Let a device have been silent for longer than the settings allow."""
    then = datetime.now(UTC) - timedelta(days=house.settings.idle_days, minutes=1)
    with house.store.write() as work:
        devices.seen(work, device_id, at=then)


# Taking the memory out is an act of its own, so that asking for it again is told in the trail.
READS = [r for r in ROUTES if r.startswith("GET ") and not line_ids(r, TABLE[r]) and r != "GET /api/export"]


@pytest.mark.parametrize("role", ROLES)
def test_lists_and_counts_are_the_same_whether_another_shop_has_much_or_nothing(
    client: Client, settings: Settings, role: str
) -> None:
    with opened(client, settings) as floor:
        sides = two_shops(floor.house)
        fill(floor, sides["here"])
        token = sides["here"].tokens[role]
        alone = {route: seen(ask(floor, token, route, {}), []) for route in READS}
        fill(floor, sides["there"])
        beside = {route: seen(ask(floor, token, route, {}), []) for route in READS}
    assert beside == alone


@pytest.mark.parametrize("kind", KINDS)
def test_a_shop_may_use_an_id_that_another_shop_uses(
    fresh: Callable[[], Floor], sides: dict[str, Side]
) -> None:
    here, there = sides["here"], sides["there"]
    body = {"id": there.names["case_id"], "complaint": "ours"}
    floor = fresh()
    assert send(floor, here.tokens["technician"], "POST", "/api/cases", json=body).status_code == 201
    path = f"/api/cases/{body['id']}"
    assert send(floor, here.tokens["technician"], "GET", path).json()["complaint"] == "ours"
    assert there.mark in send(floor, there.tokens["technician"], "GET", path).text


@pytest.mark.parametrize("kind", KINDS)
def test_a_photo_of_another_shops_case_is_taken_in_no_more_than_one_of_no_case(
    fresh: Callable[[], Floor], sides: dict[str, Side]
) -> None:
    here, there = sides["here"], sides["there"]
    floor = fresh()
    exported = send(floor, there.tokens["manager"], "GET", "/api/export").text.splitlines()
    theirs = next(line for line in exported if json.loads(line)["kind"] == "photo")
    nobodys = theirs.replace(there.names["case_id"], unused := str(uuid4()))
    headers = {"Content-Type": "application/x-ndjson"}
    found, missing = (
        send(floor, here.tokens["manager"], "POST", "/api/import", content=line, headers=headers)
        for line in (theirs, nobodys)
    )
    assert found.status_code == 422
    assert seen(found, [there.names["case_id"]]) == seen(missing, [unused])


def shows_nothing_of(side: Side, answer: Response) -> None:
    """Neither a mark nor an id of a shop is anywhere in an answer."""
    shown = answer.text + json.dumps(dict(answer.headers))
    for each in (side.mark, side.mark.lower(), side.shop.id, *side.names.values()):
        assert each not in shown


def listed(floor: Floor, side: Side) -> dict[str, Any]:
    """All that a shop has, as its manager reads it."""
    wanted = ("/cases", "/changes", "/members", "/devices", "/hooks", "/alerts?state=all", "/shop")
    found = {path: send(floor, side.tokens["manager"], "GET", f"/api{path}").json() for path in wanted}
    return {path: without(value, "last_seen") for path, value in found.items()}


def without(value: Any, name: str) -> Any:
    """A body without a field at any depth."""
    if isinstance(value, list):
        return [without(each, name) for each in value]
    if isinstance(value, dict):
        return {key: without(each, name) for key, each in value.items() if key != name}
    return value
