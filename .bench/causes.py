"""Prints how the board names the causes of made accidents: ``python .bench/causes.py [FROM TO]``.

Without seeds: the table by hand and 168 seeds, from 0 on.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.core.engine.made_accidents import BY_HAND, KINDS, Judged, judge, seeds


def table(judged: Judged) -> str:
    """Return the confusion matrix: a row for each true cause, a column for each that was named."""
    names = [*KINDS]
    lines = [f"{'true / named':10}" + "".join(f"{name[:7]:>8}" for name in names)]
    for true in names:
        cells = (judged.named.get((true, name), 0) for name in names)
        lines.append(f"{true:12}" + "".join(f"{cell or '.':>8}" for cell in cells))
    lines.append(
        f"{judged.total} made: wrong {len(judged.wrong)} ({len(judged.wrong) / judged.total:.1%}), "
        f"wrong and narrowing {len(judged.wrong_narrowing)}, "
        f"clear ones named {judged.clear_named} of {judged.clear} "
        f"({judged.clear_named / judged.clear:.0%})"
    )
    return "\n".join(lines)


def main() -> None:
    """Print the matrix, and every wrong one."""
    first, last = map(int, sys.argv[1:3]) if len(sys.argv) > 2 else (0, 168)
    by_hand = BY_HAND if len(sys.argv) < 3 else ()
    judged = judge((*by_hand, *seeds(first, last)))
    print(table(judged))
    for line in judged.wrong:
        print(" ", line, "(narrowed)" * (line in judged.wrong_narrowing))


if __name__ == "__main__":
    main()
