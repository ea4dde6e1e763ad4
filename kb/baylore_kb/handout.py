"""What another program needs to reckon as this engine does: its numbers, words and tables, as plain data.

A phone without signal answers by the same arithmetic in its own language. Every figure it uses is read here
out of the modules that use it themselves, so that there is one copy of each.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import asdict
from importlib import import_module
from typing import Any

from baylore_kb import (
    amounts,
    codes,
    conditions,
    engine,
    features,
    kindred,
    mend,
    senses,
    spelling,
    stems,
    symptoms,
    traits,
    vocabulary,
)
from baylore_kb.advice import Tuning
from baylore_kb.calls.chances import WORDINGS
from baylore_kb.calls.open import _HIDES
from baylore_kb.calls.which import WHICH
from baylore_kb.calls.wordings import UNSAFE
from baylore_kb.causes import ALPHA, TRADE_EVIDENCE, objected, tried
from baylore_kb.causes.beliefs import NOT_MENDED_BY_A_PART
from baylore_kb.index import Snapshot
from baylore_kb.parts import is_safety_cause
from baylore_kb.physics.battery import _SOC, REFERENCE_C, rest_voltage_shift_v
from baylore_kb.physics.electric import _FUSE_OHM, FUSE_SPREAD
from baylore_kb.physics.refrigerant import _KPA, HIGHEST_C, LOWEST_C, saturation_kpa
from baylore_kb.plan import places
from baylore_kb.plan.driven import load_check
from baylore_kb.plan.lacking import missing_tool
from baylore_kb.plan.mends import listed_price
from baylore_kb.plan.part_ways import part_ways
from baylore_kb.plan.vain import SOUND_SOURCES
from baylore_kb.plan.warnings import NOT_TO_DRIVE
from baylore_kb.readings import compare
from baylore_kb.readings.worked import electric
from baylore_kb.search import COMPARED
from baylore_kb.tools import tools_for
from baylore_kb.trade.model import Cause, Test, Trade
from baylore_kb.trade.own import own_words
from baylore_kb.trade.places import PLACE_FACTORS
from baylore_kb.values import Terms
from baylore_kb.vehicle import LEVELS, OF_THE_MAKE

# Changes when the shape of what is handed out changes.
FORMAT = 6

# Fine enough that straight lines of ln P over 1/T between them are within 0.01 K.
SATURATION_STEP_K = 2.0

# Where each plain number is at home; a leading underscore of its name there is left out here.
NUMBERS: Mapping[str, tuple[str, str]] = {
    "before": ("before", "MOST_ROWS MOST_NAMED LIKE SYSTEMS_IN_QUESTION CLEARS IN_QUESTION"),
    "call": ("calls", "CLEAR MOST_NEAR SHOWN_WHY LEAST_LIFT"),
    "call chances": ("calls.chances", "NONE_OF_THEM NOTHING_BESIDES SEES_NO_DIFFERENCE"),
    "call choice": ("calls.choose", "MOST LEAST_BITS BITS_FOR_DANGER LEAST_DANGER BITS_TO_SEE_IT"),
    "call likely": ("calls.likely", "RULED_OUT VAGUE"),
    "call open": ("calls.open", "HEARD HEARD_CLEARLY"),
    "casedoc": ("casedoc", "_COMPLAINT _TITLE _CAUSE _NOTE _SYMPTOM _STEP SURELY_HEARD"),
    "features": ("features", "_LEAST_SAID _BRIEF"),
    "index": ("index", "_CODE _SYMPTOM _CAR"),
    "question": ("question", "_SUSPECT _MOST_SYSTEMS"),
    "readings": ("readinglikeness", "_GOOD _BAD _UNJUDGED"),
    "likened": ("readings.compare", "_LOG_INSTRUMENT _SHARE_OF_SCALE"),
    "scoring": ("scoring", "K1 B"),
    "search": ("search", "_STAND_IN _LEAST_ALIKE _MOST_ALIKE _PLAIN_SHARE"),
    "seldom": ("seldom", "FEW"),
    "senses": ("senses", "_REACH _NAMED _ENOUGH LONGEST_FORM"),
    "sharedwords": ("sharedwords", "MOST_WORDS"),
    "spelling": (
        "spelling",
        "_WITHOUT_VOWELS _CUT _SLIPPED_SHORT _SLIPPED _SLIPPED_TWICE _OFTEN _VERY_OFTEN",
    ),
    "symptoms": ("symptoms", "_BIAS MOST_HEARD LEAST_CHANCE"),
    "system sounds": ("system_sounds", "BY_WORDS BY_SYMPTOMS HALF_KNOWN PARTS"),
    "tally": ("tally", "VERIFIED UNVERIFIED"),
    "terms": ("terms", "_NEGATED _MEASURE _PLAIN _KINDRED"),
    "tests": ("testlikeness", "_UNLISTED"),
    "together": ("together", "SAMPLE POWER FEWEST"),
    "vocabulary": ("vocabulary", "_EVERYDAY"),
    "weights": ("weights", "LEAST MOST"),
    "conflicts": (
        "causes.conflicts",
        "LEADS UNLIKELY TIMES_LESS IN_QUESTION WELL_EXPLAINED JOINTLY SPOKE_FOR",
    ),
    "mended": ("causes.mended", "CONFIRMED SPEAKS_OUT MAY_BE_DEAD"),
    "columns": ("causes.columns", "ALPHA_OUTCOMES"),
    "evidence": (
        "causes.evidence",
        "PRESENT_WHEN_AWAY WRONG_PICK OWN_SHOWS OWN_MISLEADS PARTS_SHOWN PRESENT_WHEN_COMES_AND_GOES",
    ),
    "pool": ("causes.pool", "SURE NEW_SHARE NEW_WEIGHT"),
    "prior": (
        "causes.prior",
        "SUREST_HEARD CODE_FACTOR COMMON_CODE_FACTOR MENTION_FACTOR HABIT_PRIOR MISHEARD_ELSEWHERE"
        " CONDITION_TEMPER",
    ),
    "battery": ("physics.battery", "COLDEST_C HOTTEST_C"),
    "beliefs": ("causes.beliefs", "SUSPECT_SYSTEM OTHER_SYSTEM"),
    "conditions": ("conditions", "AGREES CONTRADICTS LEAST_FIT MOST_FIT UNSAID"),
    "reweigh": ("causes.reweigh", "LEAST_FACTOR MOST_FACTOR LEAST MOST DRAWN"),
    "varied": ("varied", "FURTHER"),
    "rows": ("causes.rows", "SPEAKS_FOR MOST_CASES EXPLAINED FAMOUS FELL_TO"),
    "moved": ("causes.moved", "MOST LEAST_CHANGE FARTHEST"),
    "price": ("price", "LEAST_CHANCE MOST_CASES LEAST_CASES"),
    "tried": ("causes.tried", "SECOND_FAULT"),
    "weighing": ("causes.weighing", "LEAST_UNLISTED LEAST_UNLISTED_SETTLED LEAST_LISTED STILL_SHOWN"),
    "asking": ("plan.asking", "CLEAR NEAR_TIE FAINT KNOWN_WELL MOST_OPTIONS"),
    "choose": ("plan.choose", "BY_COST BY_BITS SMALL_STATES NEAR_TIE"),
    "deeper": ("plan.deeper", "MOST_ACTS CLOSE MOST_TESTS"),
    "doing": ("plan.doing", "PRIOR_TIMES"),
    "layout": ("plan.layout", "MOST_CAUSES LEAST_CHANCE HAND_OVER_MIN DEARER DIAGNOSIS_MIN"),
    "line": ("plan.line", "FINEST HALVINGS"),
    "mends": ("plan.mends", "UNKNOWN_REPAIR_MIN PRIOR_JOBS"),
    "offered": ("plan.offered", "FAIR_SHARE WORTH_PROVING HEARD_AT_LEAST"),
    "orders": ("plan.orders", "MOST_TRIED"),
    "places": ("plan.places", "RAISE_MIN LOWER_MIN RECONNECT_MIN RELEARN_MIN COOL_DOWN_MIN WARM_UP_MIN"),
    "proof": ("plan.proof", "PROOF_RATIO SEEN_AT_LEAST NEARLY_SURE NEAR_SURE"),
    "ranked": ("plan.ranked", "SHOWN SHOWN_BARRED SOME_USE_MIN"),
    "referring": ("plan.referring", "WORTH_A_CERTIFICATE_MIN"),
    "staying": ("plan.staying", "FAIR_SHARE_SAVED WORTH_STAYING SOME_USE_MIN"),
    "steps": ("plan.steps", "LONG_MIN LIKELY"),
    "vain": ("plan.vain", "MOST_TRIES"),
    "worked": ("readings.worked.electric", "_LEAST_A _BATTERY_V _NO_START _LEAST_DRAW_A LEAST_FUSE_DRAW_MA"),
    "uneven": ("readings.worked.engine", "_LEAST_KPA"),
    "cars": ("vehicle.cars", "MOST_ENGINES"),
    "nearness": ("vehicle.nearness", "YEAR_BAND _FAR _YEARS_UNKNOWN _OTHER_ENGINE"),
}


def lists(trade: Trade) -> dict[str, Any]:
    """What only the trade lists and the engine's own figures decide; the same for the same lists."""
    return {
        "format": FORMAT,
        "numbers": numbers(),
        "words": _words(trade),
        "measures": _measures(),
        "abbreviations": [
            [entry.forms, entry.kind, [[s.plain, s.refers_to, s.decide_by] for s in entry.senses]]
            for entry in trade.abbreviations
        ],
        "codes": _codes(),
        "car": _car(trade),
        "conditions": _conditions(trade),
        "symptoms": {"weights": symptoms._WEIGHTS, "passing": sorted(symptoms._PASSING)},
        "causes": _causes(trade),
        "tests": {test.id: _standing(test) for test in trade.tests.values()},
        "instruments": compare._INSTRUMENT,
        "not_to_drive": sorted(NOT_TO_DRIVE),
        "calls": _calls(),
        "worked": _worked(),
    }


def shop(snapshot: Snapshot, terms: Terms, tuning: Tuning) -> dict[str, Any]:
    """What a shop's own cases and habits teach at this revision: match weights, money, tools, parts' ways."""
    trade = snapshot.trade
    ways = part_ways(snapshot, trade.components, terms=terms)
    lacking = ((test.id, missing_tool(test.tools, terms.lacks)) for test in trade.tests.values())
    return {
        "format": FORMAT,
        "revision": snapshot.revision,
        "match": {
            "bias": tuning.weights.bias,
            "weights": dict(zip(features.NAMES, tuning.weights.weights, strict=True)),
            "version": tuning.weights.version,
        },
        "temperature": tuning.temperature,
        "trust": tuning.trust,
        "rate_per_hour": terms.rate_per_hour,
        "currency": terms.currency,
        "listed_rate": _listed_rate(terms),
        "rights_needed": terms.rights_needed,
        "lacking": {test: tool for test, tool in lacking if tool is not None},
        "ways": {component: asdict(way) for component, way in ways.items()},
    }


def numbers() -> dict[str, dict[str, float]]:
    """Every plain number of `NUMBERS`, by where it is at home."""
    found = {
        home: {name.lstrip("_"): _number(module, name) for name in names.split()}
        for home, (module, names) in NUMBERS.items()
    }
    found["causes"] = {"ALPHA": ALPHA, "TRADE_EVIDENCE": TRADE_EVIDENCE, "COMPARED": COMPARED}
    return found


def _number(module: str, name: str) -> float:
    return float(getattr(import_module(f"baylore_kb.{module}"), name))


def _listed_rate(terms: Terms) -> float:
    """What one unit of a listed price is in the shop's currency."""
    return listed_price(1.0, terms)


def _words(trade: Trade) -> dict[str, Any]:
    return {
        "stop": sorted(stems.STOP_WORDS),
        "negators": sorted(stems.NEGATORS),
        "light": sorted(stems._LIGHT),
        "kindred": kindred._KIN,
        "ordinary": sorted(senses._ORDINARY),
        "not_evidence": sorted(senses._NOT_EVIDENCE),
        "everyday": vocabulary._MOST_EVERYDAY,
        "own": sorted(own_words(trade)),
        "phrases": [[" ".join(said), of.read, of.kind] for said, of in tools_for(trade).phrases.items()],
        "endings": spelling._ENDINGS,
        "grown": spelling._GROWN,
        "shortest": mend.SHORTEST,
    }


def _measures() -> dict[str, Any]:
    return {
        "units": amounts._UNITS,
        "only_glued": sorted(amounts._ONLY_GLUED),
        "to_base": amounts._TO_BASE,
        "times": sorted(amounts._TIMES),
        "small": amounts._SMALL,
        "tens": amounts._TENS,
    }


def _codes() -> dict[str, Any]:
    return {
        "powertrain": codes._POWERTRAIN,
        "by_letter": codes._BY_LETTER,
        "common": sorted(codes._COMMON),
        "low_voltage": sorted(codes.LOW_VOLTAGE),
    }


def _car(trade: Trade) -> dict[str, Any]:
    return {
        "traits": traits._WORDS,
        "trait_titles": dict(trade.traits),
        "excludes": traits._EXCLUDES,
        "combustion_only": traits._COMBUSTION_ONLY,
        "diesel": engine._DIESEL.pattern,
        "petrol": engine._PETROL.pattern,
        "steps": tuple(LEVELS),
        "steps_of_the_make": tuple(step for step in LEVELS if step in OF_THE_MAKE),
    }


def _conditions(trade: Trade) -> dict[str, Any]:
    shown = ((symptom.id, conditions.conditions_of(symptom)) for symptom in trade.symptoms.values())
    return {
        "listed": dict(conditions.SHOWS_WHEN),
        "opposites": conditions.OPPOSITES,
        "of_symptom": {symptom: sorted(found) for symptom, found in shown if found},
        "said_as": conditions._SAID_AS,
    }


def _calls() -> dict[str, Any]:
    """The questions for the phone as they are worded, and the pattern that says a fault hides."""
    worded = (asdict(each) for each in WORDINGS)
    return {
        "wordings": [
            each | {"among": sorted(each["among"]), "unless": sorted(each["unless"])} for each in worded
        ],
        "which": len(WHICH),
        "hides": _HIDES.pattern,
        "unsafe": sorted(UNSAFE),
    }


def _worked() -> dict[str, Any]:
    """Tables behind values that follow from others; a gas's pressures lie two kelvin apart, absolute."""
    steps = range(round((HIGHEST_C - LOWEST_C) / SATURATION_STEP_K) + 1)
    warmths = [LOWEST_C + SATURATION_STEP_K * step for step in steps]
    return {
        "current_of": electric._CURRENT_OF,
        "coils": electric._COILS,
        "fuse_ohm": _FUSE_OHM,
        "fuse_spread": FUSE_SPREAD,
        "charge": _SOC,
        "charge_v_per_k": rest_voltage_shift_v(1.0) - rest_voltage_shift_v(0.0),
        "charge_at_c": REFERENCE_C,
        "coldest_c": LOWEST_C,
        "step_k": SATURATION_STEP_K,
        "saturation_kpa": {gas: [saturation_kpa(gas, warmth) for warmth in warmths] for gas in _KPA},
    }


def _causes(trade: Trade) -> dict[str, Any]:
    every = trade.causes.values()
    return {
        "place_factors": PLACE_FACTORS,
        "not_by_part": sorted(NOT_MENDED_BY_A_PART),
        "lean": {cause.id: lean for cause in every if (lean := conditions.leaning(cause, trade))},
        "part_price": {cause.id: cause.part_price for cause in every if cause.part_price is not None},
        "safety": [cause.id for cause in every if is_safety_cause(cause)],
        "drives": {cause.id: found for cause in every if (found := list(_driven(cause, trade)))},
        "objections": objected.FACTORS,
        "sources": {source: tuple(worth) for source, worth in tried.SOURCES.items()},
        "repair": tuple(tried.REPAIR),
        "elsewhere": tried.ELSEWHERE,
        "elsewhere_away": tried.ELSEWHERE_COMES_AND_GOES,
        "two_show_as": tried.TWO_SHOW_AS,
        "sound_sources": sorted(SOUND_SOURCES),
    }


def _driven(cause: Cause, trade: Trade) -> Iterator[str]:
    """The checks of what a driver feeds, the foremost first."""
    done: set[str] = set()
    while (check := load_check(cause.id, trade, done=done)) is not None:
        yield check.id
        done.add(check.id)


def _standing(test: Test) -> str:
    """What a test does to the car and asks of it: c(old), w(arm), r(uns), d(isconnects), m(emory)."""
    marks = (
        ("c", places.wants_cold(test)),
        ("w", places.wants_warm(test)),
        ("r", places.runs(test)),
        ("d", places.disconnects(test)),
        ("m", places.needs_memory(test)),
    )
    return "".join(mark for mark, holds in marks if holds)
