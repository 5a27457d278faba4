"""Run the campaign: ``python .bench/faults`` takes about a minute, ``--long`` about an hour.

``--stock`` swaps TinyDB's own JSON storage in (every run ends with a short one of those: it has to
turn red), ``--package DIR`` tries another checkout, ``--only CLASS`` one class.
"""

import sys
from pathlib import Path

if __name__ == "__main__":
    bench = Path(__file__).resolve().parent.parent
    package = sys.argv[sys.argv.index("--package") + 1] if "--package" in sys.argv else bench.parent
    sys.path[:0] = [str(bench), str(package)]
    from faults.campaign import main

    sys.exit(main())
