"""Finding the visits that were written twice: how many are found, what is confused, and the time by size.

Records are those of the invented shop. Doubles are planted as a second member would write them: retold in
part, with slips of the thumb, the odometer left out or a few km on, the model misspelt, another day. Beside
them stand what must not be taken for doubles: the fault back after some days, another car of the model with
the same fault on one day, another fault of the same car on one day.
"""

from __future__ import annotations

import argparse
import json
import random
import resource
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from itertools import islice
from pathlib import Path

from baylore_kb.alike import Visits
from baylore_kb.alike.record import record
from baylore_kb.alike.twin import twin_record
from baylore_kb.values import Case, Measure
from baylore_service.demo.generator import cases as made_cases
from baylore_service.demo.slips import typed

SLOW_SIZE = 400
OTHERS = "not: any other record of the shop"
Retold = Callable[[Case, random.Random], Case]


def main() -> None:
    """Print both tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sizes", default="1000,10000,100000")
    parser.add_argument("--seed", type=int, default=11)
    parser.add_argument("--json", type=Path)
    asked = parser.parse_args()
    rows = {"found": found(asked.seed), "time": [timed(int(size)) for size in asked.sizes.split(",")]}
    print("| planted | pairs | called one visit |\n|---|---|---|")
    for kind, (pairs, called) in rows["found"].items():
        print(f"| {kind} | {pairs} | {called} ({called / max(pairs, 1):.1%}) |")
    print("\n| records | of | microseconds a record | compared with all | memory MB |\n|---|---|---|---|---|")
    for row in (each for rows_of_size in rows["time"] for each in rows_of_size):
        print("| {records} | {of} | {each_us:.0f} | {all_us:.0f} | {memory_mb:.0f} |".format(**row))
    if asked.json:
        asked.json.write_text(json.dumps(rows, indent=1))


def found(seed: int, *, size: int = 2000) -> dict[str, tuple[int, int]]:
    """By kind: how many pairs were planted, and how many are called one visit; last, unplanted pairs."""
    shop = list(made_cases(seed, size))
    chance = random.Random(seed)
    planted: dict[tuple[str, str], str] = {}
    more: list[Case] = []
    asked = iter(chance.sample(shop, size))
    for kind, retell in KINDS.items():
        for number, case in enumerate(islice(asked, size // len(KINDS))):
            other = replace(retell(case, chance), id=f"{kind}-{number}")
            more.append(other)
            planted[case.id, other.id] = kind
    visits, counts = Visits(), Counter[str]()
    for other in (*shop, *more):
        for twin in visits.twins(other):
            counts[planted.get((twin.case.id, other.id), OTHERS)] += 1
        visits.add(other)
    pairs = Counter(planted.values())
    return {kind: (pairs[kind], counts[kind]) for kind in KINDS} | {OTHERS: (len(shop), counts[OTHERS])}


def retold(case: Case, chance: random.Random, *, kept: float) -> Case:
    """The case as another member writes it: a share of the words, with slips; without the cause at times."""
    words = [word for word in case.complaint.text.split() if chance.random() < kept] or ["fault"]
    text = typed(" ".join(words), chance, rate=0.08)
    opened = case.opened and case.opened + timedelta(hours=chance.choice((0, 1, 2)))
    done = chance.random() < 0.7
    ending = {} if done else {"cause": None, "state": "open", "closed": None, "note": ""}
    said = replace(case.complaint, text=text, readings=case.complaint.readings[:1], tests=())
    return replace(case, complaint=said, opened=opened, **ending)


def with_car(case: Case, **fields: object) -> Case:
    """The case with other fields of its car."""
    return replace(case, complaint=replace(case.complaint, vehicle=replace(case.complaint.vehicle, **fields)))


def moved(case: Case, *, days: float, km: float) -> Case:
    """The case so many days and kilometres on."""
    by = timedelta(days=days)
    odometer = case.complaint.vehicle.odometer
    on = odometer and Measure(odometer.value + km, odometer.unit)
    there = with_car(case, odometer=on)
    return replace(there, opened=case.opened and case.opened + by, closed=case.closed and case.closed + by)


def no_odometer(case: Case, chance: random.Random) -> Case:
    """Nearly the same words, no odometer."""
    return with_car(retold(case, chance, kept=1.0), odometer=None, vin=None)


def misspelt(case: Case, chance: random.Random) -> Case:
    """Retold, the model with a slip."""
    told = retold(case, chance, kept=0.8)
    return with_car(told, model=typed(told.complaint.vehicle.model, chance, rate=1.0))


def other_car(case: Case, chance: random.Random) -> Case:
    """Another car of the model with the same fault in nearly the same words on the same day."""
    on = chance.choice((-1, 1)) * chance.uniform(200, 90_000)
    return with_car(moved(retold(case, chance, kept=0.8), days=0, km=on), vin=None)


def other_car_unread(case: Case, chance: random.Random) -> Case:
    """The same without an odometer."""
    return with_car(retold(case, chance, kept=0.7), odometer=None, vin=None)


def other_fault(case: Case, chance: random.Random) -> Case:
    """The same car on the same day, with another complaint and another cause."""
    other = chance.choice(made_cases(5, 300))
    said = replace(other.complaint, vehicle=case.complaint.vehicle)
    return replace(other, complaint=said, opened=case.opened, closed=case.closed)


KINDS: dict[str, Retold] = {
    "twice: copied": lambda case, chance: case,
    "twice: retold, four words of five": lambda case, chance: retold(case, chance, kept=0.8),
    "twice: retold, three words of five": lambda case, chance: retold(case, chance, kept=0.6),
    "twice: retold, the next day, 3 km on": lambda c, chance: moved(
        retold(c, chance, kept=0.8), days=1, km=3
    ),
    "twice: retold, the model misspelt": misspelt,
    "twice: nearly the same words, no odometer": no_odometer,
    "not: back after nine days": lambda c, chance: moved(retold(c, chance, kept=0.9), days=9, km=400),
    "not: back after two days": lambda c, chance: moved(retold(c, chance, kept=0.9), days=2, km=90),
    "not: other car, same fault, same day": other_car,
    "not: the same, odometer not read": other_car_unread,
    "not: same car and day, other fault": other_fault,
}


def timed(size: int) -> Iterator[dict[str, float | str]]:
    """The time to look up and add each record: of a shop, and of one model on one day."""
    some = made_cases(3, min(size, 5000))
    shop = [replace(some[n % len(some)], id=str(n)) for n in range(size)]
    spread = [
        moved(case, days=30 * (n // len(some)), km=1500 * (n // len(some))) for n, case in enumerate(shop)
    ]
    day, car = shop[0].opened, shop[0].complaint.vehicle
    one_day = [with_car(replace(case, opened=day, closed=day), model=car.model) for case in shop]
    return [row(spread, "a shop"), row(one_day, "one model on one day")]


def row(shop: list[Case], of: str) -> dict[str, float | str]:
    """One row of the table of times."""
    began, before = time.perf_counter(), memory_mb()
    visits = Visits()
    for case in shop:
        visits.twins(case)
        visits.add(case)
    each_us = 1e6 * (time.perf_counter() - began) / len(shop)
    return {
        "records": len(shop),
        "of": of,
        "each_us": each_us,
        "all_us": all_with_all(shop),
        "memory_mb": memory_mb() - before,
    }


def all_with_all(shop: list[Case]) -> float:
    """Microseconds a record if each were compared with all, from some pairs."""
    some = [record(case) for case in shop[:SLOW_SIZE]]
    began = time.perf_counter()
    for one in some:
        for other in some:
            twin_record(one, other)
    return 1e6 * (time.perf_counter() - began) / len(some) ** 2 * len(shop) / 2


def memory_mb() -> float:
    """The most memory this process had."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


if __name__ == "__main__":
    main()
