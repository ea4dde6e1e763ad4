"""The client's own catalogue of texts, so that a test taps what is read in any language."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path

TEXTS = Path(__file__).parents[2] / "pwa" / "src" / "texts"
GROUP = re.compile(r"^export const (\w+)[^=]*= \{$")
ENTRY = re.compile(r'^  "?([\w ]+)"?: (".*"),$')
BEGINNING = re.compile(r"^  (\w+): \(.*\) => `([^`$]*[^`$ ])")


@cache
def catalogue(language: str) -> dict[str, str]:
    """Every text of a language by `group.key`; of those put together what stands before the first place."""
    found: dict[str, str] = {}
    group = ""
    for file in sorted((TEXTS / language).glob("*.ts")):
        for line in file.read_text().splitlines():
            if begin := GROUP.match(line):
                group = begin[1]
            elif entry := ENTRY.match(line):
                found[f"{group}.{entry[1]}"] = json.loads(entry[2])
            elif entry := BEGINNING.match(line):
                found[f"{group}.{entry[1]}"] = entry[2]
    return found
