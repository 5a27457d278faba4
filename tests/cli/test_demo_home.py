"""The home of a demo: gone with it, and after a kill gone with the next one; nothing else goes."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest

from pottyboard.cli.output.demo_home import demo_home, remove_left_behind


@pytest.fixture(autouse=True)
def temporary(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The system's folder for temporary files, empty."""
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


def aged(folder: Path) -> Path:
    """Let the mark of a demo be an hour old."""
    then = time.time() - 3600
    os.utime(folder / ".demo", (then, then))
    return folder


def killed(temporary: Path) -> Path:
    """Return the home of a demo that was killed outright."""
    code = (
        "import os, signal, tempfile; from pottyboard.cli.output.demo_home import demo_home\n"
        f"tempfile.tempdir = {str(temporary)!r}\n"
        "with demo_home() as home:\n"
        "    (home / 'fern').mkdir(); print(home, flush=True)\n"
        "    os.kill(os.getpid(), signal.SIGKILL)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    folder = Path(done.stdout.strip())
    assert (folder / "fern").is_dir()
    return aged(folder)


@pytest.mark.skipif(os.name == "nt", reason="SIGKILL is POSIX")
def test_a_demo_that_was_killed_is_removed_by_the_next(temporary: Path) -> None:
    left = killed(temporary)
    with demo_home() as home:
        assert not left.exists()
        assert [path.name for path in temporary.iterdir()] == [home.name]
    assert list(temporary.iterdir()) == []


def test_a_demo_that_still_runs_keeps_its_home(temporary: Path) -> None:
    with demo_home() as home:
        aged(home)
        # Another process, since a lock of one's own is no lock against oneself.
        code = (
            "import tempfile; from pottyboard.cli.output.demo_home import remove_left_behind\n"
            f"tempfile.tempdir = {str(temporary)!r}; remove_left_behind()"
        )
        subprocess.run([sys.executable, "-c", code], check=True)
        assert home.exists()


def test_one_that_has_just_begun_is_left_alone(temporary: Path) -> None:
    young = temporary / "pottyboard-demo-abc"
    young.mkdir()
    (young / ".demo").touch()
    remove_left_behind()
    assert young.exists()


def test_what_is_not_marked_or_no_folder_of_ours_stays(temporary: Path, tmp_path: Path) -> None:
    mine = tmp_path / "my log"
    mine.mkdir()
    (mine / ".demo").touch()
    bare, other = temporary / "pottyboard-demo-bare", temporary / "notes"
    for folder in (bare, other):
        folder.mkdir()
    (other / ".demo").touch()
    linked = temporary / "pottyboard-demo-link"
    linked.symlink_to(mine)
    within = temporary / "pottyboard-demo-mark"
    within.mkdir()
    (within / ".demo").symlink_to(mine / ".demo")
    for folder in (other, mine):
        aged(folder)
    remove_left_behind()
    assert {path.name for path in temporary.iterdir()} == {
        "pottyboard-demo-bare", "notes", "pottyboard-demo-link", "pottyboard-demo-mark",
    }  # fmt: skip
    assert (mine / ".demo").exists()


@pytest.mark.skipif(os.name == "nt" or os.geteuid() != 0, reason="needs another user's file")
def test_what_belongs_to_somebody_else_stays(temporary: Path) -> None:
    theirs = temporary / "pottyboard-demo-theirs"
    theirs.mkdir()
    (theirs / ".demo").touch()
    aged(theirs)
    os.chown(theirs, 12345, 12345)
    remove_left_behind()
    assert theirs.exists()
