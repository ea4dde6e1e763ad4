"""The rules the data files keep among each other; every break of a rule is a fault."""

from __future__ import annotations

from baylore_kb.trade.faults import Faults
from baylore_kb.trade.files import Rows
from baylore_kb.trade.model import Trade
from baylore_kb.trade.rules.causes import check_causes
from baylore_kb.trade.rules.names import check_names
from baylore_kb.trade.rules.quantities import check_quantities
from baylore_kb.trade.rules.tests import check_tests
from baylore_kb.trade.rules.words import check_words

__all__ = ["check"]


def check(rows: Rows, trade: Trade, faults: Faults) -> None:
    """Note in `faults` every rule that `rows`, built into `trade`, break."""
    check_names(rows, faults)
    check_words(rows, trade, faults)
    check_quantities(rows, trade, faults)
    check_tests(rows, trade, faults)
    check_causes(rows, trade, faults)
