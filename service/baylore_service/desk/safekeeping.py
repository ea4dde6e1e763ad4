"""A copy of the whole store that is known to be good, and taking it back."""

from __future__ import annotations

import os
from pathlib import Path

from baylore_service.desk.audit import Check, Verdict, verify
from baylore_service.desk.house import House
from baylore_service.errors import StoreTrouble
from baylore_service.settings import Settings
from baylore_service.store import copies, migrate

__all__ = ["Check", "Verdict", "backup", "restore", "verify"]


def backup(house: House, path: Path) -> int:
    """Copy a SQLite store while it is in use, check the copy, then put it at `path`; its size in bytes.

    Raises StoreTrouble for a copy that is not whole and for another kind of database.
    """
    source = _file_of(house.settings)
    half = path.with_name(f"{path.name}.part")
    half.unlink(missing_ok=True)
    copies.copy(source, half)
    _check(half)
    os.replace(half, path)
    return path.stat().st_size


def restore(settings: Settings, path: Path) -> Path | None:
    """Put a checked backup in the store's place; where the old store was moved to, None if none was.

    The service must not be running. Raises StoreTrouble for a file that is not a whole backup, before
    anything is moved, and where the store is in use.
    """
    target = _file_of(settings)
    if not path.is_file():
        raise StoreTrouble(f"there is no file {path}", field="path", remedy="name a file made by backup")
    _check(path)
    target.parent.mkdir(parents=True, exist_ok=True)
    half = target.with_name(f"{target.name}.part")
    half.unlink(missing_ok=True)
    copies.copy(path, half)
    _check(half)
    aside = copies.move_aside(target)
    os.replace(half, target)
    return aside


def _file_of(settings: Settings) -> Path:
    file = copies.file_of(settings.store_url)
    if file is None:
        raise StoreTrouble(
            "the store is not a SQLite file",
            field="BAYLORE_DATABASE_URL",
            remedy="use pg_dump and pg_restore, or export and import",
        )
    return file


def _check(file: Path) -> None:
    """Raises StoreTrouble unless the file is a whole store of a schema we know."""
    wrong = copies.faults(file)
    if not wrong and copies.revision(file) not in migrate.known_revisions():
        wrong = [f"schema {copies.revision(file)!r} is not known here"]
    if wrong:
        raise StoreTrouble(
            f"{file} is not a whole store: {wrong[0]}", field="path", remedy="use another backup"
        )
