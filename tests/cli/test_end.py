"""The end of a command: what it made is left alone, since the interpreter ends anyway."""

from __future__ import annotations

import subprocess
import sys

import pytest


@pytest.mark.parametrize(("typed", "code"), [("demo --list", 0), ("--help", 0), ("lgo", 2)])
def test_no_last_look_for_garbage_is_paid_for(typed: str, code: int) -> None:
    program = (
        "import gc, sys; from pottyboard.__main__ import run\n"
        "try:\n    code = run()\nexcept SystemExit as left:\n    code = left.code or 0\n"
        "print(code, gc.get_freeze_count() > 10_000, file=sys.stderr)"
    )
    words = [sys.executable, "-c", program, *typed.split()]
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    assert done.stderr.splitlines()[-1] == f"{code} True"
