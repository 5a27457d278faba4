"""Run the benchmark: ``python .bench/dogs --dogs 20`` for a quick look."""

import sys
from pathlib import Path

if __name__ == "__main__":
    bench = Path(__file__).resolve().parent.parent
    sys.path[:0] = [str(bench), str(bench.parent)]
    from dogs.table import main

    main()
