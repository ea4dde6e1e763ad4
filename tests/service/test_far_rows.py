"""A trial that fills the tables in bulk measures the rows that the service itself writes."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import psycopg
import pytest
from tests.bench.database_candidates.filling import write_run
from tests.bench.database_candidates.made import Shop, made
from tests.service.house_fixtures import KINDS, MORNING

from baylore_kb.tools import tools_for
from baylore_kb.values import Case
from baylore_service.desk import shops
from baylore_service.desk.facets import facets_of
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store import cases, changes, seeking
from baylore_service.store.records import CaseFile

if "postgresql" not in KINDS:
    pytest.skip("BAYLORE_TEST_PG names no PostgreSQL", allow_module_level=True)

MADE = 50


def kept(house: House, case: Case) -> CaseFile:
    """The case as a shop keeps it."""
    said = case.complaint
    file = CaseFile(
        case.id, 1, case.state, case.title, case.opened or MORNING, case.closed, MORNING, said.text
    )
    return replace(file, vehicle=said.vehicle, cause=case.cause, verified=case.verified)


def rows(settings: Settings, shop_id: str) -> list[tuple[Any, ...]]:
    """The shop's rows as they lie in the tables."""
    query = f"SELECT id, length, brief, terms::text, document FROM {seeking.SCHEMA}.cases WHERE shop_id = %s"
    with psycopg.connect(settings.database_url) as connection:
        return connection.execute(f"{query} ORDER BY id".encode(), (shop_id,)).fetchall()


def test_rows_filled_in_bulk_are_those_the_service_writes(postgresql: Settings) -> None:
    house = House.open(replace(postgresql, candidates="database"))
    actor = shops.console(shops.create_shop(house, name="Corner Garage", currency="EUR"))
    shop, spotter = Shop(actor.shop.id, 5, MADE), tools_for(house.trade).spotter
    with house.store.write(shop.id) as work:
        for case in made(shop, 0):
            file = kept(house, case)
            cases.add(work, shop.id, file, facets_of(file, house.trade, spotter))
            changes.append(work, actor, "case", case.id, at=MORNING)
    house.hosts.snapshot(shop.id)
    written = rows(postgresql, shop.id)
    with house.store.write() as work:
        number = seeking.locked(work, shop.id).number
        seeking.clear(work, shop.id)
    house.close()
    assert write_run(postgresql.store_url, (shop, number, 0)) == len(written) == MADE
    assert rows(postgresql, shop.id) == written
