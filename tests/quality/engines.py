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
from tests.quality.queryset import Query, QuerySet

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
        _keep(given, engine, rankings)
    return evaluate(rankings, given, engine=engine, seconds=seconds)


def kept(given: QuerySet, engine: str) -> Result | None:
    """A peer's result (0 seconds) from rankings kept before of the same version, documents and questions.

    None where any of the questions is missing: a set of fewer questions is served by the whole one.
    """
    held = _held(_file(given, engine)) if engine in PEERS else {}
    if not all(_key(query) in held for query in given.queries):
        return None
    return evaluate({query.id: held[_key(query)] for query in given.queries}, given, engine=engine)


def _run(given: QuerySet, engine: str) -> tuple[dict[str, Ranking], float]:
    start = time.perf_counter()
    ask = ENGINES[engine](given)
    rankings = {query.id: list(ask(query)) for query in given.queries}
    return rankings, time.perf_counter() - start


def _keep(given: QuerySet, engine: str, rankings: Mapping[str, Ranking]) -> None:
    _FOLDER.mkdir(exist_ok=True)
    file = _file(given, engine)
    held = _held(file) | {_key(query): rankings[query.id] for query in given.queries}
    unfinished = file.with_suffix(f".{time.time_ns()}")
    unfinished.write_text(json.dumps(held), encoding="utf-8")
    unfinished.replace(file)


def _held(file: Path) -> dict[str, Ranking]:
    return dict(json.loads(file.read_text(encoding="utf-8"))) if file.is_file() else {}


def _key(query: Query) -> str:
    return hashlib.sha256(repr((query.text, sorted(query.hidden))).encode()).hexdigest()


def _file(given: QuerySet, engine: str) -> Path:
    """Named by what rankings hang on beside the question: version, how it is called, what it reads."""
    read = hashlib.sha256(Path(peers.__file__).read_bytes())
    read.update(repr((engine, peers.version(engine), list(given.documents.items()))).encode())
    return _FOLDER / f"{read.hexdigest()}.json"
