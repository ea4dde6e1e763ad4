"""Ids in a shop's own words."""

from __future__ import annotations

import re
import unicodedata
from hashlib import sha256

OWN = "own."
MOST_ID = 110


def own_id(title: str) -> str:
    """The id of a test or part in the shop's own words: `own.` with its plain letters and digits.

    The same words give the same id. Words without any plain letter give a digest; no word gives "".
    """
    words = re.findall(r"\w+", title.casefold())
    apart = unicodedata.normalize("NFKD", "_".join(words)).casefold()
    plain = "_".join(re.findall(r"[a-z0-9]+", apart.encode("ascii", "ignore").decode()))
    if not words:
        return ""
    return OWN + (plain or sha256("_".join(words).encode()).hexdigest()[:12])[:MOST_ID].rstrip("_")


def is_own(id: str) -> bool:
    """Whether an id is one in a shop's own words; the bare mark is none."""
    return id.startswith(OWN) and len(id) > len(OWN)


def words_of(id: str) -> str:
    """The words of an id that no list has ("own.wet_joint": "wet joint")."""
    return id.removeprefix(OWN).replace("_", " ")
