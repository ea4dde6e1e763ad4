"""Which causes show a symptom and which tests speak about a cause, looked up once."""

from __future__ import annotations

from collections.abc import Iterable

from baylore_kb.trade.model import Cause, Test, Trade


class Guide:
    """The trade lists turned round, for those who look for a fault."""

    def __init__(self, trade: Trade) -> None:
        self.trade = trade
        self._by_symptom: dict[str, list[Cause]] = {}
        for cause in trade.causes.values():
            for symptom in cause.symptoms:
                self._by_symptom.setdefault(symptom, []).append(cause)
        self._tests: dict[str, list[Test]] = {}
        for test in trade.tests.values():
            for id in dict.fromkeys(id for row in test.likelihood for id in row.causes):
                self._tests.setdefault(id, []).append(test)

    def shown_by(self, symptom: str) -> list[Cause]:
        """Causes that show the symptom."""
        return self._by_symptom.get(symptom, [])

    def tests_about(self, causes: Iterable[Cause]) -> list[Test]:
        """Tests that speak about any of the causes, each once."""
        found = (test for cause in causes for test in self._tests.get(cause.id, ()))
        return list({test.id: test for test in found}.values())
