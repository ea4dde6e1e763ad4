"""Invented trade lists of any size: one system, one complaint, causes and tests drawn from a seed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from baylore_kb.trade import load
from baylore_kb.trade.model import (
    Cause,
    Component,
    LikelihoodRow,
    Outcome,
    Symptom,
    System,
    Test,
    Trade,
    VehicleState,
)

KEYS = ("off", "on", "engine running")
TOOLS = ("meter", "live data", "scope", "torch", "clamp")


def made_trade(causes: int, tests: int, *, seed: int = 0) -> Trade:
    """Lists with so many causes of the complaint `dead` and tests of it; the same seed, the same lists."""
    chance = np.random.default_rng(seed)
    made = {cause.id: cause for cause in (_cause(n, tests, chance) for n in range(causes))}
    return replace(
        load(),
        systems={"box": System("box", "Box", "", (), tuple(c.component for c in made.values()))},
        components={c.component: Component(c.component, c.component, "box", ()) for c in made.values()},
        symptoms={"dead": Symptom("dead", "dead", ("box",), ("dead",), ("dead",), (), ())},
        causes=made,
        tests={test.id: test for test in (made_test(n, list(made), chance) for n in range(tests))},
        version=f"made-{causes}-{tests}-{seed}",
    )


def _cause(number: int, tests: int, chance: np.random.Generator) -> Cause:
    hours = float(chance.uniform(0.3, 3.0))
    return Cause(
        id=f"box.part{number}.worn",
        title=f"Part {number} worn",
        component=f"box.part{number}",
        mode="worn",
        system="box",
        weight=float(chance.gamma(0.7)) + 0.05,
        confirm_test=f"t{number % max(tests, 1)}",
        fix="replace",
        labour_low_h=hours,
        labour_high_h=1.5 * hours,
        symptoms=("dead",),
        only_if=(),
        part_price=float(chance.uniform(5.0, 400.0)),
    )


def made_test(number: int, causes: list[str], chance: np.random.Generator) -> Test:
    """A test of three classes of causes and two or three outcomes."""
    outcomes = [f"o{k}" for k in range(int(chance.integers(2, 4)))]
    picked = chance.permutation(causes)[: max(3, len(causes) // 4)].tolist()
    classes = [picked[k::2] for k in range(2)] + [[]]
    return Test(
        id=f"t{number}",
        title=f"Test {number}",
        system="box",
        offer_for=("box",),
        for_symptoms=(),
        only_if=(),
        decides=(),
        state=VehicleState(str(chance.choice(KEYS)), bool(chance.random() < 0.3), "connected", "on"),
        tools=(str(chance.choice(TOOLS)),),
        setup_min=float(chance.integers(0, 8)),
        do_min=float(chance.integers(2, 20)),
        skill=1,
        quantity=None,
        also_read=(),
        steps=(),
        outcomes=tuple(Outcome(outcome, outcome, None, False) for outcome in outcomes),
        likelihood=tuple(
            LikelihoodRow(f"class {k}", tuple(named), dict(zip(outcomes, row, strict=True)))
            for k, (named, row) in enumerate(zip(classes, _rows(len(outcomes), chance), strict=True))
        ),
        cautions=(),
    )


def _rows(outcomes: int, chance: np.random.Generator) -> list[list[float]]:
    rows = chance.dirichlet(np.full(outcomes, 0.5), size=3) * 0.98 + 0.02 / outcomes
    return [[float(p) for p in row] for row in rows]
