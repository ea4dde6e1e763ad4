"""A process of its own that acts on a shared store: python worker.py DEED SETTINGS(JSON)."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

from tests.service.house_fixtures import DROP, a_file, keyed

from baylore_service.desk import cases, members, steps
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store.records import Actor, CaseDraft, Receipt


def open_and_die(house: House, actor: Actor) -> None:
    """Open a case under a key and die after the commit, before anyone is answered."""
    cases.open_case(house, actor, CaseDraft("no crank", id="made-on-the-phone"), receipt=keyed("phone-key"))
    os._exit(9)


def die_inside(house: House, actor: Actor) -> None:
    """Die inside the transaction, with case and change line written and not committed."""

    def render(_: object) -> bytes:
        os._exit(9)

    receipt = Receipt("phone-key", "same", render)
    cases.open_case(house, actor, CaseDraft("no crank"), receipt=receipt)


def add_many(house: House, actor: Actor) -> None:
    """Open twenty cases, each with a test, as fast as it goes."""
    for _ in range(20):
        file = a_file(cases.open_case(house, actor, CaseDraft("no crank")))
        steps.add_test(house, actor, file.id, DROP)


DEEDS = {deed.__name__: deed for deed in (open_and_die, die_inside, add_many)}


def main(deed: str, given: str) -> None:
    """Do the deed as the device of the token."""
    said = json.loads(given)
    house = House.open(Settings(data=Path(said["data"]), database_url=said["url"]))
    DEEDS[deed](house, members.who(house, said["token"]))
    house.close()


if __name__ == "__main__":
    main(*sys.argv[1:])
