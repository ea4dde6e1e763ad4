"""What phones keep: the change log and the trade lists."""

from __future__ import annotations

import pytest
from tests.service.app_fixtures import COMPLAINT, TEST, Floor
from tests.service.test_routes_refusals import check_problem


def test_the_change_log_brings_a_phone_up_to_date(floor: Floor) -> None:
    start = floor.get("/changes").json()["latest"]
    case = floor.open_case()
    gone = floor.open_case()
    tag = {"If-Match": f'"{gone["revision"]}"'}
    floor.ask("DELETE", f"/cases/{gone['id']}", headers=tag, who="manager")
    feed = floor.get(f"/changes?after={start}").json()
    latest = {each["id"]: each for each in feed["changes"] if each["kind"] == "case"}
    assert latest[case["id"]]["op"] == "put" and latest[case["id"]]["case"] == case
    assert latest[gone["id"]]["op"] == "delete" and latest[gone["id"]]["case"] is None
    assert feed["next"] == feed["latest"]


def test_the_change_log_is_read_in_parts_without_gaps(floor: Floor) -> None:
    for n in range(5):
        floor.open_case(complaint=f"noise {n}")
    after, seqs = 0, []
    while after < floor.get("/changes?after=999999").json()["latest"]:
        feed = floor.get(f"/changes?after={after}&limit=2").json()
        seqs += [each["seq"] for each in feed["changes"]]
        assert feed["next"] > after
        after = feed["next"]
    assert seqs == list(range(1, after + 1))


def test_another_shops_changes_are_not_seen(floor: Floor) -> None:
    floor.open_case()
    assert COMPLAINT not in floor.get("/changes", who="stranger").text


@pytest.mark.parametrize("query", ["after=-1", "after=x", "limit=0", "limit=501"])
def test_a_wrong_place_in_the_change_log_is_refused(floor: Floor, query: str) -> None:
    check_problem(floor.get(f"/changes?{query}"), 422, query.partition("=")[0])


@pytest.mark.parametrize("name", ["systems", "symptoms", "quantities", "tests", "causes", "cautions"])
def test_a_trade_list_comes_whole_with_a_tag(floor: Floor, name: str) -> None:
    answer = floor.get(f"/trade/{name}")
    found = answer.json()
    assert found["list"] == name and len(found["items"]) == len(getattr(floor.house.trade, name))
    assert all(item["id"] and item["title"] for item in found["items"])
    assert answer.headers["etag"] == f'"{found["version"]}"'
    again = floor.get(f"/trade/{name}", headers={"If-None-Match": answer.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_tests_of_the_list_carry_what_an_offline_phone_reckons_with(floor: Floor) -> None:
    items = {item["id"]: item for item in floor.get("/trade/tests").json()["items"]}
    rows = items[next(iter(items))]["likelihood"]
    assert rows and all(sum(row["p"].values()) == pytest.approx(1, abs=0.011) for row in rows)


def test_me_says_who_asks_from_what_and_where(floor: Floor) -> None:
    me = floor.get("/me").json()
    assert (me["member"]["name"], me["member"]["role"], me["member"]["skill"]) == ("Ivo", "technician", 3)
    assert me["device"]["name"] == "Ivo's phone"
    assert (me["shop"]["name"], me["shop"]["currency"]) == ("Corner Garage", "EUR")
    case = floor.open_case(tests=[TEST])
    assert floor.get("/me").json()["revision"] == case["revision"]
