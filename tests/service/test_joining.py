"""A visit that was written twice: found, joined so that nothing is lost, taken apart again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from tests.service.house_fixtures import CABLE, CRANKING, DROP, LINNET, PNG, a_case, a_file, keyed

from baylore_kb.values import Measure
from baylore_service.desk import cases, close, joining, photos, steps, transfer, twins
from baylore_service.desk.audit import verify
from baylore_service.desk.doubles import Doubles
from baylore_service.desk.house import House
from baylore_service.errors import BadValue, ImportRefused, JoinedElsewhere, NotClosed, StaleRevision
from baylore_service.store.records import Actor, CaseFile, Closing, Reopening
from baylore_service.wire.read import Reader
from baylore_service.wire.read_line import line_parser
from baylore_service.wire.show_transfer import line_of

NEW = [f"5b0c8a5e-3f53-4a51-9a35-3c1a9a5d9b0{n}" for n in range(4)]
STARTER = "starting.starter.worn"
WORDS = "one click and nothing, lamps stay bright"


@pytest.fixture()
def pair(house: House, tech: Actor, boss: Actor) -> tuple[CaseFile, CaseFile]:
    """Two records of one visit, by two members."""
    car = replace(LINNET, odometer=Measure(141_000, "km"))
    first = a_case(house, tech, WORDS, vehicle=car, codes=("P0480",))
    stick = replace(car, transmission="manual")
    second = a_case(house, boss, "one clik, nothing, lamps bright", vehicle=stick, note="battery was fine")
    steps.add_test(house, boss, second.id, DROP)
    return first, cases.get_case(house, boss, second.id)


def test_the_other_record_of_a_visit_is_found_with_reasons(house: House, tech: Actor, pair: Any) -> None:
    (found,) = twins.alike(house, tech, pair[0].id)
    assert (found.file.id, found.remains) == (pair[1].id, pair[0].id)
    assert found.twin.why[:2] == ("same car", "same day") and not found.twin.exact
    assert len(found.lacks.steps) == 1 and found.lacks.note


def test_another_day_another_car_and_another_shop_are_not_offered(
    house: House, tech: Actor, pair: Any
) -> None:
    earlier = a_case(house, tech, WORDS, vehicle=pair[0].vehicle, opened=pair[0].opened - timedelta(days=9))
    a_case(house, tech, WORDS, vehicle=replace(pair[0].vehicle, odometer=Measure(90_000, "km")))
    assert [each.file.id for each in twins.alike(house, tech, pair[0].id)] == [pair[1].id]
    assert twins.alike(house, tech, earlier.id) == ()


def test_closing_answers_with_the_other_records_and_the_closed_one_remains(
    house: House, tech: Actor, pair: Any
) -> None:
    closed = close.close_case(house, tech, pair[1].id, Closing(cause=STARTER))
    assert isinstance(closed, twins.Closed) and closed.file.state == "closed"
    assert [(each.file.id, each.remains) for each in closed.alike] == [(pair[0].id, pair[1].id)]


def test_joining_takes_over_what_was_lacking_and_loses_nothing(house: House, tech: Actor, pair: Any) -> None:
    first, second = pair
    joined = a_file(joining.join(house, tech, first.id, second.id))
    assert [step.test.test for step in joined.tests] == [DROP.test] and joined.codes == ("P0480",)
    assert joined.note.endswith("battery was fine") and joined.vehicle.transmission == "manual"
    assert joined.joined == (second.id,)
    kept = cases.get_case(house, tech, second.id)
    assert kept.joined_into == first.id and kept.tests == second.tests
    assert set(house.hosts.snapshot(tech.shop.id).cases) == {first.id}
    assert twins.alike(house, tech, first.id) == () == twins.alike(house, tech, second.id)
    assert verify(house).good


def test_photos_move_over_with_the_step_they_show_and_back(house: House, tech: Actor, pair: Any) -> None:
    first, second = pair
    for each in pair:
        steps.add_reading(house, tech, each.id, CRANKING)
    shown = cases.get_case(house, tech, second.id).readings[0].stamp.id
    photos.add_photo(house, tech, second.id, type="image/png", data=PNG, step=shown)
    joined = a_file(joining.join(house, tech, first.id, second.id))
    assert [photo.step for photo in joined.photos] == [joined.readings[0].stamp.id]
    assert photos.get_photo(house, tech, first.id, joined.photos[0].id)[1] == PNG
    assert verify(house).good
    own = a_file(joining.split(house, tech, second.id, first.id))
    assert [photo.step for photo in own.photos] == [shown]
    assert cases.get_case(house, tech, first.id).photos == () and verify(house).good


def test_splitting_gives_both_back_and_does_not_ask_again(house: House, tech: Actor, pair: Any) -> None:
    first, second = pair
    joining.join(house, tech, first.id, second.id)
    joining.split(house, tech, second.id, first.id)
    again, other = (cases.get_case(house, tech, each.id) for each in pair)
    said = replace(again, revision=first.revision, updated=first.updated, apart_from=())
    assert said == first and again.apart_from == (second.id,)
    assert other.tests == second.tests and other.joined_into is None and other.taken is None
    assert set(house.hosts.snapshot(tech.shop.id).cases) == {first.id, second.id}
    assert twins.alike(house, tech, first.id) == ()


def test_what_was_done_since_stays_when_a_record_is_split_off(house: House, tech: Actor, pair: Any) -> None:
    first, second = pair
    joining.join(house, tech, first.id, second.id)
    steps.add_reading(house, tech, first.id, CRANKING)
    revision = cases.get_case(house, tech, first.id).revision
    change = {"note": "worded anew"}
    cases.amend_case(house, tech, first.id, change, expected_revision=revision)
    joining.split(house, tech, second.id, first.id)
    again = cases.get_case(house, tech, first.id)
    assert (len(again.tests), len(again.readings), again.note) == (0, 1, "worded anew")


def test_a_closed_case_takes_steps_sums_and_a_drafted_note_and_gives_them_back(
    house: House, tech: Actor, pair: Any
) -> None:
    first, second = pair
    steps.add_part(house, tech, second.id, CABLE)
    closed = a_file(close.close_case(house, tech, first.id, Closing(cause=STARTER)))
    joined = a_file(joining.join(house, tech, first.id, second.id))
    assert joined.cost.parts == CABLE.price and len(joined.parts) == 1
    assert "battery was fine" in joined.note and "Tested: " in joined.note
    joining.split(house, tech, second.id, first.id)
    again = cases.get_case(house, tech, first.id)
    assert (again.note, again.cost, again.parts) == (closed.note, closed.cost, ())


def test_two_visits_kept_apart_are_not_asked_about_again(house: House, tech: Actor, pair: Any) -> None:
    joining.keep_apart(house, tech, pair[0].id, pair[1].id)
    assert twins.alike(house, tech, pair[0].id) == () == twins.alike(house, tech, pair[1].id)
    assert len(house.hosts.snapshot(tech.shop.id).cases) == 2
    before = cases.get_case(house, tech, pair[0].id).revision
    assert a_file(joining.keep_apart(house, tech, pair[0].id, pair[1].id)).revision == before


def test_what_cannot_be_joined_is_refused_with_a_way_out(house: House, tech: Actor, pair: Any) -> None:
    first, second = pair
    with pytest.raises(BadValue, match="with itself"):
        joining.join(house, tech, first.id, first.id)
    with pytest.raises(StaleRevision):
        joining.join(house, tech, first.id, second.id, expected_revision=first.revision + 1000)
    with pytest.raises(BadValue, match="not joined into"):
        joining.split(house, tech, second.id, first.id)
    close.close_case(house, tech, second.id, Closing(cause=STARTER))
    with pytest.raises(BadValue, match="is closed, this one open"):
        joining.join(house, tech, first.id, second.id)
    close.close_case(house, tech, first.id, Closing(cause="charging.alternator.worn"))
    with pytest.raises(BadValue, match="different causes"):
        joining.join(house, tech, first.id, second.id)


def test_a_record_joined_away_says_where_it_went_and_takes_no_more(
    house: House, tech: Actor, pair: Any
) -> None:
    first, second = pair
    joining.join(house, tech, first.id, second.id)
    acts: tuple[Callable[[], object], ...] = (
        lambda: joining.join(house, tech, second.id, first.id),
        lambda: steps.add_test(house, tech, second.id, DROP),
        lambda: close.close_case(house, tech, second.id, Closing(cause=STARTER)),
        lambda: close.reopen_case(house, tech, second.id, Reopening()),
        lambda: cases.amend_case(house, tech, second.id, {"note": "x"}, expected_revision=None),
    )
    for act in acts:
        with pytest.raises((JoinedElsewhere, NotClosed)) as refused:
            act()
        assert first.id in refused.value.message or isinstance(refused.value, NotClosed)


def test_deleting_the_case_sets_its_joined_record_free(house: House, boss: Actor, pair: Any) -> None:
    first, second = pair
    joining.join(house, boss, first.id, second.id)
    cases.delete_case(house, boss, first.id, expected_revision=None)
    assert cases.get_case(house, boss, second.id).joined_into is None
    assert set(house.hosts.snapshot(boss.shop.id).cases) == {second.id} and verify(house).good


def test_a_join_sent_twice_is_done_once(house: House, tech: Actor, pair: Any) -> None:
    sent = keyed("join-1")
    joining.join(house, tech, pair[0].id, pair[1].id, receipt=sent)
    assert joining.join(house, tech, pair[0].id, pair[1].id, receipt=sent).replayed  # type: ignore[union-attr]
    again = a_file(joining.join(house, tech, pair[0].id, pair[1].id))
    assert len(again.tests) == 1 and again.joined == (pair[1].id,)


def moved(house: House, boss: Actor, *files: CaseFile) -> transfer.ImportReport:
    """An import of these, a line each."""
    lines = {str(number).encode(): each for number, each in enumerate(files, 1)}
    return transfer.import_lines(house, boss, list(lines), parse=lines.__getitem__)


def test_an_import_tells_what_was_written_down_before_and_merges_nothing(
    house: House, boss: Actor, pair: Any
) -> None:
    first = pair[0]
    same = replace(first, id=NEW[0])
    near = replace(same, id=NEW[1], complaint_text="one clik, nothing, lamps bright")
    other = replace(first.vehicle, odometer=Measure(20_000, "km"))
    new = replace(first, id=NEW[2], vehicle=other)
    again = replace(new, id=NEW[3])
    report = moved(house, boss, same, near, first, new, again)
    assert (report.added, report.unchanged) == (4, 1)
    found = report.doubles
    assert (found.exact, found.near, found.in_file) == (2, 1, 1)
    told = {double.line: double for double in found.named}
    assert told[1].of == first.id and told[1].exact and told[1].of_line is None
    assert told[2].why[:2] == ("same car", "same day") and not told[2].exact
    assert (told[5].of, told[5].of_line, told[5].exact) == (NEW[2], 4, True)
    assert len(house.hosts.snapshot(boss.shop.id).cases) == 6


def test_what_was_joined_or_kept_apart_comes_back_so_from_a_file(
    house: House, boss: Actor, pair: Any
) -> None:
    first, second = pair
    third = a_case(house, boss, WORDS, vehicle=first.vehicle)
    joining.join(house, boss, first.id, second.id)
    joining.keep_apart(house, boss, first.id, third.id)
    ids = [each.id for each in (first, second, third)]
    lines = list(transfer.export_lines(house, boss, render=line_of))
    for each in ids:
        cases.delete_case(house, boss, each, expected_revision=None)
    reader = Reader(house.trade, house.now())
    report = transfer.import_lines(house, boss, lines, parse=line_parser(reader))
    assert (report.added, report.doubles) == (3, Doubles())
    back = [cases.get_case(house, boss, each) for each in ids]
    assert back[1].joined_into == first.id and back[0].joined == (second.id,)
    assert back[2].apart_from == (first.id,) and verify(house).good
    joining.split(house, boss, second.id, first.id)
    assert cases.get_case(house, boss, first.id).tests == first.tests


def test_a_record_joined_into_nothing_is_refused_on_import(house: House, boss: Actor, pair: Any) -> None:
    lost = replace(pair[0], id=NEW[0], joined_into=NEW[1])
    with pytest.raises(ImportRefused, match="line 1"):
        moved(house, boss, lost)
