"""A write arrives once."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from tests.service.house_fixtures import CABLE, CAUSE, CRANKING, DROP, keyed

from baylore_service.desk import cases, close, feed, steps
from baylore_service.desk.house import House
from baylore_service.desk.twins import Closed
from baylore_service.errors import BadValue, KeyReused
from baylore_service.store.records import Actor, CaseDraft, CaseFile, CaseFilter, Closing, Kept, Receipt

Act = Callable[[House, Actor, CaseFile, Receipt], CaseFile | Closed | Kept]
ACTS: dict[str, Act] = {
    "open": lambda house, who, file, key: cases.open_case(house, who, CaseDraft("no crank"), receipt=key),
    "amend": lambda house, who, file, key: cases.amend_case(
        house, who, file.id, {"note": "x"}, expected_revision=file.revision, receipt=key
    ),
    "test": lambda house, who, file, key: steps.add_test(house, who, file.id, DROP, receipt=key),
    "reading": lambda house, who, file, key: steps.add_reading(house, who, file.id, CRANKING, receipt=key),
    "part": lambda house, who, file, key: steps.add_part(house, who, file.id, CABLE, receipt=key),
    "close": lambda house, who, file, key: close.close_case(
        house, who, file.id, Closing(cause=CAUSE), receipt=key
    ),
}


@pytest.mark.parametrize("name", ACTS)
def test_the_same_request_again_gets_the_kept_answer_and_changes_nothing(
    house: House, tech: Actor, opened: CaseFile, name: str
) -> None:
    first = ACTS[name](house, tech, opened, keyed("k"))
    after = feed.revision(house, tech)
    again = ACTS[name](house, tech, opened, keyed("k"))
    assert isinstance(first, Kept) and isinstance(again, Kept)
    assert (again.body, first.replayed, again.replayed) == (first.body, False, True)
    assert feed.revision(house, tech) == after == opened.revision + 1


def test_the_kept_answer_comes_even_after_others_went_on(
    house: House, tech: Actor, boss: Actor, opened: CaseFile
) -> None:
    first = ACTS["test"](house, tech, opened, keyed("k"))
    steps.add_test(house, boss, opened.id, DROP)
    cases.delete_case(house, boss, opened.id, expected_revision=None)
    again = ACTS["test"](house, tech, opened, keyed("k"))
    assert isinstance(first, Kept) and isinstance(again, Kept) and again.body == first.body


def test_the_same_key_for_another_request_is_refused(house: House, tech: Actor, opened: CaseFile) -> None:
    ACTS["test"](house, tech, opened, keyed("k", "one"))
    with pytest.raises(KeyReused, match="'k'") as refused:
        ACTS["test"](house, tech, opened, keyed("k", "two"))
    assert refused.value.field == "Idempotency-Key" and "new key" in refused.value.remedy
    assert len(cases.get_case(house, tech, opened.id).tests) == 1


def test_a_refused_request_keeps_nothing_and_may_come_again_mended(house: House, tech: Actor) -> None:
    with pytest.raises(BadValue):
        cases.open_case(house, tech, CaseDraft(" "), receipt=keyed("k", "bad"))
    good = cases.open_case(house, tech, CaseDraft("no crank"), receipt=keyed("k", "good"))
    assert isinstance(good, Kept) and len(cases.list_cases(house, tech, CaseFilter()).items) == 1


def test_shops_have_keys_of_their_own(house: House, tech: Actor, stranger: Actor) -> None:
    cases.open_case(house, tech, CaseDraft("no crank"), receipt=keyed("k", "one"))
    kept = cases.open_case(house, stranger, CaseDraft("no heat"), receipt=keyed("k", "two"))
    assert isinstance(kept, Kept) and not kept.replayed


def test_an_answer_that_cannot_be_written_leaves_nothing_behind(house: House, tech: Actor) -> None:
    def broken(_: object) -> bytes:
        raise RuntimeError

    before = feed.revision(house, tech)
    with pytest.raises(RuntimeError):
        cases.open_case(house, tech, CaseDraft("no crank"), receipt=Receipt("k", "d", broken))
    assert feed.revision(house, tech) == before and cases.list_cases(house, tech, CaseFilter()).items == ()
