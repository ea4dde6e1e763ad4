"""Resident memory of a service while it works: how much, and what it grew by."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from statistics import mean
from typing import Any

from tests.faults.running import Service

SAMPLE_S = 1.0
MB = 1e6


@dataclass
class Memory:
    """Resident bytes of all processes of a service, sampled with the moment."""

    service: Service
    samples: list[tuple[float, int]] = field(default_factory=list)

    @contextmanager
    def watched(self) -> Iterator[None]:
        """Sample meanwhile."""
        over = threading.Event()
        watcher = threading.Thread(target=self._sample, args=(over,), daemon=True)
        watcher.start()
        yield
        over.set()
        watcher.join()

    def _sample(self, over: threading.Event) -> None:
        while not over.wait(SAMPLE_S):
            pids = self.service.processes()
            self.samples.append((time.monotonic(), sum(resident(pid) for pid in pids)))

    def told(self, what: str, opened_at: Sequence[float] = ()) -> dict[str, Any]:
        """A line: the second fifth of the time, the last, and the growth for each case new between them."""
        early, late = self._fifth(1), self._fifth(4)
        grown = mean(size for _, size in late) - mean(size for _, size in early)
        came = sum(_middle(early) < at <= _middle(late) for at in opened_at)
        return {
            "what": what,
            "second fifth MB": round(mean(size for _, size in early) / MB, 1),
            "last fifth MB": round(mean(size for _, size in late) / MB, 1),
            "grown MB": round(grown / MB, 1),
            "new cases": came,
            "kB a new case": round(grown / came / 1e3, 1) if came else None,
        }

    def _fifth(self, n: int) -> list[tuple[float, int]]:
        """The samples of a fifth of the time, the first being 0; at least one."""
        size = len(self.samples)
        return self.samples[size * n // 5 : max(size * (n + 1) // 5, size * n // 5 + 1)]


def _middle(samples: Sequence[tuple[float, int]]) -> float:
    return mean(at for at, _ in samples)


def resident(pid: int) -> int:
    """Resident bytes of a process, 0 once it is gone."""
    try:
        pages = int(Path(f"/proc/{pid}/statm").read_text().split()[1])
    except (OSError, IndexError):
        return 0
    return pages * 4096
