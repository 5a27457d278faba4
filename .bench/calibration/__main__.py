"""Run it: ``python .bench/calibration --dogs 4`` for a quick look."""

import sys
from pathlib import Path

if __name__ == "__main__":
    bench = Path(__file__).resolve().parent.parent
    sys.path[:0] = [str(bench), str(bench.parent)]
    from calibration.report import main

    main()
