"""The command that makes the review: to the screen, to a file, and what it refuses."""

from __future__ import annotations

import stat
from datetime import timedelta
from pathlib import Path

import pytest

from tests.cli.shell import NOON, Shell


@pytest.fixture
def week(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """Bramble's home on the fourth day, with an accident on the second."""
    shell = Shell(tmp_path / "home", capsys)
    shell.set_up()
    shell.now = NOON + timedelta(days=1)
    shell.run("log", "pee-inside", "--at", "09:00", "--found", "--place", "hall \x1b[31m")
    shell.now = NOON + timedelta(days=3)
    shell.type("log pee --at 09:30")
    return shell


def test_the_last_two_weeks_by_default(week: Shell) -> None:
    done = week.type("review")
    assert done.code == 0
    assert done.out.startswith("Bramble: review, Mon 2 to Thu 5 Mar 2026\n")
    assert "1 accident: 0 seen, 1 found afterwards" in done.out
    assert "\x1b" not in done.out


def test_some_days(week: Shell) -> None:
    for words in ("--from 3 --days 1", "--from 2026-03-04 --days 1", "--from yesterday --days 1"):
        done = week.type(f"review {words}")
        assert "Bramble: review, Wed 4 Mar 2026" in done.out
        assert "No accident was logged." in done.out


def test_a_page_that_only_its_owner_can_read(week: Shell, tmp_path: Path) -> None:
    file = tmp_path / "review.html"
    done = week.run("review", "--html", str(file))
    assert (done.code, done.out) == (0, "")
    assert f"Written: {file}" in done.err
    assert "give it only to those who are to know" in done.err
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert file.read_text("utf-8").startswith("<!doctype html>")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("--days 0", "covers 1 to 366 days"),
        ("--days 400", "covers 1 to 366 days"),
        ("--from 2026-02-01", "is not in the log: it goes from 2026-03-02 to 2026-03-05"),
        ("--from tomorrow", "is not in the log"),
    ],
)
def test_a_review_that_cannot_be(week: Shell, typed: str, words: str) -> None:
    done = week.type(f"review {typed}")
    assert done.code == 1
    assert words in done.err
    assert done.out == ""
