"""Saved indexes on disk: one file a shop, written whole or not at all, never trusted without a check."""

from __future__ import annotations

import os
from collections.abc import Iterable
from functools import cache
from hashlib import blake2b
from pathlib import Path
from uuid import uuid4

import baylore_kb


@cache
def reader_version() -> str:
    """A digest of the code that reads cases: what other code saved is read anew."""
    folder = Path(baylore_kb.__file__).parent
    digest = blake2b(digest_size=8)
    for file in sorted(folder.rglob("*.py")):
        digest.update(file.read_bytes())
    return digest.hexdigest()


class IndexFiles:
    """The folder of saved indexes; without one nothing is kept and nothing found."""

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder

    def read(self, shop_id: str) -> bytes | None:
        """The saved index of a shop; None where there is none or it cannot be read."""
        if self._folder is None:
            return None
        try:
            return self._file(self._folder, shop_id).read_bytes()
        except OSError:
            return None

    def write(self, shop_id: str, data: Iterable[bytes | memoryview]) -> bool:
        """Keep the index of a shop, given in pieces, in place of the last one; whether that went well.

        A full or read-only disk only costs the next start some time.
        """
        if self._folder is None:
            return False
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            half = self._folder / f"{uuid4().hex}.half"
            with half.open("wb") as file:
                file.writelines(data)
            os.replace(half, self._file(self._folder, shop_id))
        except OSError:
            return False
        return True

    @staticmethod
    def _file(folder: Path, shop_id: str) -> Path:
        return folder / f"{blake2b(shop_id.encode(), digest_size=12).hexdigest()}.index"
