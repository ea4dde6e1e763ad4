"""The shop's own causes as records like the listed ones."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from statistics import median

from baylore_kb.stems import stem
from baylore_kb.tokens import split
from baylore_kb.trade.model import Cause, Component, Trade
from baylore_kb.trade.own.entries import OwnCause, OwnTest
from baylore_kb.trade.own.ids import OWN, own_id

# The mode of causes whose words name none of the listed ones.
OWN_MODE = "own"
# Labour from less to more than what the shop says; common practice, no published source.
LESS, MORE = 0.75, 1.25


def cause_records(causes: Iterable[OwnCause], tests: Sequence[OwnTest], shipped: Trade) -> dict[str, Cause]:
    """Own causes by id as full records; no causes give none."""
    return {own.id: _record(own, tests, shipped) for own in causes}


def component_records(causes: Iterable[Cause], shipped: Trade) -> dict[str, Component]:
    """The components that only own causes have, by id, named as the cause is, and without its mode."""
    own = [cause for cause in causes if cause.component not in shipped.components]
    return {
        cause.component: Component(cause.component, cause.title, cause.system, (_without_mode(cause),))
        for cause in own
    }


def _without_mode(cause: Cause) -> str:
    mode = {stem(word) for word in cause.mode.split("_")}
    words = (token.text for token in split(cause.title) if token.kind == "word")
    return " ".join(word for word in words if stem(word) not in mode)


def _record(own: OwnCause, tests: Sequence[OwnTest], shipped: Trade) -> Cause:
    listed = own.component is not None and own.component in shipped.components
    component = own.component if listed and own.component else own_id(own.title) or f"{OWN}part"
    return Cause(
        id=own.id,
        title=own.title,
        component=component,
        mode=mode_named(own.title, shipped.modes),
        system=own.system,
        weight=modest_weight(own.system, shipped),
        confirm_test=_confirming(own, tests, shipped),
        fix=own.fix,
        labour_low_h=LESS * own.minutes / 60.0,
        labour_high_h=MORE * own.minutes / 60.0,
        symptoms=tuple(symptom for symptom in own.symptoms if symptom in shipped.symptoms),
        only_if=tuple(trait for trait in own.only_if if trait in shipped.traits),
        part_price=_price(component, shipped),
    )


def modest_weight(system: str, shipped: Trade) -> float:
    """Pseudo-count of a cause nobody has counted: the lower quartile of its system's, 1 without any."""
    weights = sorted(cause.weight for cause in shipped.causes.values() if cause.system == system)
    return weights[len(weights) // 4] if weights else 1.0


def mode_named(title: str, modes: Mapping[str, str]) -> str:
    """The listed mode all of whose words stand in the title, the longest first; else the neutral one."""
    said = {stem(token.text) for token in split(title) if token.kind == "word"}
    named = (mode for mode in modes if {stem(word) for word in mode.split("_")} <= said)
    return max(named, key=lambda mode: mode.count("_"), default=OWN_MODE)


def _confirming(own: OwnCause, tests: Sequence[OwnTest], shipped: Trade) -> str:
    """The test the shop names, else one of its own that points at the cause, those at fewest first."""
    own_tests = {test.id for test in tests}
    if own.confirm_test and (own.confirm_test in shipped.tests or own.confirm_test in own_tests):
        return own.confirm_test
    pointing = [test for test in tests if own.id in test.points_at and not test.retired]
    return min(pointing, key=lambda test: len(test.points_at)).id if pointing else ""


def _price(component: str, shipped: Trade) -> float:
    """The middle price of the component's listed repairs; 0, no part, where nothing is known of one."""
    prices = [cause.part_price or 0.0 for cause in shipped.causes.values() if cause.component == component]
    return median(prices) if prices else 0.0
