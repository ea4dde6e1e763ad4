"""Checks of what a shop adds to the lists."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from baylore_kb.mend import phrase_key
from baylore_kb.senses import LONGEST_FORM, telling_words
from baylore_kb.tokens import split
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own import OWN, OwnCause, OwnTest, own_id
from baylore_service.desk.checks import known, plain
from baylore_service.store.records.own import OwnMinutes, OwnValue, OwnWord

MOST_STEPS, MOST_TOOLS, MOST_NAMED = 12, 12, 60
LONGEST_TEST_MIN, LONGEST_REPAIR_MIN = 480.0, 6000.0
LONGEST_WORD = 60


def checked(value: OwnValue, trade: Trade) -> OwnValue:
    """The entry in its own form; `trade` holds all it may name. Raises BadValue."""
    if isinstance(value, OwnTest):
        return test(value, trade)
    if isinstance(value, OwnWord):
        return word(value)
    return cause(value, trade) if isinstance(value, OwnCause) else minutes(value, trade)


def word(value: OwnWord) -> OwnWord:
    """A word or phrase of up to four words, folded as the engine compares words, and what it stands for."""
    key, tokens = phrase_key(value.id), split(value.id)
    plain_words = all(token.kind == "word" for token in tokens) and len(tokens) == len(key.split())
    if not 1 <= len(tokens) <= LONGEST_FORM or not plain_words or len(key) > LONGEST_WORD:
        remedy = f"give up to {LONGEST_FORM} words, {LONGEST_WORD} letters in all, no numbers or codes"
        plain.refuse("that is no word", field="word", remedy=remedy)
    if not telling_words(key):
        plain.refuse("that is a word of every sentence", field="word", remedy="give one that tells something")
    means = " ".join(plain.text(value.means, most=plain.WORD, field="means").split())
    if means and phrase_key(means) == key:
        plain.refuse("the word stands for itself", field="means", remedy="leave it empty, or give another")
    if means and not any(token.kind == "word" for token in split(means)):
        plain.refuse("that holds no word", field="means", remedy="give a plain term such as: rust")
    return replace(value, id=key, means=means)


def test(value: OwnTest, trade: Trade) -> OwnTest:
    """A test that points at a known cause at least, in a known system."""
    title = _title(value.title, value.id, ((each.id, each.title) for each in trade.tests.values()), "test")
    known.listed(value.system, trade.systems, field="system", what="system")
    if not value.points_at:
        plain.refuse(
            "it points at nothing", field="points_at", remedy="name the causes it finds, by their ids"
        )
    plain.number(value.skill, low=1, high=4, field="skill")
    plain.number(value.minutes, low=1, high=LONGEST_TEST_MIN, field="minutes")
    return replace(
        value,
        title=title,
        points_at=tuple(
            _cause(each, trade, field=f"points_at[{at}]") for at, each in _few(value.points_at, "points_at")
        ),
        for_symptoms=_symptoms(value.for_symptoms, trade, field="for_symptoms"),
        steps=_texts(value.steps, "steps", most=MOST_STEPS, long=plain.SHORT),
        tools=_texts(value.tools, "tools", most=MOST_TOOLS, long=plain.WORD),
        note=plain.text(value.note, most=plain.SHORT, field="note").strip(),
    )


def cause(value: OwnCause, trade: Trade) -> OwnCause:
    """A cause that shows as a known symptom at least, in a known system."""
    title = _title(value.title, value.id, ((each.id, each.title) for each in trade.causes.values()), "cause")
    known.listed(value.system, trade.systems, field="system", what="system")
    if not value.symptoms:
        plain.refuse(
            "it shows as nothing", field="symptoms", remedy="name the symptoms it brings, by their ids"
        )
    if value.component is not None:
        known.listed(value.component, trade.components, field="component", what="component")
    if value.confirm_test is not None:
        known.listed(value.confirm_test, trade.tests, field="confirm_test", what="test")
    for at, trait in _few(value.only_if, "only_if"):
        known.listed(trait, trade.traits, field=f"only_if[{at}]", what="trait")
    plain.number(value.minutes, low=1, high=LONGEST_REPAIR_MIN, field="minutes")
    return replace(
        value,
        title=title,
        symptoms=_symptoms(value.symptoms, trade, field="symptoms"),
        fix=plain.text(value.fix, most=plain.SHORT, field="fix").strip(),
    )


def minutes(value: OwnMinutes, trade: Trade) -> OwnMinutes:
    """The shop's minutes of a listed test."""
    known.listed(value.id, trade.tests, field="test", what="test")
    plain.number(value.minutes, low=1, high=LONGEST_TEST_MIN, field="minutes")
    return value


def test_id(title: str) -> str:
    """The id of a test in the shop's own words; the same words give the same id."""
    found = own_id(plain.said(title, most=plain.TITLE, field="title"))
    if not found:
        plain.refuse(f"{title!r} has no word", field="title", remedy="say what is done, in a few words")
    return found


def _title(title: str, id: str, listed: Iterable[tuple[str, str]], what: str) -> str:
    said = plain.said(title, most=plain.TITLE, field="title")
    for other, name in listed:
        if other != id and name.casefold() == said.casefold():
            plain.refuse(
                f"{said!r} is listed", field="title", remedy=f"use the {what} {other}, or other words"
            )
    return said


def _cause(id: str, trade: Trade, *, field: str) -> str:
    if id.startswith(OWN) and id not in trade.causes:
        plain.refuse(
            f"the shop's lists have no cause {id[:80]!r}",
            field=field,
            remedy="add it to the shop's own causes first",
        )
    return known.listed(id, trade.causes, field=field, what="cause")


def _symptoms(ids: tuple[str, ...], trade: Trade, *, field: str) -> tuple[str, ...]:
    found = (
        known.listed(id, trade.symptoms, field=f"{field}[{at}]", what="symptom")
        for at, id in _few(ids, field)
    )
    return tuple(dict.fromkeys(found))


def _texts(texts: tuple[str, ...], field: str, *, most: int, long: int) -> tuple[str, ...]:
    return tuple(
        plain.said(text, most=long, field=f"{field}[{at}]") for at, text in _few(texts, field, most=most)
    )


def _few(items: tuple[str, ...], field: str, *, most: int = MOST_NAMED) -> Iterable[tuple[int, str]]:
    if len(items) > most:
        plain.refuse(f"{len(items)} entries are too many", field=field, remedy=f"give at most {most}")
    return enumerate(items)
