"""Writes questions with the service's answers, for the phone's own arithmetic to be held against:
`python -m tests.contract.record_reasoning`.

The copy is what a phone of the demo shop keeps: its cases, the trade lists and what it reckons with. The
questions are the shop's own closed cases as they stood before their cause was known, in several guises.
"""

from __future__ import annotations

import gzip
import json
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from baylore_kb import handout
from baylore_kb.advice import Tuning, advise
from baylore_kb.heldout import as_asked, held_out, same_job
from baylore_kb.index import Snapshot
from baylore_kb.trade import load as load_trade
from baylore_kb.values import (
    Advice,
    Case,
    Complaint,
    ConditionValue,
    Judged,
    Objected,
    PartTried,
    Reading,
    RepairTried,
    Terms,
    TestDone,
)
from baylore_service.demo.loading import load
from baylore_service.desk import feed, shops
from baylore_service.desk.house import House
from baylore_service.desk.terms import terms_of
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade
from baylore_service.store.records import Actor
from baylore_service.wire import show, show_advice
from baylore_service.wire.decode import encode
from baylore_service.wire.trade_lists import made

FILE = Path(__file__).parents[2] / "pwa" / "test" / "data" / "reasoning.json.gz"
LISTS = ("systems", "components", "symptoms", "quantities", "conditions", "tests", "causes", "cautions")
TRADE = load_trade()
CASES, QUESTIONS, FIRST = 200, 300, 3
# Jobs whose results contradict each other, and jobs with readings that others follow from.
BESIDE = 60
# Systems of a shop's own, and what of the lists it files under each.
OWN_SYSTEMS = {
    "chassis": ("brakes", "steering", "suspension", "tyres", "abs_stab"),
    "comfort": ("aircon", "body_elec", "lighting", "cooling"),
}
# What the phone's arithmetic does not read.
UNREAD = {
    "lists": ("decides", "note", "source", "test_point", "usual", "always"),
    "cases": ("by", "at", "updated", "verification", "photos", "minutes_spent"),
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
        "beside": list(asked(mind.snapshot, terms, mind.tuning, count=BESIDE, guises=BESIDE_GUISES)),
        "refiled": refiled(mind.snapshot, terms, mind.tuning),
    }


def refiled(snapshot: Snapshot, terms: Terms, tuning: Tuning) -> dict[str, Any]:
    """The same shop with many cases under systems of its own: what they are filed as, and its answers."""
    filed = {id: named for id, case in snapshot.cases.items() if (named := _own(case)) is not None}
    renamed = (replace(snapshot.cases[id], **asdict(named)) for id, named in filed.items())
    shop = snapshot.with_changes(put=renamed, deleted=(), revision=snapshot.revision)
    asking = asked(shop, terms, tuning, count=BESIDE, guises=(words_only, words_and_car, so_far))
    return {"cases": {id: asdict(named) for id, named in filed.items()}, "asked": list(asking)}


@dataclass(frozen=True)
class _Filed:
    """What a case turned out to be, as the shop files it."""

    cause: str
    cause_title: str
    cause_system: str


def _own(case: Case) -> _Filed | None:
    listed = TRADE.causes.get(case.cause or "")
    for system, theirs in OWN_SYSTEMS.items() if listed else ():
        if listed.system in theirs:
            return _Filed("own." + listed.id.replace(".", "_"), listed.title, system)
    return None


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


def asked(
    snapshot: Snapshot,
    terms: Terms,
    tuning: Tuning,
    *,
    count: int = QUESTIONS,
    guises: tuple[Guise, ...] | None = None,
) -> Iterator[dict[str, Any]]:
    """The questions in turn, each of another guise."""
    held, worn = held_out(snapshot, count), guises or GUISES
    for place in range(count):
        case, guise = held[place % len(held)], worn[(place + place // len(held)) % len(worn)]
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


def at_odds(case: Case) -> Complaint:
    """With everything, then each test again with its next outcome, half cures, and the cause objected to."""
    complaint = at_length(case)
    tests = (
        *complaint.tests,
        *(again for done in complaint.tests if (again := _otherwise(done)) is not None),
    )
    return replace(
        complaint,
        tests=tests,
        parts=(PartTried((case.cause or "").rpartition(".")[0], "rebuilt", "failed later"),),
        repairs=(RepairTried(case.cause or "", "partly"),),
        objections=(Objected(case.cause or "", "already renewed"),),
    )


def _otherwise(done: TestDone) -> TestDone | None:
    outcomes = [each.id for each in TRADE.tests[done.test].outcomes] if done.test in TRADE.tests else []
    if done.outcome not in outcomes or len(outcomes) < 2:
        return None
    return replace(done, outcome=outcomes[outcomes.index(done.outcome) - 1], part=None)


def one_by_another(case: Case) -> Complaint:
    """With readings that others follow from."""
    return replace(
        as_asked(case, with_tests=False), readings=FOLLOWED[len(case.complaint.text) % len(FOLLOWED)]
    )


def _read(quantity: str, value: float, unit: str, point: str = "", **conditions: ConditionValue) -> Reading:
    return Reading(quantity, value, unit, point, "before", conditions)


FOLLOWED = (
    (_read("batt_rest", 12.2, "V", battery_temp_c=10.0), _read("key_off_draw", 180.0, "mA", battery_ah=60.0)),
    (_read("drop_pos", 0.9, "V", crank_a=150.0), _read("drop_gnd", 0.35, "V", load_a=12.0)),
    (
        _read("fuse_mv", 1.8, "mV", "fuse 14", fuse_rating_a=10.0),
        _read("fuse_mv", 0.1, "mV", fuse_rating_a=20.0),
    ),
    (
        _read("stft", 8.0, "%", "bank 1"),
        _read("ltft", 14.0, "%", "bank 1"),
        _read("stft", 1.0, "%", "bank 2"),
    ),
    (
        _read("compression", 1250.0, "kPa", "cylinder 1"),
        _read("compression", 800.0, "kPa", "cylinder 2"),
        _read("compression", 1230.0, "kPa", "cylinder 3"),
    ),
    (
        _read("ac_high_run", 1400.0, "kPa", refrigerant="R-134a", ambient_c=28.0),
        _read("ac_liquid_temp", 44.0, "degC"),
        _read("ac_low_run", 210.0, "kPa"),
        _read("ac_suction_temp", 12.0, "degC"),
    ),
    (
        _read("ac_high_run", 1150.0, "kPa", refrigerant="r1234yf", altitude_m=1200.0),
        _read("ac_liquid_temp", 36.0, "degC"),
    ),
    (_read("inj_ohm", 13.1, "ohm"), _read("batt_rest", 12.5, "V", battery_temp_c=20.0)),
    (_read("maf_full", 88.0, "g/s", engine_litres=1.6, engine_rpm=5200.0, ambient_c=22.0),),
    (_read("alt_drop", 0.6, "V"), _read("charge_a", 48.0, "A")),
)

Guise = Callable[[Case], Complaint]
BESIDE_GUISES: tuple[Guise, ...] = (at_odds, one_by_another)
GUISES: tuple[Guise, ...] = (
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
    """The beginning of an answer, and whole what is short."""
    return {
        "cases": [[match.case.id, round(match.chance, 4)] for match in advice.cases],
        "causes": [[row.cause, round(row.probability, 4)] for row in advice.causes[:FIRST]],
        "unlisted": round(advice.unlisted, 4),
        "tests": [[test.test, test.saves] for test in advice.tests[:FIRST]],
        "next": [advice.next.do, advice.next.test or advice.next.cause],
        "because": advice.next.why,
        "cautions": [each.partition(".")[0] for each in advice.cautions],
        "moved": [each.by for row in advice.causes[:1] for each in row.moved],
        "dropped": [[each.cause, each.by] for each in advice.dropped],
        "conflicts": plain(advice.conflicts),
        "ruled_out": plain(advice.ruled_out),
        "price": plain(advice.price),
        "questions": plain(advice.questions),
        "readings": [reading(each) for each in advice.readings],
        "read_as": [[each.typed, each.read, each.kind] for each in advice.read_as],
        "car": {"origins": dict(advice.car.origins), "engines": list(advice.car.engines)},
        "why": [plain(show_advice.shown_why(match.why)) for match in advice.cases],
    }


def reading(judged: Judged) -> list[Any]:
    """A reading with its verdict and what it was worked out from."""
    found = judged.reading
    return [found.quantity, found.value, found.unit, judged.verdict, judged.good, list(judged.of)]


if __name__ == "__main__":
    record()
