"""A week as a household with a walker lives it: told on Friday, the log moves on, Monday comes.

The calendar is read back by two libraries that know nothing of each other: icalendar, and vobject
(which also checks that each component has what RFC 5545 requires).
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from icalendar import Calendar

from pottyboard.store import Household
from tests.cli.shell import Done, Shell

vobject = pytest.importorskip("vobject")

SET_UP = (
    "setup --name Bramble --weight 14 --up 06:30 --bed 22:30 --meals 07:00,18:00 "
    '--zone Europe/Oslo --arrived "2026-02-25 09:00" --people Ana,Ben --workdays mon-fri '
    "--leave 08:30 --return 17:00 --absent-from 6 "
    '--helpers "Mina 09:00-16:00 12.50 notice 24h"'
)
FRIDAY = datetime(2026, 2, 27, 18, tzinfo=UTC)
MONDAY = datetime(2026, 3, 2, 6, 30, tzinfo=UTC)
DAYS = ("--from", "2026-03-02", "--days", "1")


class Couple(Shell):
    """The couple's command line, and what its walker's calendar holds."""

    file: Path

    def calendar(self) -> dict[str, tuple[str, str, int]]:
        """Write the calendar; return the start, status and sequence of each entry by its UID."""
        done = self.run("visits", *DAYS, "--ics", str(self.file))
        assert done.code == 0, done.err
        one = dict(read_by_icalendar(self.file.read_bytes()))
        assert one == dict(read_by_vobject(self.file.read_text()))
        return one

    def visits(self) -> Done:
        return self.run("visits", *DAYS)

    def told(self) -> list[str]:
        """Return the times of Monday that the plan names as told."""
        lines = self.visits().out.splitlines()
        return [line.split()[0] for line in lines if ", told: " in line]

    def live(self, day: datetime, *, accidents: bool) -> None:
        """Log a day of breaks, two hours apart, with accidents an hour after each or without."""
        for hour in range(6, 21, 2):
            at = day.replace(hour=hour, minute=0)
            self.now = at + timedelta(minutes=1)
            assert self.run("log", "pee", "--at", at.isoformat()).code == 0
            if accidents and hour in (8, 10, 12):
                at += timedelta(minutes=45)
                self.now = at + timedelta(minutes=1)
                typed = ("log", "pee-inside", "--seen", "--at", at.isoformat())
                assert self.run(*typed).code == 0


def read_by_icalendar(content: bytes) -> Iterator[tuple[str, tuple[str, str, int]]]:
    for entry in Calendar.from_ical(content).walk("VEVENT"):
        start = entry.decoded("DTSTART").astimezone(UTC)
        yield (
            str(entry["UID"]),
            (f"{start:%H:%M}", str(entry["STATUS"]), int(str(entry["SEQUENCE"]))),
        )


def read_by_vobject(content: str) -> Iterator[tuple[str, tuple[str, str, int]]]:
    read = vobject.readOne(content)
    assert read.validate()
    for entry in getattr(read, "vevent_list", []):
        start = entry.dtstart.value.astimezone(UTC)
        yield (
            entry.uid.value,
            (f"{start:%H:%M}", entry.status.value, int(entry.sequence.value)),
        )


@pytest.fixture
def couple(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Couple:
    """A couple in Oslo, set up on Friday evening, with two good days behind it."""
    home = Couple(tmp_path / "home", capsys, FRIDAY)
    home.file = tmp_path / "visits.ics"
    assert home.type(SET_UP).code == 0
    home.live(FRIDAY - timedelta(days=1), accidents=False)
    home.now = FRIDAY
    return home


def test_what_the_sheet_told_on_friday_stands_on_monday_whatever_the_log_says(
    couple: Couple,
) -> None:
    done = couple.run("sheet", *DAYS)
    assert "told from now on: Mina Mon " in done.err
    before = couple.told()
    assert len(before) >= 3
    couple.live(FRIDAY + timedelta(days=1), accidents=True)
    couple.now = MONDAY - timedelta(hours=12)  # Sunday evening: less than the notice
    assert couple.told() == before
    couple.now = MONDAY
    assert couple.told() == before
    sheet = couple.run("sheet", *DAYS)
    assert "told from now on" not in sheet.err
    assert all(time in sheet.out for time in before)
    starts = [start for start, *_ in couple.calendar().values()]
    assert [f"{int(start[:2]) + 1:02}{start[2:]}" for start in starts] == before


def test_a_change_is_proposed_and_once_agreed_updates_the_calendar(couple: Couple) -> None:
    first = couple.calendar()
    assert {(status, sequence) for _, status, sequence in first.values()} == {("CONFIRMED", 0)}
    assert couple.calendar() == first
    # The return moves: the last wait gets too long, another time for the last visit is proposed.
    assert couple.type("setup --return 17:30").code == 0
    assert couple.calendar() == first
    shown = " ".join(couple.visits().out.split())
    assert "Would be better than what was agreed:" in shown
    assert "Ask Mina by Sun " in shown

    done = couple.run("visits", *DAYS, "--agreed")
    assert "saved: visit told, Mina, Mon " in done.err
    moved = couple.calendar()
    assert moved.keys() >= first.keys()
    changed = {uid for uid in first if moved[uid] != first[uid]} | (moved.keys() - first.keys())
    (uid,) = changed
    if uid in first:
        assert moved[uid][1:] == ("CONFIRMED", 1)


def test_what_is_called_off_is_cancelled_under_its_uid_with_a_higher_sequence(
    couple: Couple,
) -> None:
    first = couple.calendar()
    assert couple.type('setup --exceptions "2026-03-02 home"').code == 0
    shown = couple.visits().out
    assert "somebody is home then" in shown
    assert couple.calendar() == first
    assert couple.run("visits", *DAYS, "--agreed", "2").code == 0
    after = couple.calendar()
    assert after.keys() == first.keys()
    (uid,) = [uid for uid in first if after[uid] != first[uid]]
    assert after[uid] == (first[uid][0], "CANCELLED", 1)
    assert couple.calendar() == after
    kept = couple.file.read_bytes()
    couple.file.unlink()  # the log alone knows it too
    assert couple.calendar() == after
    couple.file.write_bytes(kept)
    assert couple.run("undo").code == 0
    again = couple.calendar()
    assert again[uid] == (first[uid][0], "CONFIRMED", 2)


def test_a_moved_visit_keeps_its_uid(couple: Couple) -> None:
    first = couple.calendar()
    told = Household(couple.home).dog_log().events[-1]
    assert told.kind == "told"
    assert told.comes is not None
    couple.now += timedelta(minutes=5)
    later = (told.comes + timedelta(minutes=20)).isoformat()
    typed = ("log", "told", "--helper", "Mina", "--comes", later, "--about", told.id)
    assert couple.run(*typed).code == 0
    after = couple.calendar()
    assert after.keys() == first.keys()
    (uid,) = [uid for uid in first if after[uid] != first[uid]]
    assert after[uid][1:] == ("CONFIRMED", 1)


def test_what_is_left_as_it_is_is_not_asked_again(couple: Couple) -> None:
    first = couple.calendar()
    assert couple.type('setup --exceptions "2026-03-02 home"').code == 0
    for _ in first:
        assert couple.run("visits", *DAYS, "--leave").code == 0
    assert "Would be better" not in couple.visits().out
    assert couple.calendar() == first
    assert "no change number 1" in couple.run("visits", *DAYS, "--agreed").err


def test_one_undo_takes_back_one_telling_and_a_draft_tells_nobody(couple: Couple) -> None:
    assert couple.run("sheet", *DAYS, "--draft").code == 0
    assert couple.told() == []
    couple.run("sheet", *DAYS)
    assert couple.told()
    couple.run("undo")
    assert couple.told() == []
    assert "Nobody was told of " in couple.visits().out


def test_without_the_file_nobody_was_told(couple: Couple, tmp_path: Path) -> None:
    assert couple.run("visits", *DAYS, "--ics", str(tmp_path / "no" / "such.ics")).code != 0
    assert couple.told() == []


def test_agreements_go_out_and_come_back_with_the_log(couple: Couple, tmp_path: Path) -> None:
    couple.calendar()
    before = couple.told()
    lines = tmp_path / "log.csv"
    assert couple.run("export", "--csv", str(lines)).code == 0
    other = Couple(tmp_path / "other", couple.capsys, couple.now)
    assert other.type(SET_UP).code == 0
    done = other.run("import", str(lines), "--yes")
    assert done.code == 0, done.err
    assert other.told() == before
