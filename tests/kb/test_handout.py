"""What is handed out for reckoning elsewhere."""

from __future__ import annotations

import json
import math

from hypothesis import given
from hypothesis import strategies as st

from baylore_kb import handout
from baylore_kb.advice import SHIPPED_TUNING, Tuning
from baylore_kb.features import NAMES
from baylore_kb.index import Snapshot
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Correction, PartTried, Terms
from baylore_kb.weights import MatchWeights


def fitted(part: str) -> Case:
    parts = (PartTried(part, "maker", "cured", 90.0), PartTried(part, "aftermarket", "no change", 20.0))
    return Case(
        "a",
        Complaint("fan dead", parts=parts),
        state="closed",
        cause=f"{part}.worn",
        correction=Correction(text="fan motor"),
        verified=True,
    )


def test_every_figure_is_a_plain_finite_number() -> None:
    every = [number for home in handout.numbers().values() for number in home.values()]
    assert len(every) > 100
    assert all(math.isfinite(number) for number in every)


def test_the_lists_travel_as_json_and_come_back_the_same() -> None:
    lists = handout.lists(load())
    assert json.loads(json.dumps(lists)) == json.loads(json.dumps(handout.lists(load())))
    assert lists["tests"].keys() == load().tests.keys()


def test_a_shop_without_cases_has_the_shipped_weights_and_no_ways() -> None:
    shop = handout.shop(Snapshot.build([]), Terms(), SHIPPED_TUNING)
    assert shop["match"]["bias"] == SHIPPED_TUNING.weights.bias
    assert shop["ways"] == {}


def test_a_part_that_was_fitted_has_a_way() -> None:
    shop = handout.shop(Snapshot.build([fitted("cooling.fan_motor")]), Terms(), SHIPPED_TUNING)
    assert shop["ways"]["cooling.fan_motor"]["source"] in ("maker", "aftermarket")


def test_a_tool_the_shop_lacks_is_named_beside_the_tests_that_need_it() -> None:
    shop = handout.shop(Snapshot.build([]), Terms(lacks=frozenset({"multimeter"})), SHIPPED_TUNING)
    needing = [test.id for test in load().tests.values() if "meter" in test.tools]
    assert needing
    assert shop["lacking"].keys() >= set(needing)


@given(st.lists(st.floats(0, 9), min_size=len(NAMES), max_size=len(NAMES)), st.floats(-9, 9))
def test_the_shops_own_weights_travel_as_they_are(weights: list[float], bias: float) -> None:
    tuning = Tuning(MatchWeights(bias, tuple(weights), "own"))
    found = handout.shop(Snapshot.build([]), Terms(), tuning)["match"]
    assert (found["bias"], list(found["weights"].values())) == (bias, weights)
