"""When a fault shows: a short list of conditions, and what they say of symptoms and causes.

How strongly a condition counts is common practice in the trade, no published source.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from functools import lru_cache
from math import prod
from types import MappingProxyType

from baylore_kb.trade.model import Cause, Symptom, Trade
from baylore_kb.trade.places import place_factor

SHOWS_WHEN: Mapping[str, str] = MappingProxyType(
    {
        "cold": "Cold, just started",
        "hot": "Hot, after a drive",
        "cold_day": "Cold day or frost",
        "hot_day": "Hot day or sun",
        "rain": "Rain, wash or damp",
        "standing": "After standing for hours",
        "start": "At key on or start",
        "idle": "Standing at idle",
        "slow": "Slow, pulling away, shifting",
        "driving": "Driving along",
        "fast": "Fast, on the motorway",
        "load": "Accelerating, uphill, loaded",
        "bumps": "Over bumps",
        "turning": "Turning",
        "braking": "Braking",
        "aircon": "With the A/C on",
        "electrics": "With lamps and heaters on",
    }
)
OPPOSITES = (
    ("cold", "hot"),
    ("cold_day", "hot_day"),
    ("idle", "driving"),
    ("idle", "fast"),
    ("standing", "driving"),
)

# The trade's free words for each condition; a word may speak for several, those of SAYS_NOTHING for none.
SAYS_NOTHING = ""
_WORDS: Mapping[str, str] = {
    SAYS_NOTHING: "any, mild day, temp change, short trips, after short trips, near phones, after refill, "
    "filling, after filling, low fuel, after battery off, test, after repair, dry road, dry, range, "
    "after alignment, intermittent, low battery, long term, after tyre change, one door, after slam, "
    "seat moved, low charge, charging",
    "cold": "cold, cold start, cold morning, overnight, first minutes, first 2 min, damp morning",
    "hot": "hot, warm, heat soaked, after drive, after 10-20 min, 20 min+, 10-20 min after stop, "
    "after shutdown, after fuel stop",
    "cold_day": "cold day, frost, cold morning",
    "hot_day": "hot day, full sun",
    "rain": "rain, wet, damp weather, damp morning, wash, after wash",
    "standing": "after standing, parked, parked overnight, parked days, overnight, days",
    "start": "at start, start, after start, cold start, at key on, key on",
    "idle": "idle, long idle, traffic, neutral, in gear, held at stop, stopping",
    "slow": "low speed, parking, slow bumps, pulling away, pull away, into D or R, D to R, reverse, tip-in, "
    "gear dependent, fast shift, low gear",
    "driving": "running, any speed, speed, steady speed, straight road, 60-90 km/h, light throttle, overrun, "
    "deceleration, on or off throttle",
    "fast": "motorway, 90-120 km/h, high gear, high speed braking",
    "load": "load, high load, acceleration, hill, uphill, towing, loaded, loaded with people, "
    "revs, high revs",
    "bumps": "bumps, slow bumps, after bumps, worse over bumps sometimes",
    "turning": "cornering, full lock, wheel position",
    "braking": "braking, light braking, high speed braking, just before stopping, first press",
    "aircon": "A/C on, A/C use",
    "electrics": "loads on, lamps on, heater on",
}
CONDITIONS_OF_WORD: Mapping[str, tuple[str, ...]] = {
    word: tuple(id for id, words in _WORDS.items() if id and word in words.split(", "))
    for word in dict.fromkeys(", ".join(_WORDS.values()).split(", "))
}

AGREES, CONTRADICTS = 1.5, 0.6
LEAST_FIT, MOST_FIT = 0.4, 2.5
UNSAID = 0.3
NAMED_IN_TITLE = 0.8
_IN_TITLE = {"hot": "hot", "wet": "rain", "under load": "load", "in the cold": "cold"}
_SAID_AS = {
    "cold": r"(when|while|if|only|from|engine|motor|starting|start) (it'?s |is )?cold|cold (start|engine)",
    "hot": r"(when|while|if|only|once|engine|motor) (it'?s |is )?(hot|warm)|hot (start|engine)|warmed up",
    "rain": r"(in|after|when|with) (the |it'?s |it |a )?(rain\w*|wet|wash|damp)",
    "bumps": r"(over|on|hitting) (the |a |rough )?(bump|pothole|speed bump)s?",
    "idle": r"(at|on|when) (an? )?(idle|idling|standstill|the lights)",
    "turning": r"(when|while|on|in) (turning|cornering|full lock|corners|bends)",
    "braking": r"(when|while|under|on) braking",
    "aircon": r"(with|when) (the )?(a/?c|air ?con\w*|air conditioning) (is |switched )?on",
}
_IN_TEXT = {id: re.compile(rf"\b({pattern})\b") for id, pattern in _SAID_AS.items()}


def conditions_of(symptom: Symptom) -> frozenset[str]:
    """The conditions a symptom usually shows in; empty where its words say nothing ("any", unknown words)."""
    return frozenset(id for word in symptom.conditions for id in CONDITIONS_OF_WORD.get(word, ()))


@lru_cache(maxsize=1_000)
def opposites(condition: str) -> frozenset[str]:
    """The conditions that this one speaks against; empty for most."""
    pairs = (set(pair) for pair in OPPOSITES if condition in pair)
    return frozenset(other for pair in pairs for other in pair if other != condition)


def fit(shows: Collection[str], given: Collection[str]) -> float:
    """Factor in [0.4, 2.5] on the odds of a symptom that shows in `shows` when the fault shows in `given`.

    A shared condition lifts, one that only the opposite is listed for lowers; nothing listed or given, and
    ids not known, leave it at 1.
    """
    return min(max(prod(_one(shows, condition) for condition in set(given)), LEAST_FIT), MOST_FIT)


def _one(shows: Collection[str], condition: str) -> float:
    agrees, contradicts = condition in shows, not opposites(condition).isdisjoint(shows)
    if agrees == contradicts:
        return 1.0
    return AGREES if agrees else CONTRADICTS


def _parted(shows: Collection[str]) -> frozenset[str]:
    """Without conditions whose opposite is there too: cold and hot together say nothing."""
    return frozenset(id for id in shows if opposites(id).isdisjoint(shows))


def in_their_light(chances: Mapping[str, float], given: Collection[str], trade: Trade) -> dict[str, float]:
    """Chance by symptom after the conditions the fault shows in; a sure symptom (1) stays sure."""
    if not given:
        return dict(chances)
    return {
        id: _lifted(chance, fit(conditions_of(trade.symptoms[id]), given)) if id in trade.symptoms else chance
        for id, chance in chances.items()
    }


def _lifted(chance: float, factor: float) -> float:
    return chance * factor / (chance * factor + 1.0 - chance)


def leaning(cause: Cause, trade: Trade) -> dict[str, float]:
    """How far a cause leans to each condition, in (0, 1]; conditions it does not lean to are left out.

    The share of its symptoms, weighted by place, that show in the condition; a title that names the
    condition, or water that got in, counts at least 0.8.
    """
    found: dict[str, float] = {}
    places = [place_factor(place) for place in range(len(cause.symptoms))]
    for place, symptom in zip(places, cause.symptoms, strict=True):
        for id in _parted(conditions_of(trade.symptoms[symptom])):
            found[id] = found.get(id, 0.0) + place / sum(places)
    return found | {id: max(found.get(id, 0.0), NAMED_IN_TITLE) for id in _named(cause)}


def _named(cause: Cause) -> Iterable[str]:
    title = f" {cause.title.lower()} "
    yield from (id for words, id in _IN_TITLE.items() if re.search(rf"\b{words}\b", title))
    if cause.mode == "water_entry":
        yield "rain"


def shown_by(lean: Mapping[str, float], condition: str) -> float:
    """The chance, in (0, 1), that a fault with this lean shows in the condition rather than its opposite.

    One half for a cause that leans neither way; a condition without an opposite stands against its absence.
    """
    against = [lean.get(other, 0.0) for other in opposites(condition)]
    towards = lean.get(condition, 0.0)
    other = max(against) if against else 1.0 - towards
    return (UNSAID + towards) / (2 * UNSAID + towards + other)


def said_in(text: str) -> frozenset[str]:
    """Conditions plainly said in a text, such as "when hot" or "over bumps"; empty for most."""
    said = text.lower()
    return frozenset(id for id, pattern in _IN_TEXT.items() if pattern.search(said))
