"""The command that makes the health diary: to the screen, to a file, and what it refuses."""

from __future__ import annotations

import stat
from datetime import timedelta
from pathlib import Path

import pytest

from tests.cli.shell import NOON, Shell


@pytest.fixture
def week(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """Bramble's home on the third day, with an accident on the second."""
    shell = Shell(tmp_path / "home", capsys)
    shell.set_up()
    shell.now = NOON + timedelta(days=1)
    where = ("--found", "--place", "hall", "--note", "by the \x1b[31mmat")
    shell.run("log", "pee-inside", "--at", "09:00", *where)
    shell.type("log health --finding loose-stool --note soft --at 10:00")
    shell.now = NOON + timedelta(days=2)
    return shell


def test_all_days_so_far_by_default(week: Shell) -> None:
    done = week.type("diary")
    assert done.code == 0
    assert done.out.startswith("Bramble, 8 kg, adult: health diary, Mon 2 to Wed 4 Mar 2026\n")
    assert "Tue 3 Mar 10:00  loose stool  “soft”" in done.out
    assert "FOR THE VET'S NOTES" in done.out
    assert "read it through before you hand it over" in done.err
    assert "by the [31mmat" in " ".join(done.out.split())
    assert "\x1b" not in done.out


def test_some_days(week: Shell) -> None:
    for words in ("--from 2 --days 1", "--from yesterday --days 1", "--from 2026-03-03 --days 1"):
        done = week.type(f"diary {words}")
        assert done.code == 0
        assert "health diary, Tue 3 Mar 2026" in done.out
        assert "Mon 2 Mar *" not in done.out


def test_a_page_that_only_its_owner_can_read(week: Shell, tmp_path: Path) -> None:
    file = tmp_path / "diary.html"
    done = week.run("diary", "--html", str(file))
    assert (done.code, done.out) == (0, "")
    assert f"Written: {file}" in done.err
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    source = file.read_text("utf-8")
    assert source.startswith("<!doctype html>")
    assert "loose stool" in source


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("diary --from 2026-03-01", "it goes from 2026-03-02 to 2026-03-04"),
        ("diary --from tomorrow", "it goes from 2026-03-02 to 2026-03-04"),
        ("diary --days 0", "--days goes from 1 to 62"),
        ("diary --days 63", "--days goes from 1 to 62"),
        ("diary --from someday", "is not a day"),
        ("diary --html {tmp}/none/diary.html", "is no folder"),
        ("diary --html {tmp}", "is no file"),
    ],
)
def test_what_is_refused_says_what_to_ask_for(
    week: Shell, tmp_path: Path, words: str, said: str
) -> None:
    done = week.type(words.format(tmp=tmp_path))
    assert (done.code, done.out) == (1, "")
    assert said in done.err


def test_a_long_log_has_to_be_asked_for_in_parts(week: Shell) -> None:
    week.now = NOON + timedelta(days=100)
    assert week.type("diary").code == 0
    done = week.type("diary --from 1")
    assert done.code == 1
    assert "add --days 62, or begin later" in done.err
    assert week.type("diary --from 1 --days 62").code == 0
