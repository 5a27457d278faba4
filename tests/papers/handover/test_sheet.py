"""The handover sheet: what it says, at 80 columns, and as one page."""

from __future__ import annotations

import re
import shutil
import subprocess
from datetime import UTC, datetime
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len

from pottyboard.core.away.outlook import outlook
from pottyboard.core.away.visits import plan_visits
from pottyboard.core.health.emergency import CARE, SIGNS
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.model.settings import Settings
from pottyboard.papers.handover.sheet import MOST_LINES, Sheet, SheetError, sheet, sheet_text
from pottyboard.papers.handover.sheet_page import sheet_page
from pottyboard.papers.handover.visit_list import outlook_list, visit_list

NOW = datetime(2026, 3, 2, 5, tzinfo=UTC)


def household(**answers: str) -> Settings:
    """Return a household in Oslo, away 08:30 to 17:00 on working days, visited by Mina."""
    given = {
        "arrived": "2026-03-02 05:00", "absent-from": "1", "workdays": "mon-fri",
        "helpers": "Mina 8:00-18:00 10", "name": "Bramble", "weight": "8",
        "spot": "by the hedge", "cue": "go busy",
    }  # fmt: skip
    given |= {key.replace("_", "-"): text for key, text in answers.items()}
    return settings_from(default_answers(NOW, "Europe/Oslo") | given, NOW)


def page(interval: float = 150, days: int = 7, helper: str = "", **answers: Any) -> Sheet:
    settings = household(**answers)
    return sheet(settings, plan_visits(settings, NOW, interval, days=days), NOW, helper=helper)


def longest() -> Sheet:
    """Return a sheet that fills its page: long names, a long spot, visits that differ daily."""
    own = "; ".join(
        f"P {day} 0{6 + turn % 3}:{turn * 5:02}-17:{30 + turn * 3}"
        for turn, day in enumerate(("mon", "tue", "wed", "thu"))
    )
    return page(
        120, name="Wwwwwwwwww " * 3 + "Wwwwww", people="P", own_hours=own, spot="W" * 60,
        cue="m" * 30, pads="yes", meals="06:00,19:30", up="05:30",
        numbers=f"{'V' * 26} vet 01632 960001; {'W' * 30} 01632 960003; P 01632 960004",
        helpers="Awww 6:00-14:20 10; Bwww 12:00-20:20 11",
    )  # fmt: skip


def full() -> Sheet:
    """Return the fullest sheet that is not set close yet."""
    own = "; ".join(
        f"P {day} 0{6 + turn % 3}:{turn * 5:02}-17:{30 + turn * 3}"
        for turn, day in enumerate(("mon", "tue", "wed", "thu"))
    )
    made = page(
        120, name="Wwww", people="P", own_hours=own, spot="W" * 60, cue="m" * 30, pads="yes",
        meals="06:00,19:30", up="05:30", numbers="Vet 01632 960001; P 01632 960004",
        helpers="Awww 6:00-14:20 10; Bwww 12:00-20:20 11",
    )  # fmt: skip
    assert sheet_text(made).count("\n") == 64
    return made


# --- What it says ---------------------------------------------------------------------------------


def test_it_says_when_how_and_whom_to_call() -> None:
    text = sheet_text(page())
    for said in (
        "Mon 2 to Fri 6 Mar", "Mina 10:30, 12:30, 14:45; we are back at 17:00",
        "Sat 7 to Sun 8 Mar        no visit", "by the hedge", '"go busy"', "up to 5 min",
        "praise at once", "try again after 15 min", "no\n  scolding", "never ammonia",
        "12:10 pee, 12:14 poop, water, all calm", "sniffing about, circling, pacing, whining",
        "straining to pass stool", "Household                 ____",
        "break at least every 2 h 30", "07:00, 17:30",
    ):  # fmt: skip
        assert said in text, said


def test_every_sign_of_an_emergency_comes_before_all_else_that_is_to_do() -> None:
    """The helper is alone with the dog. First aid is from memory, straining texvetpets.org."""
    text = " ".join(sheet_text(page()).split())
    assert len(SIGNS) == 7
    for said in (*SIGNS, *CARE):
        assert said in text
        assert text.index(said) < text.index("ON ARRIVAL")


def test_the_helper_is_told_how_not_to_be_bitten() -> None:
    """Common practice, no source."""
    text = " ".join(sheet_text(page()).split())
    for said in (
        "Let it come to you: no reaching over, no cornering, no taking food away",
        "growls, hides or blocks the door: stop, step back, call us",
        "Lead on before the door opens", "never drag it by the collar", "never mix cleaners",
        "never tethered alone",
    ):  # fmt: skip
        assert said in text, said


def test_it_says_that_it_tells_when_the_home_is_empty() -> None:
    for text in (sheet_text(page()), sheet_page(page())):
        plain = " ".join(text.split())
        assert "tells when the home is empty" in plain
        assert "No address belongs on it" in plain


def test_only_the_days_asked_for_and_at_most_a_week() -> None:
    text = sheet_text(page(days=2))
    assert "Mon 2 to Tue 3 Mar" in text
    assert "4 Mar" not in text
    with pytest.raises(SheetError, match="ask for fewer"):
        page(days=8)


def test_one_helper_s_sheet_holds_that_helper_s_visits_alone() -> None:
    helpers = "Mina 8:00-12:00 10; Otto 12:00-18:00 8"
    both = sheet_text(page(helpers=helpers, days=1))
    assert "Mina 10:30; Otto 12:30, 14:45;" in both
    otto = sheet_text(page(helpers=helpers, days=1, helper="Otto"))
    assert "12:30, 14:45; we are back at 17:00" in otto
    assert "Mina" not in otto
    assert "10:30" not in otto


def test_more_than_a_page_is_refused() -> None:
    own = "; ".join(
        f"P {day} 06:{turn:02}-18:{turn:02}"
        for turn, day in enumerate(("mon", "tue", "wed", "thu", "fri", "sat", "sun"))
    )
    helpers = "; ".join(f"{letter * 28} 5:00-20:00 {cost}" for cost, letter in enumerate("AB"))
    with pytest.raises(SheetError, match="Too much for one page"):
        page(45, people="P", own_hours=own, helpers=helpers, name="W" * 40)


def test_no_advice_that_harms() -> None:
    text = " ".join(sheet_text(page(pads="yes")).split()).lower()
    assert "never less water" in text
    assert "no punishment" in text
    for word in ("rub", "nose in", "diagnos", "anxiety"):
        assert word not in text


NUMBERS = (
    "Vet 01632 960001; Night vet 01632 960002; Ada 01632 960003; Mina 01632 960004; Bo 01632 960005"
)
"""Of a range that no telephone has: Ofcom, Numbers for drama."""


def test_the_numbers_that_are_known_stand_on_it_and_blanks_for_the_others() -> None:
    lines = sheet_text(page(numbers=NUMBERS, people="Ada")).splitlines()
    at = lines.index("PHONE NUMBERS")
    assert lines[at + 1 : at + 5] == [
        "  Vet                       01632 960001",
        "  Night vet                 01632 960002",
        "  Household                 Ada 01632 960003",
        "  Others (who has a key?)   Mina 01632 960004; Bo 01632 960005",
    ]
    blank = sheet_text(page(numbers="Night vet 01632 960002")).splitlines()
    at = blank.index("PHONE NUMBERS")
    assert blank[at + 1 : at + 5] == [
        "  Night vet                 01632 960002",
        f"  Vet                       {'_' * 40}",
        f"  Household                 {'_' * 40}",
        f"  Who else has a key        {'_' * 40}",
    ]
    made = sheet_page(page(numbers="V<b>et 01632 960001; vet 01632 960002"))
    assert "V&lt;b&gt;et 01632 960001" in made
    assert "V<b>" not in made


def test_a_helper_s_own_number_is_not_on_the_helper_s_sheet() -> None:
    assert "01632 960004" not in sheet_text(page(numbers=NUMBERS, helper="Mina"))
    assert "01632 960001" in sheet_text(page(numbers=NUMBERS, helper="Mina"))


# --- As text --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "answers",
    [{}, {"name": "日本の犬" * 8, "spot": "庭の隅" * 15}, {"spot": "x" * 60, "cue": "y" * 30},
     {"name": "é" * 40}, {"pads": "yes", "cue": "", "spot": ""}],
)  # fmt: skip
def test_no_line_is_wider_than_80_columns_and_it_is_one_page(answers: dict[str, Any]) -> None:
    text = sheet_text(page(**answers))
    assert max(cell_len(line) for line in text.splitlines()) <= 80
    assert text.count("\n") <= MOST_LINES
    assert not any(line.endswith(" ") for line in text.splitlines())


def test_the_longest_sheet_fills_its_page() -> None:
    assert MOST_LINES - 4 <= sheet_text(longest()).count("\n") <= MOST_LINES


def test_commands_for_a_terminal_are_taken_out() -> None:
    settings = household()
    text = sheet_text(page(name="Br[/b]amble"))
    assert "BR[/B]AMBLE" in text
    assert "\x1b" not in sheet_text(sheet(settings, plan_visits(settings, NOW, 120, days=1), NOW))


# --- As a page ------------------------------------------------------------------------------------


class Tags(HTMLParser):
    """Counts what is opened and closed, and what would be loaded or run."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.loads: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in ("meta", "br"):
            self.open.append(tag)
        if tag in ("script", "img", "link", "iframe", "object"):
            self.loads.append(tag)
        self.loads += [name for name, _ in attrs if name in ("src", "href") or name[:2] == "on"]

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@pytest.mark.parametrize("name", ["Bramble", "<script>x</script>&\"'", "</style><b>"])
def test_the_page_is_whole_and_loads_nothing(name: str) -> None:
    made = sheet_page(page(name=name, spot="<img src=x onerror=y>"))
    tags = Tags()
    tags.feed(made)
    assert tags.open == []
    assert tags.loads == []
    assert "url(" not in made
    assert "@import" not in made
    assert "<script" not in made


@pytest.mark.skipif(shutil.which("chromium") is None, reason="no Chromium to print with")
@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_real_browser_prints_it_on_one_page(size: str, tmp_path: Path) -> None:
    for name, made in (("usual", page()), ("full", full()), ("longest", longest())):
        source = tmp_path / f"{name}.html"
        html = sheet_page(made).replace("@page { ", f"@page {{ size: {size}; ")
        source.write_text(html, encoding="utf-8")
        printed = tmp_path / f"{name}.pdf"
        subprocess.run(
            ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
             "--disable-background-networking", "--disable-component-update", "--disable-sync",
             f"--user-data-dir={tmp_path}/profile", "--no-pdf-header-footer",
             f"--print-to-pdf={printed}", str(source)],
            check=True, capture_output=True, timeout=90,
        )  # fmt: skip
        assert len(re.findall(rb"/Type\s*/Page\b", printed.read_bytes())) == 1, name


# --- The list -------------------------------------------------------------------------------------


def test_the_list_of_visits_says_who_comes_and_what_cannot_be_covered() -> None:
    settings = household(helpers="Mina 10:00-13:00 10; Otto 9:00-9:30 3")
    text = visit_list(settings, plan_visits(settings, NOW, 150, days=6))
    assert "Mon 02 Mar, day 1: alone 08:30 to 17:00, 2 visits, 20.00" in text
    assert "  12:40  Mina, 10.00: " in text
    assert "  ! no break from 12:40 to 17:00: 4 h 20, 1 h 50 too long" in text
    assert "    be back by 15:10, 1 h 50 earlier, or one more helper" in text
    assert "Sat 07 Mar, day 6: somebody is home" in text
    assert "These 6 days: 10 visits, 100.00, 5 days not covered" in text
    assert "  08:15  break before leaving" in text


def test_the_outlook_says_not_covered_and_no_price_where_nobody_comes() -> None:
    lines = outlook_list(outlook(household(helpers=""), NOW, 120)).splitlines()
    assert lines[3].split() == ["1", "Mon", "02", "Mar", *["2", "h", "NOT", "COVERED"] * 2]
    assert max(map(len, lines)) <= 80


def test_the_outlook_as_a_table() -> None:
    settings = household()
    text = outlook_list(outlook(settings, NOW, 120))
    lines = text.splitlines()
    assert lines[3].startswith("  1 Mon 02 Mar    2 h   4    40.00")
    assert len(lines) == 3 + 14 + 3
    assert "*" in lines[6]
    assert lines[8] == "  6 Sat 07 Mar    3 h                              2 h"
    assert max(map(len, lines)) <= 80
