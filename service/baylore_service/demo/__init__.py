"""The demo shop: an invented garage with three years of cases, the same every time."""

from __future__ import annotations

from baylore_service.demo.generator import cases
from baylore_service.demo.loading import DemoShop, load

__all__ = ["DemoShop", "cases", "load"]
