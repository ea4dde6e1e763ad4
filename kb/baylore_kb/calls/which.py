"""Which of several complaints that customers call by one name.

Own words, from memory of the trade; no published source.
"""

from __future__ import annotations

from collections.abc import Mapping

from baylore_kb.calls.wordings import HOW_IT_DOES_NOT, WONT_START, Said, Wording


def _which(question: str, answers: Mapping[str, str], *, name: str = "", settled: str = "") -> Wording:
    """One symptom an answer; `name` and `settled` as Wording has them."""
    said = tuple(Said(title, symptom, shows=(symptom,)) for title, symptom in answers.items())
    return Wording("which", question, said, frozenset(answers.values()), name=name, settled=settled)


WHICH = (
    _which(
        "Click or silence when you turn the key?",
        {
            "One click or many": "no_crank_click",
            "Silence": "no_crank_silent",
            "Turns over slowly": "slow_crank",
            "Turns over, does not fire": "cranks_no_start",
        },
        name=WONT_START,
        settled=HOW_IT_DOES_NOT,
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
        name=r"smok",
        settled=r"white|blue|black|grey|steam|soot",
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
        name=r"smell|stink|odou?r",
        settled=r"fuel|petrol|gas|diesel|sweet|burn|egg|must|mou?ld|damp|hot",
    ),
    _which(
        "What colour is the drip?",
        {"Brown or black": "oil_leak", "Coloured, sweet": "coolant_loss_ext", "Red": "trans_leak"},
        name=r"leak|drip|puddle",
        settled=r"oil|coolant|water|red|green|pink|sweet|brown|black|fuel|petrol|roof|carpet",
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
