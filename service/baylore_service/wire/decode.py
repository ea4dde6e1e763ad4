"""Strict reading of a body, with refusals in plain words that name the field."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable
from functools import cache
from typing import Any, TypeVar, cast

import msgspec

from baylore_service.errors import BadValue, MalformedBody
from baylore_service.wire.choices import choices_at, near_fields
from baylore_service.wire.fields import PATTERN_WORDS

T = TypeVar("T")
Words = tuple[str, str]

KINDS = {
    "object": "an object {...}",
    "array": "a list [...]",
    "str": "text",
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false",
    "null": "null",
    "uuid": "an id (UUID)",
    "datetime": "a time as in 2026-03-11T09:20:00Z",
    "bytes": "base64 text",
}
PLACE = re.compile(r" - at (?:`key` in )?`\$?\.?(?P<path>.*)`$")


def _kinds(text: str) -> str:
    """`float | null` in words a member can read."""
    return " or ".join(KINDS.get(kind.strip(), kind.strip()) for kind in text.split("|"))


def _missing(found: re.Match[str]) -> Words:
    return f"{found[1]} is missing", f"add {found[1]}"


def _unknown(found: re.Match[str]) -> Words:
    name = found[1][:LONGEST] or "an empty name"
    return f"{name} is not known here", f"leave {name} out or check its spelling"


def _wrong_kind(found: re.Match[str]) -> Words:
    return f"{_kinds(found[2])} was sent where {_kinds(found[1])} is needed", f"send {_kinds(found[1])}"


def _size(found: re.Match[str]) -> Words:
    many = "entries" if found[1] in ("array", "object") else "characters"
    bound = "at most" if found[2] == "<=" else "at least"
    return f"this has too {'many' if found[2] == '<=' else 'few'} {many}", f"send {bound} {found[3]} {many}"


def _bound(found: re.Match[str]) -> Words:
    words = {"<=": "at most", ">=": "at least", "<": "below", ">": "above"}[found[1]]
    return "the number is out of range", f"send a number {words} {float(found[2]):g}"


def _pattern(found: re.Match[str]) -> Words:
    pattern = found[1].encode().decode("unicode_escape") if "\\\\" in found[1] else found[1]
    detail, remedy = PATTERN_WORDS.get(pattern, ("is not in the right form", "see /api/openapi.json"))
    return f"the text {detail}", remedy


def _choice(found: re.Match[str]) -> Words:
    return f"{found[1]} is not one of the words known here", "use one of the words in /api/openapi.json"


def _form(found: re.Match[str]) -> Words:
    return f"this is not {KINDS.get(found[1].lower(), found[1])}", "send it in that form"


RULES: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], Words]], ...] = (
    (re.compile(r"missing required field `(.+?)`"), _missing),
    (re.compile(r"unknown field `(.*)`", re.DOTALL), _unknown),
    (re.compile(r"Expected `(str|array|object|bytes)` of length (<=|>=) (\d+)"), _size),
    (re.compile(r"Expected `str` matching regex '(.*)'", re.DOTALL), _pattern),
    (re.compile(r"Expected `(?:int|float)` (<=|>=|<|>) ([-+.\de]+)"), _bound),
    (re.compile(r"Expected `(.+?)`, got `(.+?)`"), _wrong_kind),
    (re.compile(r"Invalid enum value (.+)", re.DOTALL), _choice),
    (re.compile(r"Invalid (UUID|base64)"), _form),
    (re.compile(r"(?:Invalid RFC3339 encoded |Expected `)(datetime)"), _form),
)
FIELD_RULE = re.compile(r"^Object (?:missing required|contains unknown) field `(.*)`$", re.DOTALL)
LONGEST = 100


def taken_apart(message: str) -> tuple[str, str, str]:
    """What a parser says, the path it says it of, and the name of a missing or unknown field there."""
    place = PLACE.search(message)
    path = place["path"].replace("[...]", "") if place else ""
    what = message[: place.start()] if place else message
    named = FIELD_RULE.search(what)
    return what, path, named[1][:LONGEST] if named else ""


def in_plain_words(message: str) -> tuple[str, Words]:
    """The field, and what is wrong with it and what helps, from a parser's message."""
    what, path, named = taken_apart(message)
    field = f"{path}.{named}" if path and named else path or named
    words = next((say(found) for rule, say in RULES if (found := rule.search(what))), None)
    return field, words or (what[:1].lower() + what[1:], "see /api/openapi.json for what is accepted")


def refusal(error: msgspec.ValidationError, kind: Any) -> BadValue:
    """The refusal to raise for a value that could not be read as a `kind`."""
    message = str(error)
    field, (detail, remedy) = in_plain_words(message)
    if choices := "enum" in message and choices_at(kind, field):
        remedy = f"use one of: {', '.join(choices)}"
    if message.startswith("Object contains unknown"):
        _, path, named = taken_apart(message)
        remedy = near_fields(kind, path, named)
    return BadValue(f"{field}: {detail}" if field else detail, field=field, remedy=remedy)


@cache
def _decoder(kind: Any) -> msgspec.json.Decoder[Any]:
    return msgspec.json.Decoder(kind)


def decode(body: bytes, kind: type[T]) -> T:
    """The body as a `kind`; no coercion. Raises MalformedBody for broken JSON, BadValue for a wrong value."""
    try:
        body.decode()
        value: T = _decoder(cast(Hashable, kind)).decode(body)
    except msgspec.ValidationError as error:
        check_whole(body)
        raise refusal(error, kind) from error
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise malformed(error) from error
    return value


def check_whole(body: bytes) -> None:
    """Raises MalformedBody where the JSON breaks after the first wrong value."""
    try:
        msgspec.json.decode(body)
    except (msgspec.DecodeError, RecursionError) as error:
        raise malformed(error) from error


def malformed(error: Exception) -> MalformedBody:
    """The refusal to raise for what is not JSON."""
    return MalformedBody(f"the body is not JSON: {str(error)[:120]}", remedy="send one JSON value in UTF-8")


def encode(value: Any) -> bytes:
    """JSON of an answer."""
    return msgspec.json.encode(value)
