"""What the office reads: the shelf, cures, money and minutes, and what the memory is worth."""

from __future__ import annotations

from baylore_kb.office.cures import CureReport, Cures, cures
from baylore_kb.office.gaps import Gaps, Missing, Saved, SystemGap, gaps, saved
from baylore_kb.office.losses import JobTime, Loss, job_times, losses
from baylore_kb.office.shelf import Costs, Shelf, is_seasonal, shelf
from baylore_kb.office.watch_list import Watch, watch_list

__all__ = [
    "Costs",
    "CureReport",
    "Cures",
    "Gaps",
    "JobTime",
    "Loss",
    "Missing",
    "Saved",
    "Shelf",
    "SystemGap",
    "Watch",
    "cures",
    "gaps",
    "is_seasonal",
    "job_times",
    "losses",
    "saved",
    "shelf",
    "watch_list",
]
