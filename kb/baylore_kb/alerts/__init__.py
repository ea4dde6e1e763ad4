"""What the manager should hear of unasked: signals, rises, failing part sources, comebacks."""

from __future__ import annotations

from baylore_kb.alerts.alert import KINDS, Alert, Kind
from baylore_kb.alerts.part_sources import failing_sources
from baylore_kb.alerts.returns import returning
from baylore_kb.alerts.signals import rising, signals, subject

__all__ = ["KINDS", "Alert", "Kind", "failing_sources", "returning", "rising", "signals", "subject"]
