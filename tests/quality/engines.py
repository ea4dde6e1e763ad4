"""All engines by name, and an engine's rankings of a set: peers' are kept, so that they are made once."""

from __future__ import annotations

import getpass
import hashlib
import json
import tempfile
import time
from collections.abc import Callable, Mapping
from pathlib import Path

from tests.quality import peers
from tests.quality.measures import Ranking, Result, evaluate
from tests.quality.ours import OF_CASES, OURS
from tests.quality.peers import ALWAYS, PEERS, Ask
from tests.quality.queryset import QuerySet

__all__ = [
    "ALWAYS",
    "ENGINES",
    "OF_CASES",
    "OURS",
    "PEERS",
    "fits",
    "kept",
    "ranked",
    "remembered",
    "version",
]

ENGINES: Mapping[str, Callable[[QuerySet], Ask]] = {**PEERS, **OURS}
_FOLDER = Path(tempfile.gettempdir()) / f"baylore-quality-{getpass.getuser()}"


def version(engine: str) -> str | None:
    """What an engine runs on, None where that is not installed."""
    return "this tree" if engine in OURS else peers.version(engine)


def fits(engine: str, given: QuerySet) -> bool:
    """Whether the set has what the engine reads."""
    return bool(given.cases) or engine not in OF_CASES


def ranked(given: QuerySet, engine: str) -> Result:
    """One engine on one set, run now."""
    rankings, seconds = _run(given, engine)
    return evaluate(rankings, given, engine=engine, seconds=seconds)


def remembered(given: QuerySet, engine: str, *, anew: bool = False) -> Result:
    """One engine on one set; a peer as kept before, unless `anew`, and kept for the next time."""
    found = None if anew else kept(given, engine)
    if found is not None:
        return found
    rankings, seconds = _run(given, engine)
    if engine in PEERS:
        _keep(given, engine, rankings, seconds)
    return evaluate(rankings, given, engine=engine, seconds=seconds)


def _run(given: QuerySet, engine: str) -> tuple[dict[str, Ranking], float]:
    start = time.perf_counter()
    ask = ENGINES[engine](given)
    rankings = {query.id: list(ask(query)) for query in given.queries}
    return rankings, time.perf_counter() - start


def kept(given: QuerySet, engine: str) -> Result | None:
    """A peer's result from rankings kept before: same documents and queries, same version; else None."""
    file = _file(given, engine)
    if engine not in PEERS or not file.is_file():
        return None
    held = json.loads(file.read_text(encoding="utf-8"))
    return evaluate(held["rankings"], given, engine=engine, seconds=held["seconds"])


def _keep(given: QuerySet, engine: str, rankings: Mapping[str, Ranking], seconds: float) -> None:
    _FOLDER.mkdir(exist_ok=True)
    file = _file(given, engine)
    unfinished = file.with_suffix(f".{time.time_ns()}")
    unfinished.write_text(json.dumps({"rankings": rankings, "seconds": seconds}), encoding="utf-8")
    unfinished.replace(file)


def _file(given: QuerySet, engine: str) -> Path:
    """Named by everything that a peer's rankings hang on: its version, how it is called, what it reads."""
    read = hashlib.sha256(Path(peers.__file__).read_bytes())
    read.update(repr((engine, peers.version(engine) if engine in PEERS else "")).encode())
    read.update(repr(list(given.documents.items())).encode())
    read.update(repr([(query.id, query.text, sorted(query.hidden)) for query in given.queries]).encode())
    return _FOLDER / f"{read.hexdigest()}.json"
