"""Speed of ranked search, engines side by side: `python -m tests.bench.speed` (see README.md here).

Each engine runs in a process of its own with one thread. A question is timed in three passes and its smallest
time counts. Quote ratios of one run, never the times.
"""

from __future__ import annotations

import argparse
import contextlib
import ctypes
import gc
import json
import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median
from typing import Any

from tests.bench.corpus import Corpus, Question
from tests.bench.engines import ENGINES, Engine

SEED, QUESTIONS, PASSES, CHANGES = 7, 400, 3, 1_500
_THREADS = "OMP_NUM_THREADS OPENBLAS_NUM_THREADS NUMBA_NUM_THREADS RAYON_NUM_THREADS"
ONE_THREAD = dict.fromkeys(_THREADS.split(), "1")
COLUMNS = ("build_s", "bytes", "p50", "p99", "typed_p50", "put", "found", "found_typed")


def main() -> None:
    """Print one table of the engines at the sizes asked for; `--growth`: ours against size and length."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sizes", default="10000,100000")
    parser.add_argument("--engines", default=";".join(ENGINES))
    parser.add_argument("--growth", action="store_true")
    parser.add_argument("--json", type=Path)
    parser.add_argument("--one", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        print(json.dumps(measured(asked.one, int(asked.sizes))))
        return
    rows = list(grown() if asked.growth else compared(asked.sizes.split(","), asked.engines.split(";")))
    if asked.json:
        asked.json.write_text(json.dumps(rows, indent=1))


def compared(sizes: list[str], engines: list[str]) -> Iterator[dict[str, Any]]:
    """Every engine at every size, each in a process of its own."""
    print(
        "| notes | engine | build s | bytes a note | p50 ms | p99 ms | mistyped p50 | put ms | found |",
        end="",
    )
    print(" mistyped | p50 over ours |")
    print("|---" * 11 + "|")
    for size in sizes:
        ours = None
        for name in engines:
            row = in_a_process(name, size)
            if row is None:
                continue
            ours = row["p50"] if name == "ours" else ours
            print(line_of(row, ours), flush=True)
            yield row


def in_a_process(name: str, size: str) -> dict[str, Any] | None:
    """One engine measured in a fresh process with one thread; where it fails, a line says so."""
    command = [sys.executable, "-m", "tests.bench.speed", "--one", name, "--sizes", size]
    done = subprocess.run(command, env=os.environ | ONE_THREAD, capture_output=True, text=True, check=False)
    if done.returncode == 0:
        row: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
        return row
    print(f"{name}: not installed or failed at {size}", file=sys.stderr)
    return None


def line_of(row: dict[str, Any], ours: float | None) -> str:
    """A row of the table."""
    figures = [f"{row[name]:.3g}" if name != "bytes" else f"{row[name]:.0f}" for name in COLUMNS]
    ratio = f"{row['p50'] / ours:.1f}" if ours else ""
    return f"| {row['notes']} | {row['engine']} | " + " | ".join(figures) + f" | {ratio} |"


def measured(name: str, size: int) -> dict[str, Any]:
    """Build one engine, ask it all questions and change it a few times."""
    corpus = Corpus(SEED)
    notes = list(corpus.notes(size))
    questions = corpus.questions(notes, QUESTIONS)
    ENGINES[name](notes[:2000]).search("warm up")
    before = resident()
    start = time.perf_counter()
    engine = ENGINES[name](notes)
    row: dict[str, Any] = {"engine": name, "notes": size, "build_s": time.perf_counter() - start}
    row["bytes"] = (resident() - before) / size
    # As the service does once its indexes are there: what stays for good is not walked through again.
    gc.freeze()
    row |= asked(engine, questions, lambda question: question.clean, "")
    row |= asked(engine, [question for question in questions if question.slips], lambda q: q.typed, "_typed")
    return row | changed(engine, notes)


def asked(
    engine: Engine, questions: list[Question], words: Callable[[Question], str], kind: str
) -> dict[str, Any]:
    """Times and how often the note that the question was made from is among the ten."""
    best = [float("inf")] * len(questions)
    found = 0
    for attempt in range(PASSES):
        for n, question in enumerate(questions):
            start = time.perf_counter()
            hits = engine.search(words(question))
            best[n] = min(best[n], time.perf_counter() - start)
            found += attempt == 0 and question.note in hits
    best.sort()
    share = found / max(len(questions), 1)
    if kind:
        return {"typed_p50": median(best) * 1e3, "found_typed": share}
    return {"p50": median(best) * 1e3, "p99": best[int(len(best) * 0.99)] * 1e3, "found": share}


def changed(engine: Engine, notes: list[tuple[int, str]]) -> dict[str, Any]:
    """Milliseconds until a question finds a note just put, the middle of a few."""
    took = []
    for n in range(1 if len(notes) > 20_000 and not hasattr(engine, "delete") else 7):
        word = "qx" + "abcdefgh"[n] * 4
        start = time.perf_counter()
        engine.put(len(notes) + n, f"{notes[n][1]} {word}")
        hits = engine.search(word)
        took.append((time.perf_counter() - start) * 1e3)
        assert len(notes) + n in hits
    return {"put": median(took)} | (pauses(engine, notes) if hasattr(engine, "delete") else {})


def pauses(engine: Any, notes: list[tuple[int, str]]) -> dict[str, Any]:
    """The longest wait of a change, a deletion and a question while the index merges in the background."""
    waits: dict[str, list[float]] = {"put": [], "delete": [], "ask": []}

    def timed(kind: str, act: Callable[[], object]) -> None:
        start = time.perf_counter()
        act()
        waits[kind].append((time.perf_counter() - start) * 1e3)

    for n in range(min(CHANGES, len(notes))):
        number, text = len(notes) + 100 + n, notes[n][1]
        timed("put", lambda number=number, text=text: engine.put(number, text))
        timed("ask", lambda text=text: engine.search(text[:60]))
        if n % 3 == 0:
            timed("delete", lambda n=n: engine.delete(n))
    return {f"most_{kind}_ms": max(times) for kind, times in waits.items()} | {
        f"usual_{kind}_ms": median(times) for kind, times in waits.items()
    }


def grown() -> Iterator[dict[str, Any]]:
    """What ours costs against the number of notes, the length of a note and that of a question."""
    print("| what | p50 ms | build us a note | bytes a note |")
    print("|---|---|---|---|")
    for size in (1_000, 10_000, 100_000, 1_000_000):
        row = in_a_process("ours", str(size))
        if row is not None:
            per_note = row["build_s"] / size * 1e6
            print(f"| {size} notes | {row['p50']:.3f} | {per_note:.1f} | {row['bytes']:.0f} |", flush=True)
            yield row
    yield from by_length()


def by_length() -> Iterator[dict[str, Any]]:
    """Notes and questions some times as long, at 20,000 notes."""
    corpus = Corpus(SEED)
    notes = list(corpus.notes(20_000))
    questions = corpus.questions(notes, 200)
    for times in (1, 2, 4, 8):
        engine = ENGINES["ours"]([(n, _several(notes, n, times)) for n, _ in notes])
        row = asked(engine, questions, lambda question: question.clean, "")
        print(f"| notes {times} times as long | {row['p50']:.3f} | | |", flush=True)
        yield row | {"note_length": times}
    engine = ENGINES["ours"](notes)
    for times in (1, 2, 4, 8, 16):
        longer = [Question(" ".join(q.clean for q in questions[n : n + times]), "", 0, 0) for n in range(150)]
        row = asked(engine, longer, lambda question: question.clean, "")
        print(f"| questions {times} times as long | {row['p50']:.3f} | | |", flush=True)
        yield row | {"question_length": times}


def _several(notes: list[tuple[int, str]], first: int, count: int) -> str:
    return " ".join(notes[(first + k) % len(notes)][1] for k in range(count))


def resident() -> int:
    """Bytes of memory this process holds, after giving back what it can."""
    gc.collect()
    with contextlib.suppress(OSError, AttributeError):
        ctypes.CDLL(None).malloc_trim(0)
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith("VmRSS"):
            return int(line.split()[1]) * 1024
    return 0


if __name__ == "__main__":
    main()
