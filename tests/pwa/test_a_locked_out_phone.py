"""A lost phone, locked out from another: it drops the shop's copy when it calls in and keeps the unsent."""

from __future__ import annotations

import json
from collections.abc import Callable

from handset import Handset
from past_cases import COLD_THEN_WARM, OFTEN_TIMES
from playwright.sync_api import Page, expect
from workshop import Workshop

Phone = Callable[..., Handset]
COMPLAINT = f"{COLD_THEN_WARM}, the green van"

HELD = """
() => new Promise(tell => {
  const opened = indexedDB.open('baylore');
  opened.onsuccess = async () => {
    const db = opened.result;
    const names = [...db.objectStoreNames];
    const work = db.transaction(names);
    const read = store => new Promise(done => {
      const asked = work.objectStore(store).getAll();
      asked.onsuccess = () => done(asked.result);
    });
    const found = Object.fromEntries(await Promise.all(names.map(async name => [name, await read(name)])));
    db.close();
    tell(Object.fromEntries(Object.entries(found).map(([name, rows]) => [name, rows.length])));
  };
})
"""


def lock_out(manager: Handset, name: str) -> None:
    """Lock a phone out on the shop's page of another."""
    manager.go("#/shop")
    slip = manager.page.get_by_role("region", name="Phones").locator(".slip").filter(has_text=name)
    slip.get_by_role("button", name="Lost: lock it out").click()
    slip.get_by_role("button", name="Lock out", exact=True).click()
    expect(manager.page.get_by_text(name, exact=True)).to_have_count(0)


def held(page: Page) -> dict[str, int]:
    """How many records each store of the phone holds."""
    found: dict[str, int] = page.evaluate(HELD)
    return found


def test_a_locked_out_phone_drops_the_copy_and_its_unsent_work_can_be_taken_along(
    signed_in: Phone, workshop: Workshop
) -> None:
    phone = signed_in(name="Van phone")
    phone.ready_for_the_air(OFTEN_TIMES)
    phone.page.context.set_offline(True)
    phone.ask(COMPLAINT)
    phone.tap_outcome()
    lock_out(signed_in("manager", name="Office"), "Van phone")
    phone.page.context.set_offline(False)
    notice = phone.page.get_by_role("alert").filter(has_text="locked this phone out")
    expect(notice).to_contain_text("2 steps never sent", timeout=20_000)
    left = held(phone.page)
    assert {store for store, many in left.items() if many} == {"outbox"}, left
    phone.page.reload()
    with phone.page.expect_download() as taken:
        notice.get_by_role("button", name="Save them as a file").click()
    acts = json.loads(taken.value.path().read_text())["acts"]
    assert [each["do"] for each in acts] == ["open", "test"]
    assert acts[0]["body"]["complaint"] == COMPLAINT
    assert workshop.cases_about(COMPLAINT) == []
    notice.get_by_role("button", name="Let it all go").click()
    notice.get_by_role("button", name="Let it all go").last.click()
    expect(notice).to_have_count(0)
    assert set(held(phone.page).values()) == {0}


def test_a_locked_out_phone_signed_in_again_sends_what_it_kept(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in(name="Red tablet")
    phone.ready_for_the_air(OFTEN_TIMES)
    complaint = f"{COMPLAINT}, second visit"
    phone.page.context.set_offline(True)
    phone.ask(complaint)
    phone.tap_outcome()
    (device,) = [
        each["id"]
        for each in workshop.api.get("/api/devices").json()["devices"]
        if each["name"] == "Red tablet"
    ]
    workshop.api.delete(f"/api/devices/{device}").raise_for_status()
    phone.page.context.set_offline(False)
    expect(phone.page.get_by_text("locked this phone out")).to_be_visible(timeout=20_000)
    phone.join(workshop.link_for("technician"), "Red tablet again")
    phone.wait_until_sent()
    assert [len(each["tests"]) for each in workshop.cases_about(complaint)] == [1]
