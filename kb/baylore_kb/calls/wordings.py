"""Questions as one asks them on the phone: which of several complaints, when it shows, is it safe to drive.

Own words, from memory of the trade; no published source.
"""

from __future__ import annotations

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
    unsafe.
    """

    kind: Kind
    question: str
    answers: tuple[Said, ...]
    among: frozenset[str] = frozenset()


def _which(question: str, answers: Mapping[str, str]) -> Wording:
    """One symptom an answer."""
    said = tuple(Said(title, symptom, shows=(symptom,)) for title, symptom in answers.items())
    return Wording("which", question, said, frozenset(answers.values()))


def _when(question: str, answers: Mapping[str, str], *, otherwise: str) -> Wording:
    said = tuple(Said(title, condition=condition) for title, condition in answers.items())
    return Wording("when", question, (*said, Said(otherwise)))


def _danger(question: str, symptom: str) -> Wording:
    return Wording("danger", question, (Said("Yes", symptom, shows=(symptom,)), Said("No")))


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
)

WHICH = (
    _which(
        "Click or silence when you turn the key?",
        {
            "One click or many": "no_crank_click",
            "Silence": "no_crank_silent",
            "Turns over slowly": "slow_crank",
            "Turns over, does not fire": "cranks_no_start",
        },
    ),
    _which(
        "Does it fire and die, or not fire at all?",
        {"Fires and dies": "start_then_stall", "Does not fire": "cranks_no_start"},
    ),
    _which(
        "Flat after standing, or a lamp while driving?",
        {
            "Flat after standing": "batt_flat_overnight",
            "Charge lamp while driving": "batt_light",
            "Lamps dim while driving": "charge_low",
        },
    ),
    _which(
        "Never cold, or cold at first?",
        {
            "Never cold": "no_cold_air",
            "Cold at first, then warm": "cold_then_warm",
            "Cold only while driving": "cold_only_moving",
            "Always a bit weak": "ac_weak",
        },
    ),
    _which(
        "Does the fan blow at all?", {"Not at all": "blower_dead", "On some steps only": "blower_one_speed"}
    ),
    _which(
        "No heat, or the engine stays cold too?",
        {"Gauge stays low": "runs_cold", "Gauge normal": "heat_none"},
    ),
    _which(
        "When does the gauge climb?",
        {
            "Standing, in traffic": "overheat_idle",
            "Fast or uphill": "overheat_load",
            "All at once, any time": "overheat_sudden",
        },
    ),
    _which(
        "Is there a puddle under it?",
        {"Yes, coloured and sweet": "coolant_loss_ext", "No, it only goes down": "coolant_loss_unknown"},
    ),
    _which(
        "When does it run rough?",
        {
            "Standing at idle": "misfire_idle",
            "Pulling, uphill": "misfire_load",
            "In the wet": "misfire_wet",
            "Cold, then it clears": "misfire_cold",
        },
    ),
    _which(
        "When does it cut out?",
        {
            "Coming to a stop": "stall_idle",
            "Hot, while driving": "stall_hot",
            "Right after starting": "start_then_stall",
        },
    ),
    _which(
        "Weak all the time, or only at first?",
        {
            "Weak all the time": "no_power",
            "A hole when pulling away": "hesitation",
            "Suddenly weak, with a lamp": "limp_mode",
            "It jerks when pulling": "misfire_load",
        },
    ),
    _which(
        "What colour is the smoke?",
        {"White": "white_smoke", "Blue": "blue_smoke", "Black": "black_smoke"},
    ),
    _which(
        "What does it smell of?",
        {
            "Fuel": "fuel_smell",
            "Sweet": "sweet_smell",
            "Burning": "burn_smell",
            "Rotten eggs": "rotten_egg",
            "Musty": "cabin_smell",
        },
    ),
    _which(
        "What colour is the drip?",
        {"Brown or black": "oil_leak", "Coloured, sweet": "coolant_loss_ext", "Red": "trans_leak"},
    ),
    _which(
        "How does the brake pedal feel?",
        {"Spongy": "pedal_soft", "It sinks under the foot": "pedal_sinks", "Hard": "pedal_hard"},
    ),
    _which(
        "What do the brakes do?",
        {
            "Squeal": "brake_squeal",
            "Grind": "brake_grind",
            "Shake": "brake_judder",
            "Pull to one side": "brake_pull",
        },
    ),
    _which(
        "Which lamp is it?",
        {
            "Red brake lamp": "brake_warn",
            "ABS": "abs_lamp",
            "Stability or traction": "stab_lamp",
            "Engine, steady": "cel_on",
            "Many at once": "many_lamps",
        },
    ),
    _which(
        "When does it knock?",
        {
            "Over bumps": "clunk_bumps",
            "Turning the wheel": "steer_clunk",
            "Taking up drive": "clunk_drive",
            "Full lock, clicking": "cv_click",
        },
    ),
    _which(
        "When does it shake?",
        {
            "At speed, in the wheel": "steer_shimmy",
            "When braking": "brake_judder",
            "When accelerating": "vib_accel",
            "Standing at idle": "engine_shake",
            "Steady, light throttle": "tcc_shudder",
        },
    ),
    _which(
        "Does it pull all the time, or when braking?",
        {"All the time": "steer_pull", "When braking": "brake_pull", "It wanders": "steer_wander"},
    ),
    _which(
        "What does the gearbox do?",
        {
            "Bangs into gear": "harsh_shift",
            "Revs without pulling": "slip_flare",
            "Waits, then engages": "delay_engage",
            "No drive": "no_drive",
            "Stays in one gear": "gear_stuck",
        },
    ),
    _which(
        "What kind of noise?",
        {
            "Ticking": "engine_tick",
            "Deep knock": "engine_knock",
            "Rattle at cold start": "chain_rattle",
            "Squeal": "belt_squeal",
        },
    ),
    _which(
        "Where is it wet?",
        {
            "Front carpet": "cabin_water_ac",
            "Boot or rear": "water_in_body",
            "Under the roof": "sunroof_fault",
        },
    ),
    _which(
        "Key, lock or lamp?",
        {
            "Key not recognised": "key_not_seen",
            "Remote does nothing": "remote_dead",
            "A door does not lock": "lock_dead",
            "Security lamp on": "immo_lamp",
        },
    ),
    _which(
        "What do the lamps do?",
        {"Flicker": "lights_flicker", "One is out": "headlamp_out", "Wrong ones glow": "lamps_ghost"},
    ),
    _which(
        "Not ready, weak, or not charging?",
        {
            "Will not go ready": "hv_not_ready",
            "Reduced power": "hv_reduced",
            "Does not charge": "hv_no_charge",
        },
    ),
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
    _danger("Does it smell of fuel?", "fuel_smell"),
    _danger("Does the brake pedal sink to the floor?", "pedal_sinks"),
    _danger("Is the red brake lamp lit?", "brake_warn"),
    _danger("Is a high-voltage warning shown?", "hv_isolation"),
)

UNSAFE = frozenset(said.symptom for wording in DANGER for said in wording.answers if said.symptom)

WORDINGS = (*WHICH, LAMPS_DIM, *WHEN, *DANGER)
ALSO = "Does it do one of these too?"
SOMETHING_ELSE = "Something else"
