"""A symptom as somebody tells it: listed words bent, clipped, misheard, with things around them."""

from __future__ import annotations

import re

import numpy as np

from baylore_kb.trade.model import Symptom, Trade

Chance = np.random.Generator

AROUND = (
    "since last week", "started yesterday", "sometimes", "every morning", "on the way to work", "twice now",
    "customer says", "please check", "had it looked at before", "new battery last year", "after the weekend",
    "it was fine before", "getting worse", "cannot say since when", "mostly with the kids in the back",
)  # fmt: skip
# Other words for the same; whole words, lower case.
SWAPS = {
    "car": ("vehicle", "motor"), "cold": ("chilly", "freezing"), "hot": ("warm", "boiling"),
    "engine": ("motor",), "noise": ("sound", "racket"), "noisy": ("loud",), "won't": ("will not",),
    "doesn't": ("does not", "won't"), "working": ("functioning", "going"), "works": ("functions",),
    "stops": ("quits", "gives up"), "dead": ("not working", "gone"), "slow": ("sluggish",),
    "shakes": ("vibrates", "judders"), "vibration": ("shaking", "judder"), "light": ("lamp",),
    "lamp": ("light",), "smell": ("stink", "odour"), "leaks": ("drips", "loses fluid"), "leak": ("drip",),
    "pulls": ("drags", "drifts"), "driving": ("on the road", "going along"), "start": ("fire up",),
    "starts": ("fires up",), "battery": ("batt",), "brake": ("brakes",), "steering": ("wheel",),
    "low": ("down",), "high": ("up",), "intermittent": ("on and off",), "air": ("blower air",),
    "when": ("whenever", "as soon as"), "turn": ("twist",), "rough": ("lumpy",), "loss": ("lack",),
    "grinding": ("scraping",), "whine": ("howl",), "knock": ("clonk",), "clunk": ("clonk", "bang"),
}  # fmt: skip
SOUNDS_LIKE = {
    "brake": "break", "idle": "idol", "whine": "wine", "steering": "stirring", "clutch": "clutched",
    "fuse": "views", "relay": "really", "hot": "hut", "cold": "called", "gear": "gere", "leak": "leek",
    "light": "lied", "rough": "ruff", "noise": "nose", "rear": "rare", "crank": "crunk", "won't": "want",
}  # fmt: skip
LITTLE = frozenset(
    {"the", "a", "an", "is", "are", "it", "its", "my", "at", "on", "in", "of", "and", "to", "when"}
)


def told(listed: Symptom, chance: Chance) -> str:
    """One telling of a symptom; the same generator state tells the same."""
    source = listed.said_by_customer if chance.random() < 0.65 else listed.written_by_tech
    if listed.misheard_or_typo and chance.random() < 0.1:
        source = listed.misheard_or_typo
    said = _swapped(source[int(chance.integers(len(source)))], chance)
    said = _clipped(_turned(said, chance), chance)
    around = [AROUND[int(chance.integers(len(AROUND)))] for _ in range(int(chance.integers(0, 3)))]
    text = ", ".join([said, *around] if chance.random() < 0.7 else [*around, said])
    return _slipped(_misheard(text, chance) if chance.random() < 0.25 else text, chance)


def complaint_text(symptoms: list[str], trade: Trade, chance: Chance) -> str:
    """The words of a complaint with one or more symptoms."""
    return ", ".join(told(trade.symptoms[symptom], chance) for symptom in symptoms)


def _swapped(text: str, chance: Chance) -> str:
    return " ".join(_other(word, chance) for word in text.split())


def _other(word: str, chance: Chance) -> str:
    others = SWAPS.get(word.lower(), ())
    return others[int(chance.integers(len(others)))] if others and chance.random() < 0.35 else word


def _turned(text: str, chance: Chance) -> str:
    halves = re.split(r",\s*|\s+(?=when |if |till |after )", text)
    return " ".join(reversed(halves)) if len(halves) > 1 and chance.random() < 0.4 else text


def _clipped(text: str, chance: Chance) -> str:
    """Little words mostly dropped by a technician's thumb, now and then another one."""
    words = text.split()
    kept = [w for w in words if chance.random() > (0.3 if w.lower() in LITTLE else 0.1)]
    return " ".join(kept) or text


def _misheard(text: str, chance: Chance) -> str:
    bare = re.sub(r"[,.;:!?](?=\s|$)", "", text).lower()
    return " ".join(SOUNDS_LIKE.get(w, w) if chance.random() < 0.5 else w for w in bare.split())


def _slipped(text: str, chance: Chance) -> str:
    return " ".join(_slip(w, chance) if len(w) > 3 and chance.random() < 0.05 else w for w in text.split())


def _slip(word: str, chance: Chance) -> str:
    at = int(chance.integers(1, len(word) - 1))
    kind = chance.random()
    if kind < 0.4:
        return word[:at] + word[at + 1 :]
    if kind < 0.8:
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    return word[:at] + word[at] + word[at:]
