"""The note at the end of a demo job, each person in their own manner."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from random import Random

from baylore_kb.trade.model import Trade
from baylore_kb.units import symbol
from baylore_kb.values import Case, PartTried, Reading, TestDone
from baylore_service.demo.pages import page
from baylore_service.demo.saying import Speech
from baylore_service.demo.world import Style


@dataclass(frozen=True)
class Notes:
    """Writes up jobs."""

    trade: Trade
    speech: Speech

    def note(self, case: Case, style: Style, chance: Random, *, seen: str = "") -> str:
        """What was found and done, from the case's steps; `seen` is a remark of the one who looked."""
        text = WAYS[style](self, case, chance, seen)
        return self.speech.voiced(text, style, chance)

    def terse(self, case: Case, chance: Random, seen: str) -> str:
        """Stops and figures, hardly a sentence."""
        bits = [self.short_test(done) for done in case.complaint.tests]
        bits += [figure(each) for each in case.complaint.readings if each.when == "before"]
        found = [
            " ".join(case.complaint.codes),
            *bits,
            seen,
            f"= {self.cause(case)}" if case.cause else "NPF",
        ]
        return ". ".join(part for part in [*found, *self.ending(case, chance)] if part)

    def dictated(self, case: Case, chance: Random, seen: str) -> str:
        """Spoken while wiping hands."""
        lines = [
            f"did {self.test_words(done)} and it was {self.means(done)}" for done in case.complaint.tests
        ]
        found = f"so it was {self.cause(case)}" if case.cause else "could not find it"
        return " then ".join(
            [
                *lines,
                seen or chance.choice(page("words.yaml")["notes"]["looked"]),
                found,
                *self.ending(case, chance),
            ]
        )

    def careful(self, case: Case, chance: Random, seen: str) -> str:
        """Whole sentences of somebody who still learns."""
        lines = [f"I did {self.test_words(done)}: {self.means(done)}." for done in case.complaint.tests]
        found = f"It was {self.cause(case)}." if case.cause else "We did not find it."
        more = [f"{part[:1].upper()}{part[1:]}." for part in (seen, *self.ending(case, chance)) if part]
        return " ".join([*lines, found, *more])

    def hurried(self, case: Case, chance: Random, seen: str) -> str:
        """Two words between two phone calls."""
        return ", ".join(
            part
            for part in (seen, self.cause(case) or "nothing found", *self.ending(case, chance)[:2])
            if part
        )

    def ending(self, case: Case, chance: Random) -> list[str]:
        """What was done, which parts did not cure, how it was proved, and what to remember."""
        words = page("words.yaml")["notes"]
        said = [case.correction.text] if case.correction else []
        said += [
            part_words(part)
            for part in case.complaint.parts
            if part.result != "cured" or chance.random() < 0.4
        ]
        said += [figure(each) + " after" for each in case.complaint.readings if each.when == "after"]
        said += [chance.choice(words["fixed"])] if case.state == "closed" else []
        return [*said, chance.choice(words["lesson"])] if chance.random() < 0.2 else said

    def cause(self, case: Case) -> str:
        """The cause without what stands in brackets."""
        return plain(case.cause_title)

    def short_test(self, done: TestDone) -> str:
        """A test by its short name."""
        name = done.test.removesuffix("_check").removesuffix("_test").replace("_", " ")
        return f"{name} {done.outcome.replace('_', ' ')}"

    def test_words(self, done: TestDone) -> str:
        """A test by what it is for."""
        return plain(self.trade.tests[done.test].title)

    def _named(self, done: TestDone, chance: Random) -> str:
        """A test by its short name or its long one."""
        return self.test_words(done) if chance.random() < 0.4 else done.test.replace("_", " ")

    def means(self, done: TestDone) -> str:
        """What an outcome means."""
        return next(each.means for each in self.trade.tests[done.test].outcomes if each.id == done.outcome)


PAST: Mapping[str, str] = {
    "Replace or clean": "cleaned",
    "Clean or replace": "cleaned",
    "Repair or replace": "replaced",
    "Free or replace": "freed",
    "Adjust or replace": "adjusted",
    "Rebuild or replace": "exchanged",
    "Replace": "new",
    "Repair": "repaired",
    "Clean": "cleaned",
    "Find": "found",
    "Fit": "fitted",
    "Bleed": "bled",
    "Set": "set",
    "Clear": "cleared",
    "Align": "aligned",
}
_ACTS = "repair clean adjust find fit bleed set clear align free rebuild recover calibrate drain fill balance"
ACTS = frozenset(_ACTS.split())
OHM = "\N{GREEK CAPITAL LETTER OMEGA}"
Way = Callable[[Notes, Case, Random, str], str]
WAYS: Mapping[Style, Way] = {
    "terse": Notes.terse,
    "dictated": Notes.dictated,
    "careful": Notes.careful,
    "hurried": Notes.hurried,
}


def plain(title: str) -> str:
    """A title in the middle of a sentence."""
    text = re.sub(r"\s*\([^)]*\)", "", title)
    return text[:1].lower() + text[1:] if text[1:2].islower() else text


def figure(reading: Reading) -> str:
    """A reading in a few signs."""
    return (
        f"{reading.quantity.replace('_', ' ')} {reading.value:g}{symbol(reading.unit).replace(OHM, ' ohm')}"
    )


def part_words(part: PartTried) -> str:
    """A part in a few words."""
    kind = {"maker": "dealer part", "aftermarket": "copy"}.get(part.source, part.source)
    name = part.component.split(".")[1].replace("_", " ")
    return " ".join(
        word for word in (kind, name, f"{part.price:g}$" if part.price else "", part.note) if word
    )


def doing(fix: str, chance: Random) -> str:
    """The usual correction as it was done this time: the first half of it, in the past."""
    done = re.split(r"[;(]", fix)[0].strip().rstrip(",")
    for verb, past in PAST.items():
        done = re.sub(rf"^{verb}\b", past, done)
    pieces = done.split(", ")
    kept = pieces[: max(1, chance.randint(1, len(pieces)))]
    return ", ".join(kept).lower()


def action(fix: str) -> str:
    """The act a usual correction begins with, as one word; a part named alone is replaced."""
    first = next(iter(re.findall(r"[a-z]+", fix.lower())), "")
    return first if first in ACTS else "replace"
