"""The whole memory out as lines, and lines in again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from baylore_service.desk.house import House
from baylore_service.errors import BadLine
from baylore_service.store.records import Actor, CaseFile, PhotoBlob, Shop

Moved = Shop | CaseFile | PhotoBlob
Mode = Literal["all", "report"]


@dataclass(frozen=True, slots=True)
class ImportReport:
    """What an import did; `lines` are those refused."""

    added: int
    unchanged: int
    updated: int
    refused: int
    lines: tuple[BadLine, ...]


def export_lines(house: House, actor: Actor, *, render: Callable[[Moved], bytes]) -> Iterator[bytes]:
    """The shop, then each case followed by its photos, each rendered as one line with its newline.

    All of one moment: what is written meanwhile is not in it. Raises WrongRole at the call.
    """
    raise NotImplementedError


def import_lines(
    house: House,
    actor: Actor,
    lines: Iterable[bytes],
    *,
    parse: Callable[[bytes], Moved | None],
    mode: Mode = "all",
) -> ImportReport:
    """Take a file in, in one transaction. Blank lines and lines that parse to None or a Shop are passed over.

    `parse` raises ServiceError or BayloreError for a line that cannot be. A case parsed with id "" gets one
    worked out from its line, so that the same file again doubles nothing. Photos named in a case line are
    not taken from it: each comes by its own PhotoBlob line.
    The store's case stays where it was changed later than the line says (`updated`).
    Mode "all" raises ImportRefused for any bad line and takes nothing; "report" takes the good ones.
    """
    raise NotImplementedError
