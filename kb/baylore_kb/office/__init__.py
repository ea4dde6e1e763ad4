"""What the office reads: the shelf, cures, money and minutes, and what the memory is worth."""

from __future__ import annotations

from baylore_kb.office.cures import CureReport, Cures, cures
from baylore_kb.office.follow_up import FollowUp, follow_ups
from baylore_kb.office.gaps import FACTS, Gaps, Missing, Saved, SystemGap, gaps, lacks, saved
from baylore_kb.office.losses import JobTime, Loss, job_times, losses
from baylore_kb.office.season import Season, Seasonal, Stock, season
from baylore_kb.office.shelf import Costs, Shelf, is_seasonal, shelf
from baylore_kb.office.watch_list import Watch, watch_list

__all__ = [
    "Costs",
    "CureReport",
    "Cures",
    "FACTS",
    "FollowUp",
    "Gaps",
    "JobTime",
    "Loss",
    "Missing",
    "Saved",
    "Season",
    "Seasonal",
    "Shelf",
    "Stock",
    "SystemGap",
    "Watch",
    "cures",
    "follow_ups",
    "gaps",
    "is_seasonal",
    "job_times",
    "lacks",
    "losses",
    "saved",
    "season",
    "shelf",
    "watch_list",
]
