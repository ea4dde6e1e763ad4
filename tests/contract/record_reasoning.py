"""Writes questions with the service's answers, for the phone's own arithmetic to be held against:
`python -m tests.contract.record_reasoning`.

The copy is what a phone of the demo shop keeps: its cases, the trade lists and what it reckons with. The
questions are the shop's own closed cases as they stood before their cause was known, in several guises.
"""

from __future__ import annotations

import gzip
import json
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from baylore_kb import handout
from baylore_kb.advice import Tuning, advise
from baylore_kb.heldout import as_asked, held_out, same_job
from baylore_kb.index import Snapshot
from baylore_kb.values import Advice, Case, Complaint, Objected, PartTried, RepairTried, Terms
from baylore_service.demo.loading import load
from baylore_service.desk import feed, shops
from baylore_service.desk.house import House
from baylore_service.desk.manager import terms_of
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade
from baylore_service.store.records import Actor
from baylore_service.wire import show
from baylore_service.wire.decode import encode
from baylore_service.wire.trade_lists import made

FILE = Path(__file__).parents[2] / "pwa" / "test" / "data" / "reasoning.json.gz"
LISTS = ("systems", "components", "symptoms", "quantities", "conditions", "tests", "causes", "cautions")
CASES, QUESTIONS, FIRST = 200, 300, 3
# What the phone's arithmetic does not read.
UNREAD = {
    "lists": ("decides", "note", "source", "test_point", "usual", "always"),
    "cases": ("by", "at", "updated", "cost", "verification", "photos", "minutes_spent"),
}


def record() -> None:
    """Make the shop, ask, and keep copy, questions and answers."""
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(data=Path(folder))
        upgrade(settings.store_url)
        house = House.open(settings)
        actor = shops.console(load(house, count=CASES).shop)
        FILE.parent.mkdir(exist_ok=True)
        FILE.write_bytes(gzip.compress(json.dumps(recorded(house, actor)).encode(), 9, mtime=0))
        house.close()


def recorded(house: House, actor: Actor) -> dict[str, Any]:
    """The copy, and each question with its answer."""
    mind, terms = house.hosts.host(actor.shop.id).mind(), terms_of(actor.shop)
    trade = mind.snapshot.trade
    return {
        "trade": {name: without_unread(plain(made(name, trade).items), "lists") for name in LISTS},
        "lists": handout.lists(trade),
        "shop": handout.shop(mind.snapshot, terms, mind.tuning),
        "cases": cases(house, actor),
        "asked": list(asked(mind.snapshot, terms, mind.tuning)),
    }


def plain(value: Any) -> Any:
    """As it travels."""
    return json.loads(encode(value))


def without_unread(items: list[dict[str, Any]], kind: str) -> list[dict[str, Any]]:
    """Without what nothing is reckoned from, in their steps neither."""
    return [
        {name: _bare(value, kind) for name, value in each.items() if name not in UNREAD[kind]}
        for each in items
    ]


def _bare(value: Any, kind: str) -> Any:
    steps = kind == "cases" and isinstance(value, list) and all(isinstance(each, dict) for each in value)
    return without_unread(value, kind) if steps else value


def cases(house: House, actor: Actor) -> list[Any]:
    """The cases as the change log gives them."""
    found: list[Any] = []
    after, latest = 0, 1
    while after < latest:
        changes, after, latest = feed.changes(house, actor, after=after, limit=200)
        found += [plain(show.change(each))["case"] for each in changes if each.case is not None]
    return without_unread(found, "cases")


def asked(snapshot: Snapshot, terms: Terms, tuning: Tuning) -> Iterator[dict[str, Any]]:
    """The questions in turn, each of another guise."""
    held = held_out(snapshot, QUESTIONS)
    for place in range(QUESTIONS):
        case, guise = held[place % len(held)], GUISES[(place + place // len(held)) % len(GUISES)]
        complaint = guise(case)
        hidden = same_job(case, snapshot)
        advice = advise(complaint, snapshot, terms=terms, leave_out=hidden, tuning=tuning, limit=FIRST)
        yield {"q": body(complaint), "kind": guise.__name__, "without": sorted(hidden), "a": answer(advice)}


def words_only(case: Case) -> Complaint:
    """What was said, and nothing else."""
    return Complaint(case.complaint.text)


def words_and_car(case: Case) -> Complaint:
    """What was said of which car, with its codes."""
    return as_asked(case, with_tests=False)


def with_slips(case: Case) -> Complaint:
    """The words typed with a thumb: a letter missing here and there."""
    words = case.complaint.text.split()
    typed = [w[:2] + w[3:] if len(w) > 5 and n % 3 == 1 else w for n, w in enumerate(words)]
    return replace(as_asked(case, with_tests=False), text=" ".join(typed))


def so_far(case: Case) -> Complaint:
    """With the tests and readings before the confirming test."""
    return as_asked(case, with_tests=True)


def readings_only(case: Case) -> Complaint:
    """With what was measured, and no test."""
    return replace(as_asked(case, with_tests=True), tests=())


def at_length(case: Case) -> Complaint:
    """With everything, the confirming test and parts tried too: as the job stood before it was closed."""
    read = tuple(reading for reading in case.complaint.readings if reading.when == "before")
    return replace(case.complaint, readings=read, parts=case.complaint.parts[:-1], minutes_spent=None)


def in_vain(case: Case) -> Complaint:
    """With what settled it tried in vain, and objected to."""
    complaint = as_asked(case, with_tests=True)
    component = (case.cause or "").rpartition(".")[0]
    return replace(
        complaint,
        parts=(PartTried(component, "aftermarket", "no change"),),
        repairs=(RepairTried(case.cause or "", "no change"),),
        objections=(Objected(case.cause or "", "proved good"),),
    )


def comes_and_goes(case: Case) -> Complaint:
    """A fault that is not always there, with when it shows."""
    return replace(as_asked(case, with_tests=False), comes_and_goes=True, shows_when=("hot", "bumps"))


GUISES = (
    words_only,
    words_and_car,
    so_far,
    with_slips,
    readings_only,
    so_far,
    at_length,
    in_vain,
    comes_and_goes,
    words_and_car,
)


def body(complaint: Complaint) -> dict[str, Any]:
    """The question as a phone would send it; what is empty is left out."""
    sent = plain(complaint)
    sent["complaint"] = sent.pop("text")
    return {name: value for name, value in sent.items() if value not in (None, [], {}, "", False)}


def answer(advice: Advice) -> dict[str, Any]:
    """The beginning of an answer."""
    return {
        "cases": [[match.case.id, round(match.chance, 4)] for match in advice.cases],
        "causes": [[row.cause, round(row.probability, 4)] for row in advice.causes[:FIRST]],
        "unlisted": round(advice.unlisted, 4),
        "tests": [[test.test, test.saves] for test in advice.tests[:FIRST]],
        "next": [advice.next.do, advice.next.test or advice.next.cause],
    }


if __name__ == "__main__":
    record()
