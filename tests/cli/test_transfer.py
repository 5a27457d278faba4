"""The commands that bring the log out and in, on files as people have them."""

from __future__ import annotations

import json
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from pottyboard.cli.output import progress
from pottyboard.core.model.events import Event
from pottyboard.core.transfer.columns import HEADER
from pottyboard.store import DogLog, Household
from tests.cli.shell import NOON, Shell

PAPER = (
    "Date;Time;What;Where;Who\r\n"
    "2.3.2026;09:40;wee;garden;Mina\r\n"
    ";10.30;accident pee;kitchen;Otto\r\n"
    ";11:15;nothing;;Mina\r\n"
)


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in Bramble's home, with one entry in the log."""
    made = Shell(tmp_path / "home", capsys)
    made.set_up()
    assert made.type("log meal --at 09:20 --note =1+1").code == 0
    return made


@pytest.fixture
def paper(tmp_path: Path) -> Path:
    """A paper log that somebody typed into a spreadsheet."""
    path = tmp_path / "paper.csv"
    path.write_bytes(PAPER.encode("utf-8-sig"))
    return path


def log_of(shell: Shell) -> tuple[Event, ...]:
    """Return the entries on disk."""
    return Household(shell.home).dog_log().events


# --- Out ------------------------------------------------------------------------------------------


def test_export_prints_a_table(shell: Shell) -> None:
    done = shell.run("export")
    head, row, *rest = done.out.split("\r\n")
    assert (done.code, rest) == (0, [""])
    assert head == ",".join(HEADER)
    assert row.startswith("2026-03-02,09:20,meal,2026-03-02T08:20:00+00:00,")
    assert "'=1+1" in row


def test_export_writes_a_file_that_others_cannot_read(shell: Shell, tmp_path: Path) -> None:
    path = tmp_path / "out.jsonl"
    done = shell.run("export", "--jsonl", str(path))
    assert (done.code, done.out) == (0, "")
    assert "only you can read it" in done.err
    assert "1 entry in it" in done.err
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert json.loads(path.read_text())["note"] == "=1+1"


def test_export_of_some_days(shell: Shell) -> None:
    shell.now = NOON + timedelta(days=3)
    shell.type("log pee --at '2026-03-03 00:00'")
    shell.type("log poop --at '2026-03-04 23:59'")
    kinds = {
        "--from 2026-03-03": ["pee", "poop"],
        "--from 2 --days 1": ["pee"],
        "--days 2": ["meal", "pee"],
        "--from yesterday": ["poop"],
    }
    for options, expected in kinds.items():
        out = shell.type(f"export {options}").out
        assert [line.split(",")[2] for line in out.split("\r\n")[1:-1]] == expected


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("export --days 0", "--days goes from 1"),
        ("export --csv /nowhere/at/all.csv", "is no folder"),
        ("export --from someday", "is not a day"),
    ],
)
def test_what_cannot_be_exported_is_said(shell: Shell, line: str, words: str) -> None:
    done = shell.type(line)
    assert done.code == 1
    assert words in done.err


@pytest.mark.parametrize("form", ["--csv", "--jsonl"])
def test_an_export_makes_the_same_log_in_another_home(
    shell: Shell, tmp_path: Path, form: str
) -> None:
    shell.type(
        "log pee-inside --found --dry 09:30 --at 10:15 --place 'hall, by the door' --by Mina"
    )
    shell.now = datetime(2026, 4, 6, 8, tzinfo=UTC)
    shell.run("log", "note", "--note", "two\r\nlines \ud800", "--at", "2026-04-01 10:00")
    path = tmp_path / "out"
    assert shell.run("export", form, str(path)).code == 0
    before = log_of(shell)

    other = Shell(tmp_path / "other", shell.capsys, shell.now)
    other.set_up()
    done = other.run("import", str(path), "--yes")
    assert done.code == 0
    assert log_of(other) == before
    again = other.run("import", str(path), "--yes")
    assert "3 entries are there already and left out." in again.out
    assert "Nothing to add." in again.out
    assert other.type("undo").out.startswith("Taken back: 3 entries, ")
    assert log_of(other) == ()


# --- In -------------------------------------------------------------------------------------------


def test_an_import_is_shown_before_anything_is_written(shell: Shell, paper: Path) -> None:
    done = shell.run("import", str(paper))
    assert done.code == 0
    lines = done.out.splitlines()
    assert "Columns, parted by semicolons:" in lines
    assert "   1  Date   the date, day first (written with dots)" in lines
    assert "   3  What   what happened" in lines
    assert "  line    3  Mon 2026-03-02 10:30  pee indoors, kitchen, by Otto" in lines
    assert lines[-1] == "Nothing was saved. To save it: the same once more with --yes"
    assert len(log_of(shell)) == 1


def test_an_import_is_one_change_which_one_undo_takes_back(shell: Shell, paper: Path) -> None:
    done = shell.run("import", str(paper), "--yes")
    assert "Saved: 3 entries in Bramble’s log." in done.out
    assert [(e.kind, e.by) for e in log_of(shell)] == [
        ("meal", ""), ("pee", "Mina"), ("pee-inside", "Otto"), ("nothing", "Mina"),
    ]  # fmt: skip
    again = shell.run("import", str(paper), "--yes")
    assert "3 entries are there already and left out." in again.out
    assert shell.type("undo").out.startswith("Taken back: 3 entries, ")
    assert [event.kind for event in log_of(shell)] == ["meal"]


def test_one_line_that_cannot_be_read_keeps_all_of_it_out(shell: Shell, paper: Path) -> None:
    with paper.open("a") as file:
        file.write(";25:00;pee;;\n;11:20;accident;;\n")
    done = shell.run("import", str(paper), "--yes")
    assert done.code == 1
    assert "2 lines cannot be read, nothing was saved:" in done.err
    assert "  line 5, “Time”, “25:00”: no clock time" in done.err
    assert "  line 6, “What”, “accident”: pee or poop?" in done.err
    assert len(log_of(shell)) == 1


def test_very_many_faults_are_counted_and_not_all_printed(shell: Shell, tmp_path: Path) -> None:
    path = tmp_path / "bad.csv"
    path.write_text("Date,Time,What\n" + "2026-03-02,25:00,pee\n" * 100)
    done = shell.run("import", str(path), "--map", "Time=clock")
    assert "100 lines cannot be read" in done.err
    assert done.err.splitlines()[-1] == "  and 80 more"
    assert len(done.err.splitlines()) == 23


@pytest.mark.parametrize(
    ("content", "options", "words"),
    [
        ("", "", "it is empty"),
        ("Date,Time\n2026-03-02,09:30\n", "", "no column says what happened"),
        ("Date,What\n2026-03-02,pee\n", "", "no column says at what time"),
        ("Time,What\n09:30,pee\n", "", "no column says on which day"),
        ("Date,Time,What\n2026-03-02,09:30,pee\n", "--map Mood=note", "there is no column “Mood”"),
        ("Date,Time,What\n2026-03-02,09:30,pee\n", "--words tinkle=pea", "is not a kind of entry"),
        ("{oops", "", "1 line cannot be read"),
        ("# A page of text\n\nNo, it is, no table\n", "", "this does not look like a log"),
    ],
)
def test_what_is_no_log_is_refused_with_what_to_do(
    shell: Shell, tmp_path: Path, content: str, options: str, words: str
) -> None:
    path = tmp_path / "log.csv"
    path.write_text(content)
    done = shell.type(f"import '{path}' --yes {options}")
    assert done.code == 1
    assert words in done.err


def test_dates_that_could_be_two_days_are_asked_for(shell: Shell, tmp_path: Path) -> None:
    shell.now = datetime(2026, 4, 30, tzinfo=UTC)
    path = tmp_path / "log.csv"
    path.write_text("Date,Time,What\n3/4/2026,09:30,pee\n4/3/2026,09:30,pee\n")
    done = shell.run("import", str(path), "--yes")
    assert done.code == 1
    assert "could be 3 April or 4 March: say which with --order day-first" in done.err
    done = shell.run("import", str(path), "--yes", "--order", "month-first")
    assert [event.at.date().isoformat() for event in log_of(shell)][1:] == [
        "2026-03-04", "2026-04-03",
    ]  # fmt: skip


def test_a_day_and_a_name_can_be_given_for_all_rows(shell: Shell, tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_text("sep=;\nTime;What\n09:30;pee\n10:00;oops\n")
    done = shell.type(f"import '{path}' --day today --by Mina --words oops=pee-inside --yes")
    assert done.code == 0
    assert [(e.kind, e.by) for e in log_of(shell)][1:] == [("pee", "Mina"), ("pee-inside", "Mina")]
    bad = path.with_name("bad.csv")
    bad.write_text("sep=;\nTime;What\n9.5;pee\n")
    assert "line 3, “Time”, “9.5”" in shell.type(f"import '{bad}' --day today --map Time=clock").err


def test_on_a_terminal_it_asks(shell: Shell, paper: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []

    def answering(word: str) -> None:
        def answer(words: str) -> str:
            asked.append(words)
            return word

        monkeypatch.setattr("builtins.input", answer)

    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    answering("")
    assert "Nothing was saved." in shell.run("import", str(paper)).out
    answering("y")
    assert "Saved: 3 entries" in shell.run("import", str(paper)).out
    assert asked == ["\nSave 3 entries in Bramble’s log? [y/N] "] * 2


def test_a_file_with_a_command_for_the_terminal_is_shown_without_it(
    shell: Shell, tmp_path: Path
) -> None:
    path = tmp_path / "log.csv"
    path.write_text("Date,Time,What,\x1b]0;x\x07Note\n2026-03-02,09:30,pee,\x1b[2J[/red]\n")
    done = shell.run("import", str(path))
    assert "\x1b" not in done.out
    assert "[2J[/red]" in done.out


def test_a_long_log_shows_how_far_it_is(
    shell: Shell, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    dog_log = Household(shell.home).dog_log()
    shell.now = NOON + timedelta(days=30)
    many = [Event("pee", NOON + timedelta(minutes=5 * n)) for n in range(60)]
    DogLog(dog_log.folder).add_all(many, shell.now)
    shown: list[str] = []

    def watched(items: list[Event], words: str) -> list[Event]:
        shown.append(f"{words} {len(items)}")
        return items

    monkeypatch.setattr(progress, "LONG", 50)
    monkeypatch.setattr(progress, "_with_bar", watched)
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    path = tmp_path / "out.csv"
    assert shell.run("export", "--csv", str(path)).code == 0
    assert shell.run("import", str(path)).code == 0
    assert shown == ["Writing 61", "Reading 61"]
