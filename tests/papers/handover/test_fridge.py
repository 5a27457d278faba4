"""The page for the fridge: the plan of one day, as the board itself shows it, on one page."""

from __future__ import annotations

import re
import shutil
import subprocess
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest
from msgspec import structs

from pottyboard.core.health.emergency import SIGNS
from pottyboard.core.view.situation import situation
from pottyboard.papers.handover.fridge import FridgePage, fridge, fridge_page, fridge_text
from tests.cli.shell import Shell
from tests.core.diary import DAY_1, MORNING, diary


def page(*numbers: str, name: str = "Bramble") -> FridgePage:
    """Return the page of a first day, as seen at 08:00."""
    log = diary().all_at(*MORNING)
    settings = structs.replace(log.settings, dog=structs.replace(log.settings.dog, name=name))
    view = situation(settings, log.entries, log.instant("08:00"))
    coming = [slot for slot in view.timeline if slot.status in ("due", "planned")]
    return fridge(view, DAY_1, coming, numbers)


def test_it_holds_what_the_board_plans_and_nothing_else() -> None:
    log = diary().all_at(*MORNING)
    view = situation(log.settings, log.entries, log.instant("08:00"))
    planned = [
        log.settings.clock(slot.at)
        for slot in view.timeline
        if slot.status in ("due", "planned") and slot.kind not in ("entry", "up", "bedtime")
    ]
    assert [clock for clock, _ in page().rows] == planned
    assert log.settings.clock(view.next_break.at) in planned


def test_every_sign_of_an_emergency_stands_on_it() -> None:
    said = " ".join(fridge_text(page()).split())
    assert all(sign in said for sign in SIGNS)


def test_numbers_stand_on_it_or_room_for_them() -> None:
    assert "  Vet: 01632 960001" in fridge_text(page("Vet: 01632 960001")).splitlines()
    assert "  Vet at night:" in fridge_text(page()).splitlines()


def test_it_fits_a_terminal_and_runs_no_command_of_it() -> None:
    text = fridge_text(page(name="Br\x1b[2Jamble"))
    assert "\x1b" not in text
    assert max(map(len, text.splitlines())) <= 80


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag not in ("script", "img", "link", "iframe", "object")
        assert not any(name in ("src", "href") or name.startswith("on") for name, _ in attrs)
        if tag != "meta":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_page_is_whole_and_loads_nothing() -> None:
    tags = _Tags()
    tags.feed(fridge_page(page("<img src=x>", name="<script>x</script>")))
    assert tags.open == []


@pytest.mark.skipif(shutil.which("chromium") is None, reason="no Chromium to print with")
@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_real_browser_prints_the_longest_on_one_page(size: str, tmp_path: Path) -> None:
    made = page()
    words = "break: own log, since pee, poop time, last thing"
    longest = FridgePage(
        made.title, made.about, tuple(("07:00", words) for _ in range(22)), made.sections, made.made
    )
    source, printed = tmp_path / "page.html", tmp_path / "page.pdf"
    html = fridge_page(longest).replace("@page { ", f"@page {{ size: {size}; ")
    source.write_text(html, encoding="utf-8")
    subprocess.run(
        ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
         f"--user-data-dir={tmp_path}/profile", "--no-pdf-header-footer",
         f"--print-to-pdf={printed}", str(source)],
        check=True, capture_output=True, timeout=90,
    )  # fmt: skip
    assert len(re.findall(rb"/Type\s*/Page\b", printed.read_bytes())) == 1


# --- As a command ---------------------------------------------------------------------------------


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in Bramble's home."""
    here = Shell(tmp_path / "home", capsys)
    here.set_up()
    return here


def test_today_or_tomorrow(shell: Shell) -> None:
    assert shell.type("sheet --fridge").out.startswith("BRAMBLE: MONDAY 2 MARCH\n")
    assert shell.type("sheet --fridge --from tomorrow").out.startswith("BRAMBLE: TUESDAY 3 MARCH\n")
    refused = shell.type("sheet --fridge --from 2026-03-05")
    assert (refused.code, "today or tomorrow" in refused.err) == (1, True)


def test_in_the_evening_it_is_of_tomorrow(shell: Shell) -> None:
    shell.now = shell.now.replace(hour=21, minute=20)  # 22:20 in Oslo
    assert shell.type("sheet --fridge").out.startswith("BRAMBLE: TUESDAY 3 MARCH\n")


def test_as_a_file_only_its_owner_can_read_it(shell: Shell, tmp_path: Path) -> None:
    path = tmp_path / "fridge.html"
    assert shell.run("sheet", "--fridge", "--html", str(path)).code == 0
    assert path.stat().st_mode & 0o777 == 0o600
    assert f"{date(2026, 3, 2):%A}" in path.read_text("utf-8")
