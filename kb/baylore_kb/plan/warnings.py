"""Cautions to show with the next step, and what the complaint itself warns of."""

from __future__ import annotations

from baylore_kb.codes import low_battery_set
from baylore_kb.plan.offered import heard_symptoms
from baylore_kb.question import Question
from baylore_kb.trade.model import Test, Trade
from baylore_kb.values import Step

# Complaints with which a car should not be driven here; common practice, no published source.
NOT_TO_DRIVE = frozenset(
    ("oil_lamp", "pedal_sinks", "pedal_soft", "brake_warn", "fuel_smell", "burn_smell")
    + ("cel_flash", "overheat_sudden", "steer_heavy", "hv_isolation")
)


def caution_ids(test: Test, trade: Trade) -> tuple[str, ...]:
    """Cautions of a test and of its system, the test's first, each once."""
    system = trade.systems.get(test.system)
    return tuple(dict.fromkeys((*test.cautions, *(system.cautions if system else ()))))


def cautions_for(step: Step, question: Question, trade: Trade) -> tuple[str, ...]:
    """Texts to read before the step: the complaint's own warnings, then the cautions of test or system."""
    cautions = (trade.cautions[id] for id in _step_cautions(step, trade))
    return (*_complaint_warns(question, trade), *(f"{caution.title}. {caution.text}" for caution in cautions))


def _step_cautions(step: Step, trade: Trade) -> tuple[str, ...]:
    if step.test is not None:
        return caution_ids(trade.tests[step.test], trade)
    cause = trade.causes.get(step.cause or "") if step.do == "replace" else None
    return trade.systems[cause.system].cautions if cause else ()


def _complaint_warns(question: Question, trade: Trade) -> list[str]:
    warnings = []
    grave = sorted(NOT_TO_DRIVE & heard_symptoms(question, trade))
    if grave:
        titles = ", ".join(trade.symptoms[symptom].title for symptom in grave)
        warnings.append(f"Do not drive it until this is checked: {titles}.")
    if low_battery_set(question.codes):
        warnings.append("These codes together look like low voltage: prove battery and grounds first.")
    if question.complaint.comes_and_goes:
        warnings.append(
            "It comes and goes: an ok proves little while it is away. "
            "Test in its conditions (hot, cold, wet, bumps, load) and write them down."
        )
    return warnings
