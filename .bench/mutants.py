"""Single random changes to core and store that no test notices.

Each change is one comparison, number, ``and`` or ``or``, answer or statement of one module, made in
a copy of the checkout; then the tests that mirror the module run, or those of its folder where none
does. What survives is printed with its place. One process at a time, stopped at the first failure:

    .venv/bin/python .bench/mutants.py --count 30 --seed 1 --only core/log

A survivor is a question, not a fault: some changes alter nothing that anybody could see.
"""

from __future__ import annotations

import argparse
import ast
import copy
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

ROOT = Path(__file__).resolve().parent.parent
COMPARISONS = (
    (ast.Lt, ast.LtE, ast.Gt, ast.GtE),
    (ast.Eq, ast.NotEq),
    (ast.Is, ast.IsNot),
    (ast.In, ast.NotIn),
)
SLOWEST = 60.0
"""Seconds that the tests of one change may take beside ten times those of none."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change: the module, the node as it stands there, and what to write in its place."""

    module: Path
    node: ast.expr | ast.stmt
    text: str

    @property
    def words(self) -> str:
        """The place and the change, for people."""
        before = " ".join(ast.unparse(self.node).split())
        after = " ".join(self.text.split())
        return f"{self.module}:{self.node.lineno}: {before}  ->  {after}"

    def applied(self, source: bytes) -> bytes:
        """Return the source of the module with the change made."""
        lines = source.splitlines(keepends=True)
        node = self.node
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        start = sum(map(len, lines[: node.lineno - 1])) + node.col_offset
        end = sum(map(len, lines[: node.end_lineno - 1])) + node.end_col_offset
        text = self.text if isinstance(node, ast.stmt) else f"({self.text})"
        return source[:start] + text.encode() + source[end:]


def others(node: ast.AST, random: Random) -> Iterator[str]:
    """Yield what may stand in the place of a node, nothing where it is left alone."""
    new = copy.deepcopy(node)
    if isinstance(new, ast.Compare):
        at = random.randrange(len(new.ops))
        alike = next((kinds for kinds in COMPARISONS if isinstance(new.ops[at], kinds)), ())
        new.ops[at] = random.choice([kind for kind in alike if not isinstance(new.ops[at], kind)])()
        yield ast.unparse(new)
    elif isinstance(new, ast.BoolOp):
        new.op = ast.Or() if isinstance(new.op, ast.And) else ast.And()
        yield ast.unparse(new)
    elif isinstance(new, ast.UnaryOp) and isinstance(new.op, ast.Not):
        yield ast.unparse(new.operand)
    elif isinstance(new, ast.Constant) and isinstance(new.value, bool):
        yield repr(not new.value)
    elif isinstance(new, ast.Constant) and isinstance(new.value, int | float):
        yield repr(random.choice([new.value + 1, new.value - 1, new.value * 2 or 3]))
    elif isinstance(new, ast.Return) and new.value is not None and not _is_none(new.value):
        yield "return None"
    elif isinstance(new, ast.Assign | ast.AugAssign | ast.Raise) or (
        isinstance(new, ast.Expr) and isinstance(new.value, ast.Call | ast.Yield | ast.YieldFrom)
    ):
        yield "pass"


def _is_none(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def nodes_of(node: ast.AST, *, inside: bool = False) -> Iterator[ast.expr | ast.stmt]:
    """Yield the nodes that may be changed: no annotations, decorators or text with fields, nor what
    a class is made by, such as ``frozen=True``.

    Statements count only ``inside`` a function: a module without one of its names opens no test.
    """
    if isinstance(node, ast.expr) or (isinstance(node, ast.stmt) and inside):
        yield node
    inside = inside or isinstance(node, ast.FunctionDef)
    for field, value in ast.iter_fields(node):
        made_by = isinstance(node, ast.ClassDef) and field == "keywords"
        if made_by or field in ("annotation", "returns", "decorator_list"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not isinstance(child, ast.JoinedStr):
                yield from nodes_of(child, inside=inside)


def changes(only: str, random: Random) -> list[Change]:
    """Return one change for each place in core and store whose module's path begins so."""
    found = []
    for room in ("core", "store"):
        for path in sorted((ROOT / "pottyboard" / room).rglob("*.py")):
            module = path.relative_to(ROOT)
            if module.relative_to("pottyboard").as_posix().startswith(only):
                for node in nodes_of(ast.parse(path.read_bytes())):
                    found += [Change(module, node, text) for text in others(node, random)]
    return found


def tests_of(module: Path) -> str:
    """Return the file of tests that mirrors a module, or the folder where there is none."""
    room = Path("tests", *module.parent.parts[1:])
    mirrored = room / f"test_{module.name}"
    return str(mirrored if (ROOT / mirrored).exists() else room)


class Checkout:
    """A copy of the checkout to change, and its tests."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        for part in ("pottyboard", "tests", "sample_logs", ".bench"):
            shutil.copytree(
                ROOT / part, folder / part, ignore=shutil.ignore_patterns("__pycache__")
            )
        for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
            shutil.copy(ROOT / name, folder / name)

    def passes(self, tests: str, seconds: float | None = None) -> bool:
        """Whether these tests pass, within so many seconds."""
        command = [sys.executable, "-m", "pytest", "-x", "-p", "no:cacheprovider", tests]
        try:
            # A byte-code file would hide a change of the same length in the same second.
            done = subprocess.run(
                command, cwd=self.folder, capture_output=True, timeout=seconds, check=False,
                env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
            )  # fmt: skip
        except subprocess.TimeoutExpired:
            return False
        return done.returncode == 0

    def survives(self, change: Change, tests: str, seconds: float) -> bool:
        """Whether the tests pass with a change, which is taken back then."""
        path = self.folder / change.module
        source = path.read_bytes()
        path.write_bytes(change.applied(source))
        try:
            return self.passes(tests, seconds)
        finally:
            path.write_bytes(source)


def main() -> None:
    """Make the changes asked for and print the survivors."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--count", type=int, default=30, help="changes to make")
    parser.add_argument("--seed", type=int, default=0, help="which of all changes")
    parser.add_argument("--only", default="", help="the modules below this path, as core/log")
    asked = parser.parse_args()
    random = Random(asked.seed)
    every = changes(asked.only, random)
    chosen = random.sample(every, min(asked.count, len(every)))
    chosen.sort(key=lambda change: (str(change.module), change.node.lineno))
    unchanged: dict[str, float] = {}
    survivors = made = 0
    with tempfile.TemporaryDirectory() as folder:
        checkout = Checkout(Path(folder))
        for change in chosen:
            tests = tests_of(change.module)
            if tests not in unchanged:
                start = time.monotonic()
                passed = checkout.passes(tests)
                unchanged[tests] = time.monotonic() - start if passed else -1
            if unchanged[tests] < 0:
                print(f"{change.module}: {tests} fail without a change", flush=True)
                continue
            made += 1
            if checkout.survives(change, tests, 10 * unchanged[tests] + SLOWEST):
                survivors += 1
                print(change.words, flush=True)
    print(f"{survivors} of {made} changes survived ({len(every)} places)")


if __name__ == "__main__":
    main()
