"""The campaign itself: runs every class and prints how often what was tried, and failed."""

from __future__ import annotations

import argparse
import json
import os
import sys
import tempfile
import time
from collections.abc import Iterator
from itertools import chain
from pathlib import Path
from typing import Any

from faults import spoilt, stops
from faults.homes import copy_of, filled
from faults.stops import Tried

_SHOWN = 6
"""Failures of a class that are shown one by one."""


def _tries(home: Path, args: argparse.Namespace) -> Iterator[Tried]:
    long, seed = args.long, args.seed
    yield from stops.stops(home, long, seed) if not args.without_shim else ()
    yield from stops.timed_kills(home, 10_000 if long else 40, seed)
    yield from spoilt.damaged(home, 100 if long else 15, seed)
    yield from spoilt.hostile(home, long)
    yield from spoilt.clocks(home)
    yield from spoilt.rights(home)
    yield from spoilt.special(home)
    yield from stops.several_writers(copy_of(home, "busy"), 6, 200 if long else 12)


def _swap_stock_in() -> None:
    """Let every file be written as TinyDB's own JSON storage does: in place, then cut."""
    from tinydb.storages import JSONStorage

    from pottyboard.store import json_file
    from pottyboard.store.disk import signature_of

    def stock(path: Path, content: bytes) -> Any:
        storage = JSONStorage(str(path))
        try:
            storage.write(json.loads(content))
        finally:
            storage.close()
        return signature_of(path)

    vars(json_file)["replace_file"] = stock


def _turns_red(home: Path, seed: int) -> tuple[int, int]:
    """Return how many tries there were, and how many failed, with stock storage swapped in."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        _swap_stock_in()
        stops.CHANGES = {name: stops.CHANGES[name] for name in ("deletion", "undo")}
        tries = [*stops.stops(home, False, seed)]
        os.write(writer, json.dumps([len(tries), sum(bool(t.wrong) for t in tries)]).encode())
        os._exit(0)
    os.close(writer)
    tried, failed = json.loads(os.read(reader, 1000) or b"[0, 0]")
    os.waitpid(child, 0)
    return tried, failed


def main() -> int:
    """Run the campaign; return 0 where nothing failed and stock storage turned it red."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--long", action="store_true", help="every call, 10,000 kills: an hour")
    parser.add_argument("--seed", type=int, default=1, help="another choice of the short form")
    parser.add_argument("--stock", action="store_true", help="with TinyDB's own JSON storage")
    parser.add_argument("--only", default="", help="classes that begin so")
    parser.add_argument("--package", help="another checkout to try")
    parser.add_argument("--without-shim", action="store_true", help=argparse.SUPPRESS)
    args = parser.parse_args()
    built = stops.shim()
    if built is None:
        args.without_shim = True
        print("no compiler: calls are not made to fail one by one")
    elif os.environ.get("LD_PRELOAD") != str(built):
        os.execve(
            sys.executable, [sys.executable, *sys.argv], {**os.environ, "LD_PRELOAD": str(built)}
        )
    if args.stock:
        _swap_stock_in()
    counts: dict[str, list[int]] = {}
    wrong: dict[str, list[Tried]] = {}
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        home = filled(Path(folder) / "home")
        for tried in _tries(home, args):
            if tried.group.startswith(args.only):
                count = counts.setdefault(tried.group, [0, 0])
                count[0] += 1
                if tried.wrong:
                    count[1] += 1
                    wrong.setdefault(tried.group, []).append(tried)
        red = (0, 0) if args.without_shim or args.stock else _turns_red(home, args.seed)
    print(f"{'class':32} {'tried':>7} {'failed':>7}")
    for group, (tries, failed) in counts.items():
        print(f"{group:32} {tries:7,} {failed:7,}")
    tries, failed = (sum(column) for column in zip(*counts.values(), strict=True))
    print(f"{'together':32} {tries:7,} {failed:7,}   in {time.monotonic() - begun:.0f} s")
    for one in chain.from_iterable(found[:_SHOWN] for found in wrong.values()):
        print(f"  {one.group}: {one.what}: {one.wrong}")
    if red[0]:
        print(f"with stock JSON storage {red[1]} of {red[0]} tries fail, as they have to")
    return int(failed > 0 or (red[0] > 0 and red[1] == 0))
