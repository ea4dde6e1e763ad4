"""How the demo garage writes: unevenly, in words of its own, and about nobody real."""

from __future__ import annotations

import csv
import gzip
import os
import re
from collections import Counter, defaultdict
from pathlib import Path

import pytest
from vininfo.dicts import WMI

from baylore_kb.tokens import fold
from baylore_kb.trade import load
from baylore_service.demo.generator import cases, jobs
from baylore_service.demo.world import models, people, shop_facts

CATALOGUE = Path(os.environ.get("BAYLORE_OUTSIDE_DATA", "absent")) / "vehicle-catalogue" / "vehicles.csv.gz"
# Makers whose name is also a word, or what a thumb leaves of one.
ALSO_WORDS = {"seat", "smart", "mini", "ram", "am", "man"}


def complaints() -> list[str]:
    return [case.complaint.text for case in cases()]


def listed_phrases(words: int) -> list[str]:
    found = load().symptoms.values()
    said = (p for s in found for p in (*s.said_by_customer, *s.written_by_tech, *s.misheard_or_typo))
    return [f" {fold(phrase)} " for phrase in said if len(phrase.split()) >= words]


def makers() -> set[str]:
    names = {str(getattr(each, "manufacturer", each)) for each in WMI.values()}
    return {name.casefold() for name in names}


def test_complaints_are_no_copies_of_the_lists() -> None:
    texts, phrases = [f" {fold(text)} " for text in complaints()], listed_phrases(3)
    copied = [text for text in texts if any(phrase in text for phrase in phrases)]
    assert len(copied) < 0.05 * len(texts)


def test_hardly_two_complaints_read_the_same() -> None:
    texts = [fold(text) for text in complaints()]
    assert len(set(texts)) > 0.98 * len(texts)


def test_words_are_many_and_often_used_once() -> None:
    words = Counter(re.findall(r"[a-z]+", " ".join(complaints()).lower()))
    once = sum(count == 1 for count in words.values())
    assert len(words) > 700
    assert once > 0.3 * len(words)
    assert words.most_common(1)[0][1] < 0.06 * words.total()


def test_complaints_are_long_and_short() -> None:
    lengths = sorted(len(text.split()) for text in complaints())
    assert lengths[len(lengths) // 20] <= 4
    assert lengths[-len(lengths) // 20] >= 18


def test_each_member_writes_in_a_manner_of_their_own() -> None:
    notes: dict[str, list[str]] = defaultdict(list)
    for job in jobs():
        if job.case.note:
            notes[job.by].append(job.case.note)
    stops = {name: sum(note.count(".") for note in all) / len(all) for name, all in notes.items()}
    length = {name: sum(map(len, all)) / len(all) for name, all in notes.items()}
    owner, terse, dictated, careful = (person.name for person in people())
    assert stops[dictated] < 1 < stops[terse]
    assert length[owner] < length[terse] < length[careful]
    assert " then " in " ".join(notes[dictated])


def test_some_jobs_were_never_written_up() -> None:
    unwritten = [case for case in cases() if case.state == "closed" and not case.note]
    assert 10 < len(unwritten) < 80


def test_makes_and_models_are_of_no_real_maker() -> None:
    names = {name.casefold() for model in models() for name in (model.make, *model.model.split())} - {
        "hybrid"
    }
    assert len({model.make for model in models()}) >= 8
    assert len(models()) >= 14
    assert not (names - {"hybrid"}) & makers()


def test_no_text_names_a_real_maker() -> None:
    single = {name for name in makers() if name.isalpha() and len(name) > 2} - ALSO_WORDS
    texts = (f"{case.title} {case.complaint.text} {case.note}" for case in cases())
    words = {word for text in texts for word in re.findall(r"[a-zé]+", text.casefold())}
    assert not words & single


@pytest.mark.skipif(not CATALOGUE.is_file(), reason="BAYLORE_OUTSIDE_DATA holds no vehicle-catalogue folder")
def test_makes_and_models_are_in_no_vehicle_catalogue() -> None:
    with gzip.open(CATALOGUE, "rt", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    makes, words = {row["make"].casefold() for row in rows}, set()
    words = {word for row in rows for word in row["model"].casefold().split()}
    assert rows
    for model in models():
        assert model.make.casefold() not in makes
        assert not (set(model.model.casefold().split()) - {"hybrid"}) & (words | makes)


def test_nothing_personal_of_a_customer_is_written() -> None:
    text = "\n".join(f"{case.title}\n{case.complaint.text}\n{case.note}" for case in cases())
    assert not re.search(r"\w@\w", text)
    assert not re.search(r"\d[\d ()/-]{6,}\d", re.sub(r"\d+\.\d+", "", text))
    assert not re.search(r"\b(?:Mr|Mrs|Ms|Dr)\b\.?", text)
    assert not re.search(r"\b(?:street|road|avenue|lane) \d", text, re.IGNORECASE)
    assert all(case.complaint.vehicle.vin is None for case in cases())


def test_the_shop_says_what_it_charges() -> None:
    facts = shop_facts()
    assert {case.cost.currency for case in cases() if case.state != "open"} == {facts["currency"]}
    rates = {case.labour.rate_per_hour for case in cases() if case.state != "open"}
    assert rates == {facts["rate_per_hour"]}
