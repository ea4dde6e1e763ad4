"""Questions as one asks them on the phone: when it shows, what is seen meanwhile, is it safe to drive.

Own words, from memory of the trade; no published source.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Kind = Literal["which", "also", "hint", "when", "danger"]
DO_NOT_DRIVE = "Not to be driven if"


@dataclass(frozen=True, slots=True)
class Said:
    """An answer: what tapping it adds, and the symptoms a cause must show for it to be given."""

    title: str
    symptom: str | None = None
    condition: str | None = None
    shows: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Wording:
    """A question with its answers; asked where one of the symptoms `among` was heard, empty for any.

    A `which` parts complaints that customers call by one name, an `also` asks for another complaint beside
    it, a `hint` for something seen meanwhile, a `when` for a condition, a `danger` for what makes the car
    unsafe. Not asked once one of `unless` was heard clearly. `name` is what customers call all of them alike
    (a pattern): words with it leave open which one, whatever was heard, unless `settled` is in them too.
    """

    kind: Kind
    question: str
    answers: tuple[Said, ...]
    among: frozenset[str] = frozenset()
    unless: frozenset[str] = frozenset()
    name: str = ""
    settled: str = ""

    def vague(self, text: str) -> bool:
        """Whether the words name all of these complaints alike and say no more."""
        return bool(self.name and re.search(self.name, text.lower())) and not self.told(text)

    def told(self, text: str) -> bool:
        """Whether the words already say which."""
        return bool(self.settled and re.search(self.settled, text.lower()))


def _when(question: str, answers: Mapping[str, str], *, otherwise: str) -> Wording:
    said = tuple(Said(title, condition=condition) for title, condition in answers.items())
    return Wording("when", question, (*said, Said(otherwise)))


def _danger(question: str, symptom: str) -> Wording:
    return Wording("danger", question, (Said("Yes", symptom, shows=(symptom,)), Said("No")))


WONT_START = r"(n[o']?t|never|hardly|will) (always |even )?start|no start"
HOW_IT_DOES_NOT = (
    r"crank|turn\w* (over|round)|spin|click|silen|noise|slow|fire|dies|die\b|stall|hard to start"
)
_DEAD_ON_THE_KEY = ("no_crank_click", "no_crank_silent", "slow_crank", "cranks_no_start")
LAMPS_DIM = Wording(
    "hint",
    "Do the lamps go dim while you turn the key?",
    (
        Said(
            "They go dim or out", "slow_crank", shows=("slow_crank", "batt_flat_overnight", "lights_flicker")
        ),
        Said("They stay bright", "no_crank_silent", shows=("no_crank_silent",)),
    ),
    frozenset(_DEAD_ON_THE_KEY),
    unless=frozenset({"cranks_no_start", "start_then_stall"}),
    name=WONT_START,
    settled=r"crank|turn\w* (over|round)|fire|dies|die\b|stall|dim|bright|(lamp|light)s? (go|stay|ok|fine)",
)

WHEN = (
    _when("Hot or cold?", {"Only hot": "hot", "Only cold": "cold"}, otherwise="No difference"),
    _when(
        "Hot day or cold day?", {"Hot days": "hot_day", "Cold days": "cold_day"}, otherwise="No difference"
    ),
    _when("Wet or dry?", {"In the wet": "rain"}, otherwise="Dry too"),
    _when("Standing or driving?", {"Standing": "idle", "Driving": "driving"}, otherwise="Both"),
    _when("Only after standing for hours?", {"Yes": "standing"}, otherwise="Any time"),
    _when("Only at speed?", {"At speed": "fast"}, otherwise="Slowly too"),
    _when("Only when pulling or uphill?", {"Yes": "load"}, otherwise="Any time"),
    _when("Only over bumps?", {"Over bumps": "bumps"}, otherwise="Smooth road too"),
    _when("Only when turning?", {"When turning": "turning"}, otherwise="Straight too"),
    _when("Only when braking?", {"When braking": "braking"}, otherwise="Any time"),
    _when("Only with the A/C on?", {"With A/C on": "aircon"}, otherwise="A/C off too"),
    _when("Only with lamps and heaters on?", {"Yes": "electrics"}, otherwise="Any time"),
)

DANGER = (
    _danger("Is the red oil lamp lit?", "oil_lamp"),
    _danger("Did the temperature gauge go to red?", "overheat_sudden"),
    _danger("Does the engine lamp flash?", "cel_flash"),
    _danger("Does it smell of fuel?", "fuel_smell"),
    _danger("Is there smoke or a smell of burning?", "burn_smell"),
    _danger("Does the brake pedal sink to the floor?", "pedal_sinks"),
    _danger("Is the red brake lamp lit?", "brake_warn"),
    _danger("Has the steering gone heavy?", "steer_heavy"),
    _danger("Is a high-voltage warning shown?", "hv_isolation"),
)

UNSAFE = frozenset(said.symptom for wording in DANGER for said in wording.answers if said.symptom)

ALSO = "Does it do one of these too?"
SOMETHING_ELSE = "Something else"
