"""Whole jobs on paper: invented shops whose truth is known, and several ways of working played against it."""

from baylore_kb.simulate import small
from baylore_kb.simulate.nature import Nature, nature
from baylore_kb.simulate.play import Job, play
from baylore_kb.simulate.players import ByAdvice, ByGain, ByList, LikeliestFirst, Mind, Player, UsualFirst
from baylore_kb.simulate.report import Played, simulate
from baylore_kb.simulate.shop import Call, Town
from baylore_kb.simulate.world import World

__all__ = [
    "ByAdvice",
    "ByGain",
    "ByList",
    "Call",
    "Job",
    "LikeliestFirst",
    "Mind",
    "Nature",
    "Played",
    "Player",
    "Town",
    "UsualFirst",
    "World",
    "nature",
    "play",
    "simulate",
    "small",
]
