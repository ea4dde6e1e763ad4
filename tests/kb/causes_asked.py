"""Questions put to the causes alone, without the search before them."""

from __future__ import annotations

from dataclasses import replace

from tests.kb.invented_shop import empty_shop

from baylore_kb.causes import posterior
from baylore_kb.question import understand
from baylore_kb.values import Case, Complaint, Match, Why

EMPTY = empty_shop()
TRADE = EMPTY.trade
CLICK = Complaint("one click, no crank", symptoms=("no_crank_click",))
ABS_LAMP = Complaint("", symptoms=("abs_lamp",), codes=("C0035",))
STARTER, CABLE = "starting.starter.worn", "starting.ground_cable.high_resistance"
SENSOR = "abs_stab.sensor.no_signal"


def after(*tests, matches=(), complaint=CLICK, shop=EMPTY, **more):
    """The posterior once these tests were done and whatever else is given was said."""
    asked = replace(complaint, tests=tests, **more)
    return posterior(understand(asked, shop), tuple(matches), shop)


def past(number, cause, *, chance=0.8, verified=True, complaint=CLICK, **more):
    """A past case with the cause, matched with this chance."""
    case = Case(f"c{number}", complaint, "closed", cause=cause, verified=verified, **more)
    return Match(case, chance, Why())


def row(found, cause):
    """The cause's row of an answer."""
    return next(each for each in found.causes if each.cause == cause)


def total(found):
    """All chances together."""
    return sum(each.probability for each in found.causes) + found.unlisted


def chances(found):
    """Chance by cause, the unlisted one under an empty name."""
    return {each.cause: each.probability for each in found.causes} | {"": found.unlisted}
