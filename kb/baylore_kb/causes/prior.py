"""The chances before any test: what the words, codes, vehicle and habits say by trade knowledge alone."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from baylore_kb.causes.beliefs import OTHER_SYSTEM, Beliefs, Bools, Floats
from baylore_kb.codes import is_common, system_hints
from baylore_kb.conditions import SHOWS_WHEN
from baylore_kb.once_each import once_for_two
from baylore_kb.tally import Counts, Tally

SUREST_HEARD = 0.99
CODE_FACTOR, COMMON_CODE_FACTOR = 3.0, 1.3
MENTION_FACTOR = 1.0
HABIT_PRIOR = 2.0
MISHEARD_ELSEWHERE = 0.05
# Conditions hang together with the symptoms heard: the root of what they say counts.
CONDITION_TEMPER = 0.5
NOTHING_COUNTED = Tally()


@dataclass(frozen=True, slots=True)
class Hint:
    """A piece of what is known before any test: `log` (C) is the log of its factor on each cause.

    `heard` is the chance of the symptom it stands for, 0 for any other hint. `fits` (C) is False for causes
    it puts out altogether.
    """

    label: str
    log: Floats
    heard: float = 0.0
    fits: Bools | None = None


@dataclass(frozen=True, slots=True)
class Base:
    """Shares (H + 1, C) of the listed causes: row 0 with all H hints, row h + 1 without hint h.

    `heard` (H + 1): chance that at least one of the symptoms is really there.
    """

    hints: tuple[Hint, ...]
    shares: Floats
    heard: Floats


def trade_prior(
    beliefs: Beliefs,
    heard: Iterable[tuple[str, float]],
    *,
    codes: Iterable[str] = (),
    mentioned: Mapping[str, float] | None = None,
    absent: Collection[str] = (),
    shows_when: Iterable[str] = (),
    tally: Tally = NOTHING_COUNTED,
) -> Base:
    """Shares of the listed causes, each row summing to 1, for symptoms heard with a chance in [0, 1].

    Several symptoms are to be explained together, and since they hang together count less than
    independent ones; one heard with doubt counts in part. Codes and components named in the words are
    soft hints, and mildly so the conditions the fault shows in; causes that need a trait known to be absent
    are out; causes this shop sees more or less often than its share count accordingly. Nothing heard gives
    the trade's own shares over all systems. Conditions not listed say nothing.
    """
    hints = [
        *_symptoms(beliefs, heard),
        *_codes(beliefs, codes),
        *_mentions(beliefs, mentioned or {}),
        *_conditions(beliefs, shows_when),
        *_traits(beliefs, absent),
        *_habits(beliefs, tally.causes),
    ]
    return _base(beliefs, hints)


def _base(beliefs: Beliefs, hints: list[Hint]) -> Base:
    kept = np.ones((1 + len(hints), len(hints)))
    np.fill_diagonal(kept[1:], 0.0)
    chances = np.array([hint.heard for hint in hints], dtype=float)
    temper = 1.0 / np.sqrt(np.maximum(1.0, kept @ chances))
    exponents = np.where(chances > 0, kept * temper[:, None], kept)
    logs = np.array([hint.log for hint in hints]).reshape(len(hints), len(beliefs.causes))
    shares = beliefs.weight * np.exp(exponents @ logs)
    _leave_out_unfit(shares, hints, kept)
    missed = np.prod(np.where(kept > 0, 1.0 - chances, 1.0), axis=1)
    return Base(tuple(hints), np.asarray(shares / shares.sum(axis=1, keepdims=True)), 1.0 - missed)


def _leave_out_unfit(shares: Floats, hints: list[Hint], kept: Floats) -> None:
    """No share (H + 1, C) for causes that do not fit the vehicle by a hint of the row."""
    for place, hint in enumerate(hints):
        if hint.fits is not None:
            shares[kept[:, place] > 0] *= hint.fits


def _symptoms(beliefs: Beliefs, heard: Iterable[tuple[str, float]]) -> Iterable[Hint]:
    told = [(symptom, min(said, SUREST_HEARD)) for symptom, said in heard]
    logs = np.log(_explains(beliefs, told)) if told else ()
    for (symptom, chance), log in zip(told, logs, strict=True):
        yield Hint(f"Symptom: {beliefs.trade.symptoms[symptom].title}", log, heard=chance)


def _explains(beliefs: Beliefs, heard: list[tuple[str, float]]) -> Floats:
    """(S, C) how much likelier the words are under each cause than at large, symptoms heard with a chance.

    Words heard wrongly still tend to be about the symptom's own systems: elsewhere they count a twentieth.
    """
    shows = beliefs.shows[[beliefs.symptom_at[symptom] for symptom, _ in heard]]
    chances = np.array([[chance] for _, chance in heard])
    at_large = (shows @ beliefs.weight / beliefs.weight.sum())[:, None]
    misheard = np.where(shows > OTHER_SYSTEM, 1.0, MISHEARD_ELSEWHERE)
    return np.asarray(chances * shows / at_large + (1.0 - chances) * misheard)


@once_for_two
def _habits(beliefs: Beliefs, causes: Mapping[str, Counts]) -> tuple[Hint, ...]:
    """Shrunk observed over expected count of each cause in the shop; no hint without cases."""
    found = [(beliefs.cause_at.get(c), w) for counts in causes.values() for c, w in counts.items()]
    listed = [(column, weight) for column, weight in found if column is not None]
    seen = np.zeros(len(beliefs.causes))
    if listed:
        columns, weights = map(list, zip(*listed, strict=True))
        np.add.at(seen, columns, weights)
    if not seen.any():
        return ()
    expected = seen.sum() * beliefs.weight / beliefs.weight.sum()
    log = np.log((HABIT_PRIOR + seen) / (HABIT_PRIOR + expected))
    return (Hint("How often this shop sees it", log),)


def _codes(beliefs: Beliefs, codes: Iterable[str]) -> Iterable[Hint]:
    """One hint for codes that point at the same systems: the strongest counts, not their number."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for code in dict.fromkeys(codes):
        groups.setdefault(system_hints(code), []).append(code)
    factors = [_code_factor(beliefs, systems, named) for systems, named in groups.items()]
    whole = np.max(factors, axis=0, initial=1.0) if factors else np.ones(len(beliefs.causes))
    shared = whole.copy()
    for place, named in enumerate(groups.values()):
        rest = np.max(factors[:place] + factors[place + 1 :] or [np.ones_like(whole)], axis=0)
        alone = whole / rest
        shared = shared / alone
        yield Hint(f"Code {', '.join(named)}", np.log(alone))
    if (shared != 1.0).any():
        yield Hint("Codes together", np.log(shared))


def _code_factor(beliefs: Beliefs, systems: tuple[str, ...], codes: list[str]) -> Floats:
    common = all(is_common(code) for code in codes)
    factor = COMMON_CODE_FACTOR if common else CODE_FACTOR
    pointed = [beliefs.of_system[system] for system in systems if system in beliefs.of_system]
    return np.where(np.any(pointed, axis=0), factor, 1.0) if pointed else np.ones(len(beliefs.causes))


def _mentions(beliefs: Beliefs, mentioned: Mapping[str, float]) -> Iterable[Hint]:
    for component, weight in mentioned.items():
        named = beliefs.of_component.get(component)
        if named is not None:
            title = beliefs.trade.components[component].title
            yield Hint(f"Named: {title}", np.log(np.where(named, 1.0 + MENTION_FACTOR * weight, 1.0)))


def _conditions(beliefs: Beliefs, shows_when: Iterable[str]) -> Iterable[Hint]:
    """A hint for each listed condition: causes that lean to it gain, those that lean against it lose."""
    for condition in dict.fromkeys(shows_when):
        shown = beliefs.shown_in.get(condition)
        if shown is not None:
            at_large = (beliefs.weight @ shown) / beliefs.weight.sum()
            log = CONDITION_TEMPER * np.log(shown / at_large)
            yield Hint(f"Shows when: {SHOWS_WHEN[condition]}", log)


def _traits(beliefs: Beliefs, absent: Collection[str]) -> Iterable[Hint]:
    """A hint for each trait the vehicle is known not to have and some cause needs; unknown ones keep."""
    nothing = np.zeros(len(beliefs.causes))
    for trait, fits in beliefs.spared_without.items():
        if trait in absent:
            yield Hint(f"Car without: {beliefs.trade.traits.get(trait, trait)}", nothing, fits=fits)
