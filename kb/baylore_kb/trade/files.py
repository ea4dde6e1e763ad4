"""Read the data files as typed rows, from the package or from another folder."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any, TypeVar

import msgspec
import yaml

from baylore_kb.trade import rows
from baylore_kb.trade.faults import Faults

R = TypeVar("R", bound=rows.Row)

NAMES = (
    "systems",
    "symptoms",
    "abbreviations",
    "quantities",
    "tests",
    "causes",
    "cautions",
    "prices",
    "spanish",
)
# Pure-Python YAML takes over a second for these files; libyaml is in every wheel of PyYAML.
LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Rows:
    """All entries as written, still unchecked against each other."""

    traits: dict[str, str]
    modes: dict[str, str]
    systems: tuple[rows.SystemRow, ...]
    symptoms: tuple[rows.SymptomRow, ...]
    abbreviations: tuple[rows.AbbreviationRow, ...]
    conditions: tuple[rows.ConditionRow, ...]
    quantities: tuple[rows.QuantityRow, ...]
    tests: tuple[rows.TestRow, ...]
    causes: tuple[rows.CauseRow, ...]
    cautions: tuple[rows.CautionRow, ...]
    prices: rows.PricesRow
    phrases: tuple[rows.PhraseRow, ...]
    version: str


def read(folder: Traversable | None, faults: Faults) -> Rows:
    """Every entry of the files in `folder` (None: the shipped ones).

    Entries of the wrong shape are left out and noted in `faults`.
    """
    source = folder if folder is not None else files(__package__)
    texts = {name: _text(source, name, faults) for name in NAMES}
    raw = {name: _parsed(name, text, faults) for name, text in texts.items()}
    return _rows(raw, _digest(texts), faults)


def _rows(raw: dict[str, dict[str, Any]], version: str, faults: Faults) -> Rows:
    def typed(file: str, key: str, kind: type[R]) -> tuple[R, ...]:
        return tuple(_typed(f"{file}.yaml", raw[file].get(key) or (), kind, faults))

    prices = typed_one("prices.yaml", raw["prices"], rows.PricesRow, faults)
    return Rows(
        traits=dict(raw["systems"].get("traits") or {}),
        modes=dict(raw["causes"].get("modes") or {}),
        systems=typed("systems", "systems", rows.SystemRow),
        symptoms=typed("symptoms", "symptoms", rows.SymptomRow),
        abbreviations=typed("abbreviations", "abbreviations", rows.AbbreviationRow),
        conditions=typed("quantities", "conditions", rows.ConditionRow),
        quantities=typed("quantities", "quantities", rows.QuantityRow),
        tests=typed("tests", "tests", rows.TestRow),
        causes=typed("causes", "causes", rows.CauseRow),
        cautions=typed("cautions", "cautions", rows.CautionRow),
        phrases=typed("spanish", "phrases", rows.PhraseRow),
        prices=prices or rows.PricesRow(parts={}, by_mode={}, by_cause={}),
        version=version,
    )


def _text(source: Traversable, name: str, faults: Faults) -> str:
    try:
        text = source.joinpath(f"{name}.yaml").read_text(encoding="utf-8")
        faults.unless(text.startswith(f"# {name}.yaml"), (f"{name}.yaml", "whole file"), "no comment head")
        return text
    except (FileNotFoundError, UnicodeDecodeError) as error:
        faults.add(f"{name}.yaml", "whole file", f"cannot be read: {error}")
        return ""


def _parsed(name: str, text: str, faults: Faults) -> dict[str, Any]:
    try:
        raw = yaml.load(text, LOADER) or {}
    except yaml.YAMLError as error:
        faults.add(f"{name}.yaml", "whole file", f"is not YAML: {error}")
        return {}
    if isinstance(raw, dict):
        return raw
    faults.add(f"{name}.yaml", "whole file", "holds no named lists")
    return {}


def _typed(file: str, entries: Any, kind: type[R], faults: Faults) -> Iterator[R]:
    for entry in entries:
        row = typed_one(file, entry, kind, faults)
        if row is not None:
            yield row


def typed_one(file: str, entry: Any, kind: type[R], faults: Faults) -> R | None:
    """`entry` as a row of `kind`; None, with a fault noted, when its shape is wrong."""
    try:
        return msgspec.convert(entry, kind, strict=True, str_keys=False)
    except msgspec.ValidationError as error:
        faults.add(file, _label(entry), str(error))
        return None


def _label(entry: Any) -> str:
    if isinstance(entry, dict):
        return str(entry.get("id") or entry.get("forms") or "an entry")
    return f"entry {str(entry)[:40]!r}"


def _digest(texts: dict[str, str]) -> str:
    digest = hashlib.sha256()
    for name, text in sorted(texts.items()):
        digest.update(f"{name}\0{text}\0".encode())
    return digest.hexdigest()[:16]
