"""Word stems and the few words that carry no fault: shared by everything that reads text."""

from __future__ import annotations

from functools import lru_cache
from threading import Lock

import snowballstemmer

_STEMMER = snowballstemmer.stemmer("english")
# The stemmer keeps the word it works on in itself, and questions are read on several threads.
_ONE_AT_A_TIME = Lock()

# Mild on purpose: "on", "off", "up" and "down" tell faults apart.
_STOP = """
    a an the and or is are was were be been being am it its it's this that these those i i'm i've my me we
    our us you your he she his her they their them of to in at for from by as with than so but if when
    while has have had do does did will would could should may might just also there here which who what
    customer says said states some into onto because about really very quite s t
    can may must shall yet already both each other another same such between within during until since
    through against among per via etc however therefore although though unless whether due himself myself
    themselves yourself ourselves anyone someone everything something anything us him too upon toward towards
    along across"""
STOP_WORDS = frozenset(_STOP.split())
_NOT = """not no never without cannot nor none dont doesnt didnt wont cant isnt arent wasnt werent wouldnt
    couldnt hasnt havent hadnt aint shouldnt nothing"""
NEGATORS = frozenset(_NOT.split())
# Passed over between a negation and its word: "does not get cold" is "not cold".
_PASSED = "get gets getting go goes going any even all always want wants seem seems much more on"
_LIGHT = frozenset(_PASSED.split())


@lru_cache(maxsize=200_000)
def stem(word: str) -> str:
    """The English Snowball stem of a folded word; words with a digit come back whole."""
    if any(c.isdigit() for c in word):
        return word
    with _ONE_AT_A_TIME:
        return str(_STEMMER.stemWord(word))


def is_negator(word: str) -> bool:
    """Whether the folded word turns the next one round: "not", "won't", "doesnt"."""
    return word in NEGATORS or word.endswith("n't")


def is_light(word: str) -> bool:
    """Whether a negation looks past this folded word for the one it means."""
    return word in STOP_WORDS or word in _LIGHT
