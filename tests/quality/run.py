"""Ranked retrieval side by side in one table: `python -m tests.quality.run` (see tests/bench/README.md)."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from pathlib import Path

from tests.quality.engines import ENGINES, OURS, PEERS, fits, kept, remembered, version
from tests.quality.measures import Result, gap
from tests.quality.published import PRINTED, WITHIN, apart
from tests.quality.queryset import QuerySet, thinned
from tests.quality.sets import SETS, load, present

HEAD = (
    "| set (queries) | engine | hit@1 | hit@10 | MRR@10 | nDCG@10 | MRR printed | MRR against best peer |\n"
    "|---|---|---|---|---|---|---|---|"
)


def rows(name: str, given: QuerySet, results: Sequence[Result], *, seed: int) -> Iterator[str]:
    """The lines of one set: each engine, ours with the difference to the best peer (by MRR)."""
    best = max((each for each in results if each.engine in PEERS), key=lambda each: each.mrr, default=None)
    for each in results:
        figures = f"{each.hit_1:.3f} | {each.hit_10:.3f} | {each.mrr:.3f} | {each.ndcg:.3f}"
        told = PRINTED.get(name, {}).get(each.engine)
        printed = f"{told[2]:.3f}" if told else ""
        against = str(gap(each, best, seed=seed)) if best is not None and each.engine in OURS else ""
        mark = " (best peer)" if each is best else ""
        where = f"{given.name} ({len(given.queries)})"
        yield f"| {where} | {each.engine}{mark} | {figures} | {printed} | {against} |"


def results_of(given: QuerySet, engines: Sequence[str], *, anew: bool) -> list[Result]:
    """Each wanted engine that fits the set, and the peers kept before where only ours are wanted."""
    fitting = [engine for engine in engines if fits(engine, given)]
    found = [] if set(engines) & set(PEERS) else [kept(given, peer) for peer in PEERS if version(peer)]
    return [each for each in found if each] + [remembered(given, engine, anew=anew) for engine in fitting]


def wanted(said: str) -> list[str]:
    """The engines meant by `all`, `ours`, `peers`, or names with semicolons between; the absent are told."""
    groups = {"all": list(ENGINES), "ours": list(OURS), "peers": list(PEERS)}
    chosen = groups.get(said) or [name.strip() for name in said.split(";")]
    for name in chosen:
        if name not in ENGINES:
            raise SystemExit(f"no engine {name!r}; known: {'; '.join(ENGINES)}")
        if version(name) is None:
            _tell(f"{name}: not installed, left out (see tests/bench/requirements.txt)")
    return [name for name in chosen if version(name) is not None]


def sets_here(said: str) -> Iterator[str]:
    """The sets meant whose data is here; the absent told."""
    for name in SETS if said == "all" else said.split(","):
        if name not in SETS:
            raise SystemExit(f"no set {name!r}; known: {', '.join(SETS)}")
        if present(name):
            yield name
        else:
            _tell(f"{name}: BAYLORE_OUTSIDE_DATA holds no such folder, left out")


def notes(name: str, given: QuerySet, results: Sequence[Result], *, whole: bool) -> Iterator[str]:
    """What a reader of the table must know: queries left out, and figures unlike the printed ones."""
    if given.unanswerable:
        yield f"{name}: {given.unanswerable} queries have no right answer here and were left out"
    for each in results if whole else ():
        far = apart(name, each)
        if far is not None and far > WITHIN:
            yield f"{name}, {each.engine}: up to {far:.3f} from the printed figures"


def main() -> None:
    """Print the table, and write it as JSON where asked."""
    asked = _arguments().parse_args()
    engines, report = wanted(asked.engines), {}
    print(HEAD)
    for name in sets_here(asked.sets):
        whole = load(name, seed=asked.seed)
        given = thinned(whole, asked.most)
        results = results_of(given, engines, anew=asked.anew)
        print("\n".join(rows(name, given, results, seed=asked.seed)), flush=True)
        for note in notes(name, given, results, whole=given is whole):
            _tell(note)
        report[name] = [{**asdict(each), "version": version(each.engine)} for each in results]
    if asked.json:
        asked.json.write_text(json.dumps({"seed": asked.seed, "sets": report}), encoding="utf-8")


def _arguments() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sets", default="all", help=f"names with commas between, of {', '.join(SETS)}")
    parser.add_argument("--engines", default="all", help="all, ours, peers, or names with semicolons between")
    parser.add_argument("--seed", type=int, default=0, help="of the invented shops, slips and random draws")
    parser.add_argument("--most", type=int, help="ask at most so many queries of a set, spread evenly")
    parser.add_argument(
        "--anew", action="store_true", help="run peers again instead of reading kept rankings"
    )
    parser.add_argument("--json", type=Path, help="file for the whole result")
    return parser


def _tell(line: str) -> None:
    print(line, file=sys.stderr, flush=True)


if __name__ == "__main__":
    main()
