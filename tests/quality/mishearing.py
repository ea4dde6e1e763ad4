"""How a dictated complaint is misheard, and how a typed one is misspelt."""

from __future__ import annotations

import random

SHORTEST = 5
# What dictation writes for words that sound nearly alike; from memory, no source.
SOUNDS_LIKE = {
    "air": "heir", "battery": "batter he", "bearing": "baring", "belt": "built", "blower": "blow her",
    "brake": "break", "brakes": "breaks", "cabin": "cab in", "cable": "gable", "clutch": "crutch",
    "cold": "called", "compressor": "compress her", "cooler": "cool her", "coolant": "cool and",
    "cools": "calls", "crank": "frank", "cranks": "ranks", "dash": "dish", "door": "daw",
    "driving": "dry thing", "engine": "end gin", "exhaust": "exhort", "fan": "fen", "fault": "fold",
    "fluid": "flu it", "fuel": "few all", "gauge": "gage", "gear": "gere", "grinding": "grinned in",
    "hard": "heart", "heater": "heat her", "heat": "heed", "hose": "hoes", "hot": "hut", "humming": "hamming",
    "idle": "idol", "key": "quay", "lamp": "lamb", "leak": "leek", "leaking": "leek in", "leaks": "leeks",
    "lights": "lies", "light": "lite", "lock": "loch", "mirror": "mere", "motor": "mode her",
    "noise": "nice", "oil": "all", "pedal": "peddle", "petrol": "patrol", "power": "pow her",
    "pulls": "pools",
    "pump": "bump", "radiator": "radiate her", "rattle": "raffle", "rear": "rare", "rough": "ruff",
    "seat": "seed", "shakes": "sheiks", "slow": "sloe", "smell": "smile", "smoke": "spoke",
    "squeal": "square",
    "stalls": "stools", "start": "stared", "starter": "start her", "starts": "stats", "steering": "stirring",
    "switch": "which", "tyre": "tire", "vent": "went", "vents": "fence", "vibration": "vibe ration",
    "warm": "worm", "water": "what her", "wheel": "weal", "wheels": "weals", "whine": "wine",
    "whistle": "wrestle", "window": "win though", "wiper": "wipe her", "wipers": "vipers",
}  # fmt: skip


def misheard(text: str, most: int, chance: random.Random) -> str:
    """The text as dictated, without capitals and stops, and at most so many of its words misheard."""
    words = [word.strip(",.;:!?").lower() for word in text.split()]
    known = [n for n, word in enumerate(words) if word in SOUNDS_LIKE]
    for n in chance.sample(known, min(most, len(known))):
        words[n] = SOUNDS_LIKE[words[n]]
    return " ".join(word for word in words if word)


def slipped(text: str, slips: int, chance: random.Random) -> str:
    """The text with so many of its longer words misspelt by one letter left out or two swapped."""
    words = text.split()
    long = [n for n, word in enumerate(words) if len(word) >= SHORTEST and word.isalpha()]
    for n in chance.sample(long, min(slips, len(long))):
        words[n] = _slip(words[n], chance)
    return " ".join(words)


def _slip(word: str, chance: random.Random) -> str:
    at = chance.randrange(1, len(word) - 1)
    swapped = word[: at - 1] + word[at] + word[at - 1] + word[at + 1 :]
    return swapped if chance.random() < 0.5 and swapped != word else word[:at] + word[at + 1 :]
