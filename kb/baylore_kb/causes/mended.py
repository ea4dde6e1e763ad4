"""What to make of a mend that did not cure: a poor part, a second fault, or a test that misled."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from baylore_kb.causes.tried import Tried
from baylore_kb.causes.weighing import Split, Weighing
from baylore_kb.values import Conflict

CONFIRMED, SPEAKS_OUT = 0.7, 5.0
# A new part is proved first when it is dead at least this often against a second fault.
MAY_BE_DEAD = 0.5


def of_mends(weighing: Weighing) -> Iterator[Conflict]:
    """Half cures, cures that did not last, and proved faults mended in vain; none tried gives nothing."""
    for place, each in enumerate(weighing.tried):
        if not _superseded(each, weighing.tried[place + 1 :]):
            yield from _of_mend(each, weighing, place)


def _of_mend(each: Tried, weighing: Weighing, place: int) -> Iterator[Conflict]:
    if each.result == "partly":
        yield _half_cure(each, weighing.split(place))
    if each.result == "failed later":
        yield _failed_later(each)
    by = _proved(each, weighing) if each.result == "no change" else None
    if by is not None:
        yield _no_cure(each, weighing.split(place), by)


def _superseded(each: Tried, later: tuple[Tried, ...]) -> bool:
    return any(other.what == each.what and other.result == "cured" for other in later)


def _half_cure(each: Tried, split: Split) -> Conflict:
    """After "partly": a poor part of the right kind, or a second fault, whichever is likelier."""
    place = "likely" if split.still >= split.elsewhere else "perhaps"
    done = f"{_done(each)} changed the complaint without curing it"
    if split.still >= split.two:
        poor = "but the part is poor" if each.source else "but not mended well"
        remedy = f"{_prove_it(each)} before looking elsewhere."
        return Conflict("part", f"{done}: {place} the right place, {poor}.", remedy, (each.what,))
    return Conflict(
        "two faults",
        f"{done}: there may be a second fault beside it.",
        "Write down what still is wrong and test that as a complaint of its own.",
        (each.what,),
    )


def _failed_later(each: Tried) -> Conflict:
    if each.source == "maker":
        remedy = "Look for what spoils it (water, heat, load, wiring), or for another fault, before another."
    else:
        remedy = f"{_prove_it(each)} before looking elsewhere."
    return Conflict("part", f"{_done(each)} cured the complaint only for a while.", remedy, (each.what,))


def _done(each: Tried) -> str:
    return f"New {_inside(each.title)} ({each.source})" if each.source else f"The repair ({each.title})"


def _inside(title: str) -> str:
    """A title as it stands inside a sentence; abbreviations keep their capitals."""
    return title[:1].lower() + title[1:] if title[1:2].islower() else title


def _prove_it(each: Tried) -> str:
    """How to prove the mend itself."""
    if not each.source:
        return "Look at the repair again and measure it under load"
    if each.source == "maker":
        return "Check fitting, connector and learning of the new part"
    return "Measure the new part against the maker's figures, or fit a maker's part"


def _no_cure(each: Tried, split: Split, by: str) -> Conflict:
    """After "no change" of what a test had proved bad: start again without it."""
    first = f"{_prove_it(each)}, then go on" if split.still >= MAY_BE_DEAD * split.two else "Go on"
    return Conflict(
        "two faults",
        f"{each.title} was proved bad ({by}) and mended, yet the complaint stays.",
        f"{first} as if it had never been suspected: a second fault is likely, or that test misled.",
        (each.what,),
    )


def _proved(each: Tried, weighing: Weighing) -> str | None:
    """The words of the test that had proved a cause the mend hits; None when none had."""
    shown = weighing.shown
    if shown is not None and each.hit[shown.column]:
        return shown.label
    before = weighing.before_tried(weighing.everything())[0]
    if before[each.hit].sum() < CONFIRMED:
        return None
    mended = weighing.likeliest(each)
    said = [(float(r.log[mended] - r.log[-1]), r.label) for r in weighing.results if r.test]
    strongest = max(said, default=(0.0, ""))
    return strongest[1] if strongest[0] >= np.log(SPEAKS_OUT) else None
