"""Arithmetic written in the data files, parsed once by simpleeval and never by eval."""

from __future__ import annotations

import ast
import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from simpleeval import InvalidExpression, SimpleEval

from baylore_kb.errors import BadFormula

FUNCTIONS = {"max": max, "min": min, "exp": math.exp, "log": math.log, "abs": abs}
# What simpleeval and the arithmetic below it raise for a formula that does not work out.
_DOES_NOT_WORK_OUT = (InvalidExpression, ArithmeticError, TypeError, ValueError)


@dataclass(frozen=True, slots=True)
class Formula:
    """A parsed formula; `names` are the conditions it uses."""

    text: str
    names: frozenset[str]
    tree: ast.AST = field(repr=False, compare=False)

    def value(self, given: Mapping[str, float | str]) -> float:
        """The result for `given` conditions; extra ones are ignored.

        Raises BadFormula when a name is missing or the arithmetic fails (division by zero).
        """
        evaluator = SimpleEval(functions=FUNCTIONS, names=dict(given))
        try:
            result = float(evaluator.eval(self.text, previously_parsed=self.tree))
        except _DOES_NOT_WORK_OUT as error:
            raise BadFormula(self.text, str(error)) from error
        if not math.isfinite(result):
            raise BadFormula(self.text, f"gives {result}")
        return result


@cache
def formula(text: str) -> Formula:
    """`text` parsed; the same text gives the same object. Raises BadFormula."""
    try:
        tree = SimpleEval.parse(text)
    except (InvalidExpression, SyntaxError, ValueError) as error:
        raise BadFormula(text, str(error)) from error
    names = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    return Formula(text=text, names=frozenset(names - FUNCTIONS.keys()), tree=tree)


def value(bound: float | str, given: Mapping[str, float | str]) -> float:
    """A bound of the data files: a number stands for itself, a text is worked out. Raises BadFormula."""
    return formula(bound).value(given) if isinstance(bound, str) else bound


def names(bound: float | str | None) -> frozenset[str]:
    """The conditions a bound uses; none for numbers and None. Raises BadFormula."""
    return formula(bound).names if isinstance(bound, str) else frozenset()
