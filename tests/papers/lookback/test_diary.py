"""The health diary for the vet: what it says, at 80 columns, as a page, and through a browser."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from msgspec.structs import replace
from rich.cells import cell_len

from pottyboard.core.review.diary import diary as diary_of
from pottyboard.papers.lookback.diary import BLANKS, Paper, diary_paper, diary_text
from pottyboard.papers.lookback.diary_page import diary_page
from pottyboard.store.samples import read_sample
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary
from tests.papers.test_page import HOSTILE, Seen


def paper(page: Diary, clock: str = "12:00") -> Paper:
    return diary_paper(diary_of(page.settings, page.entries, page.instant(clock)))


def of_sample(name: str) -> Paper:
    sample = read_sample(name)
    now = max(event.at for event in sample.events)
    return diary_paper(diary_of(sample.settings, sample.events, now))


def eventful() -> Diary:
    """Return a week with an accident, a health note, a bowl and a warning that was noted."""
    page = diary(kg=10, sex="male", neutered=False)
    for day in range(2, 7):
        page = page.on(day).all_at(*CLEAR_DAY)
    page = page.at("12:00", "pee-inside", found=True, place="hall", note="by the mat").on(7)
    page = page.at("06:30", "bowl", ml=1000).all_at(*CLEAR_DAY)
    page = page.at("10:00", "health", finding="blood", note="pink, once", by="Mina")
    page = page.at("10:30", "noted", about="blood", note="vet rung", by="Mina")
    page = page.at("11:30", "note", note="the neighbour's key is under the pot", by="Otto")
    return page.at("22:30", "bowl", rest=400).on(8).all_at(*MORNING)


def hostile() -> Diary:
    """Return a log in which every text that a person can write is an attack."""
    page = eventful()
    page = page.at("07:00", "pee-inside", found=True, place=HOSTILE, note=HOSTILE)
    page = page.at("08:00", "health", finding="pain", note=HOSTILE)
    return page.at("09:00", "noted", about="pain", note=HOSTILE)


# --- What it says ---------------------------------------------------------------------------------


def test_the_title_names_dog_weight_age_and_period() -> None:
    found = paper(eventful())
    assert found.title == "Bramble, 10 kg, adult: health diary, Mon 2 to Mon 9 Mar 2026"
    assert "The household's log, and no diagnosis" in found.about
    assert "Male, not neutered, in this home since Mon 2 Mar 2026" in found.about
    assert "Europe/Oslo" in found.about
    assert "under 12 months" in paper(diary(age="young")).title
    assert found.made == "made Mon 9 Mar 2026 12:00"


def test_the_row_of_a_day_holds_what_was_logged_on_it() -> None:
    text = diary_text(paper(eventful()))
    table = text[text.index("DAY BY DAY") :]
    row = next(line for line in table.splitlines() if line.startswith("Sun 8 Mar"))
    entries = [e for e in eventful().entries if f"{e.at:%d}" == "08"]
    pees = sum("pee" in e.row.resets for e in entries)
    stools = sum("poop" in e.row.resets for e in entries)
    assert row.split() == ["Sun", "8", "Mar", str(pees), str(stools), "-", "-", "600", "60",
                           "07:00", "17:30"]  # fmt: skip
    assert re.search(r"^Sat 7 Mar +11 \(1 in\) ", text, re.MULTILINE)
    assert "* Mon 9 Mar: not over yet; its counts are the least there was." in text


def test_accidents_notes_and_warnings_with_what_the_household_said() -> None:
    text = " ".join(diary_text(paper(eventful())).split())
    assert "Sat 7 Mar 12:00 pee indoors" in text
    assert "found, hall," in text
    assert "“by the mat”" in text
    assert "Sun 8 Mar 10:00 blood “pink, once”" in text
    assert "Sun 8 Mar 10:00, call a vet soon: Blood: Sun 8 Mar 10:00." in text
    assert "Noted by the household Sun 8 Mar 10:30: “vet rung”" in text


def test_neither_who_logged_it_nor_other_notes_leave_the_house() -> None:
    for text in (diary_text(paper(eventful())), diary_page(paper(eventful()))):
        assert "key" not in text
        assert "Mina" not in text
        assert "Otto" not in text
        assert "read it through before" in " ".join(text.split())


def test_what_is_not_known_says_so() -> None:
    text = " ".join(diary_text(paper(diary())).split())
    for said in ("None was raised in these days.", "Not known yet: 0 days with enough entries",
                 "By day: not known.", "No night is over yet.", "None in these days."):  # fmt: skip
        assert said in text


def test_a_day_without_an_entry_has_no_counts() -> None:
    found = paper(diary().on(2).all_at(*CLEAR_DAY).on(4).all_at(*MORNING))
    text = diary_text(found)
    assert re.search(r"^Wed 4 Mar \*( +-){7}$", text, re.MULTILINE)
    assert "* Wed 4 Mar: nothing was logged." in text


def test_days_in_a_row_without_an_entry_are_one_line() -> None:
    page = diary().on(2).all_at(*CLEAR_DAY).on(5).all_at(*CLEAR_DAY).on(7).all_at(*MORNING)
    starred = [line for line in diary_text(paper(page)).splitlines() if line.startswith("* ")]
    assert starred[:3] == [
        "* Mon 2 Mar: nothing was logged.",
        "* Wed 4 to Thu 5 Mar: nothing was logged.",
        "* Sat 7 Mar: nothing was logged.",
    ]


def test_every_threshold_with_its_source() -> None:
    text = " ".join(diary_text(paper(diary())).split())
    assert "water, much, over 100 mL/kg/day: McGrotty and Randell, In Practice 2019" in text
    assert "(published)" in text
    assert "common practice, no source" in text
    assert "our own choice" in text


@pytest.mark.parametrize("name", ["fern", "odin", "wren"])
def test_no_line_is_wider_than_80_columns(name: str) -> None:
    for found in (of_sample(name), paper(hostile())):
        lines = diary_text(found).splitlines()
        assert max(map(cell_len, lines)) <= 80
        assert not any(line.endswith(" ") for line in lines)


def test_no_diagnosis_and_no_harmful_advice() -> None:
    for name in ("fern", "odin"):
        text = diary_text(of_sample(name)).lower()
        for word in ("infection", "diabet", "incontinen", "anxiety", "cystitis", "surgery",
                     "less water", "punish"):  # fmt: skip
            assert word not in text


def test_there_is_room_for_the_vet() -> None:
    assert diary_text(paper(diary())).count("_" * 70) == BLANKS
    seen = Seen(diary_page(paper(diary())))
    assert sum(attrs.get("class") == "line" for attrs in seen.named("p")) == BLANKS


# --- Hostile text ---------------------------------------------------------------------------------


def test_hostile_notes_stay_text_on_the_page() -> None:
    source = diary_page(paper(hostile()))
    seen = Seen(source)
    assert seen.open == []
    assert {"script", "img", "link", "iframe"}.isdisjoint(tag for tag, _ in seen.tags)
    assert sum("alert(1)" in said for said in seen.said) == 3
    assert "\x1b" not in source
    assert "\u202e" not in source


def test_hostile_notes_command_no_terminal() -> None:
    text = diary_text(paper(hostile()))
    assert "alert(1)" in text
    assert "\x1b" not in text
    assert "\u202e" not in text


def test_a_hostile_name_is_text_in_the_title() -> None:
    page = eventful()
    named = replace(page.settings, dog=replace(page.settings.dog, name=HOSTILE))
    found = paper(replace(page, settings=named))
    seen = Seen(diary_page(found))
    assert seen.open == []
    assert "script" not in {tag for tag, _ in seen.tags}
    assert "\x1b" not in diary_text(found)


# --- As a page ------------------------------------------------------------------------------------


def test_every_table_has_a_caption_and_headings_with_a_scope() -> None:
    seen = Seen(diary_page(paper(eventful())))
    tables = sum(1 for _ in seen.named("table"))
    assert tables == sum(1 for _ in seen.named("caption")) == 5
    assert {attrs.get("scope") for attrs in seen.named("th")} == {"col", "row"}


def test_the_page_says_what_the_text_says() -> None:
    found = paper(eventful())
    said = " ".join(" ".join(Seen(diary_page(found)).said).split())
    for part in found.parts:
        assert part.title in said
        for cell in (cell for row in (part.table.rows if part.table else ()) for cell in row):
            assert " ".join(cell.split()) in said


@pytest.mark.skipif(shutil.which("chromium") is None, reason="no Chromium to print with")
@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_real_browser_prints_a_fortnight_on_a_few_pages(size: str, tmp_path: Path) -> None:
    source, printed = tmp_path / "diary.html", tmp_path / "diary.pdf"
    html = diary_page(of_sample("fern")).replace("@page { ", f"@page {{ size: {size}; ")
    source.write_text(html, encoding="utf-8")
    subprocess.run(
        ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync",
         f"--user-data-dir={tmp_path}/profile", "--no-pdf-header-footer",
         f"--print-to-pdf={printed}", str(source)],
        check=True, capture_output=True, timeout=90,
    )  # fmt: skip
    pages = len(re.findall(rb"/Type\s*/Page\b", printed.read_bytes()))
    assert 2 <= pages <= 5


@pytest.mark.skipif(shutil.which("chromium") is None, reason="no Chromium to look with")
def test_on_a_phone_only_the_tables_scroll_sideways(tmp_path: Path) -> None:
    # The browser itself says how wide the page is; the probe is added for the test alone.
    probe = (
        "<script>addEventListener('load', () => { document.title ="
        " document.documentElement.scrollWidth + ' of ' + innerWidth; });</script></body>"
    )
    html = diary_page(paper(hostile())).replace("</body>", probe)
    html = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", html)
    source = tmp_path / "diary.html"
    source.write_text(html, encoding="utf-8")
    shown = subprocess.run(
        ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync",
         f"--user-data-dir={tmp_path}/profile", "--window-size=390,800", "--dump-dom",
         str(source)],
        check=True, capture_output=True, timeout=90, text=True,
    ).stdout  # fmt: skip
    found = re.search(r"<title>(\d+) of (\d+)</title>", shown)
    assert found is not None
    assert int(found[1]) <= int(found[2])
