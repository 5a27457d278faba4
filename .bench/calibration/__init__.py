"""Calibration: whether the chance that the board shows comes true, and what each level costs.

The dogs, the household and the trial are those of ``.bench/dogs``. Here the limit, the holds and
single figures of the board change, and what was predicted is set beside what came.
"""
