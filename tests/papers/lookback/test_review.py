"""The review as text and as a page: whole, honest about hostile notes, and seen by a browser."""

from __future__ import annotations

import dataclasses
import re
import shutil
import struct
import subprocess
import time
import zlib
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

import pytest
from msgspec.structs import replace
from rich.cells import cell_len

from pottyboard.core.engine.history import History
from pottyboard.core.model.events import Event
from pottyboard.core.review.report import Review, review
from pottyboard.papers.lookback.charts import Bar, Bars, bars_plot, outings_by_hour, waits_plot
from pottyboard.papers.lookback.review import parts, review_text
from pottyboard.papers.lookback.review_page import review_page
from pottyboard.papers.lookback.review_tables import hours_table
from pottyboard.store.samples import read_sample
from tests.core.diary import CLEAR_DAY, diary
from tests.papers.test_page import HOSTILE, Seen

SAMPLES = ("fern", "odin", "wren")
BROWSER = pytest.mark.skipif(shutil.which("chromium") is None, reason="no Chromium to look with")


@cache
def of_sample(name: str) -> Review:
    sample = read_sample(name)
    now = max(event.at for event in sample.events) + timedelta(minutes=5)
    return review(sample.settings, sample.events, now)


@cache
def hostile() -> Review:
    """The review of a log in which every text that somebody can type is an attack."""
    sample = read_sample("fern")
    settings = sample.settings
    dog = replace(settings.dog, name=f"Rex{HOSTILE}")
    home = replace(settings.home, people=(f"A{HOSTILE}",), spot=HOSTILE, cue=HOSTILE)
    attacked = tuple(
        dataclasses.replace(
            event,
            note=HOSTILE,
            by=f"A{HOSTILE}",
            place=f"{event.place}{HOSTILE}" if event.row.is_accident else event.place,
        )
        for event in sample.events
    )
    now = max(event.at for event in attacked) + timedelta(minutes=5)
    return review(replace(settings, dog=dog, home=home), attacked, now)


def long_diary(days: int, **settings: object) -> Review:
    """A review of many clear days, each as in the household's diary."""
    page = diary(**settings)  # type: ignore[arg-type]
    for day in range(1, days + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return review(page.settings, page.entries, page.on(days + 1).instant("07:00"))


# --- As text --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SAMPLES)
def test_no_line_is_wider_than_80_columns(name: str) -> None:
    text = review_text(of_sample(name))
    assert max(cell_len(line) for line in text.splitlines()) <= 80
    assert not any(line.endswith(" ") for line in text.splitlines())


def test_wide_and_hostile_names_fit_too() -> None:
    for found in (hostile(), of_sample("odin")):
        dog = replace(found.settings.dog, name="日本の犬" * 8)
        shown = replace(found, settings=replace(found.settings, dog=dog))
        text = review_text(shown)
        assert max(cell_len(line) for line in text.splitlines()) <= 80
        assert "\x1b" not in text
        assert "\u202e" not in text


def test_it_names_the_dog_and_says_what_it_is_for() -> None:
    text = review_text(of_sample("odin"))
    assert text.startswith("Odin: review, Sat 9 to Thu 21 May 2026\n")
    titles = (
        "IN SHORT", "THE DAYS", "THE INTERVAL", "HOW LONG IT CAN WAIT", "THE ACCIDENTS", "PATTERNS",
        "WHAT WAS REACHED", "THE WEEKS AHEAD", "ON A RELAPSE", "THE NUMBERS",
    )  # fmt: skip
    for title in titles:
        assert f"\n{title}\n" in text


def test_nothing_is_promised_that_two_weeks_cannot_show() -> None:
    text = " ".join(review_text(long_diary(14)).split())
    assert (
        "up to 19% of days kept like them there could still be an accident (95% sure)" in text
    )  # none in 14: 1 - 0.05 ** (1 / 14)
    assert "Retraining an adult dog takes 6 to 8 weeks" in text
    assert "42 days" in text
    assert "60 days" in text
    for word in ("is house-trained now", "cured", "diagnos", "anxiety", "punish"):
        assert word not in text.lower()


def test_no_pattern_is_denied_before_there_is_a_log() -> None:
    page = diary()
    text = review_text(review(page.settings, page.entries, page.instant("10:00")))
    assert "Too few entries yet to look for a pattern." in text
    assert "stands out" not in text


def test_statistics_stand_in_their_own_part_and_nowhere_else() -> None:
    words = r"regularity|95 ?%|Rayleigh|Holm|Kendall|binomial|limits of the mean"
    found = {
        part.title: re.findall(words, f"{part.sentences} {part.tables}")
        for part in parts(of_sample("fern"))
    }
    family = {"The days", "The interval", "How long it can wait", "Patterns", "The numbers"}
    assert not any(found[title] for title in family)
    assert {"regularity", "Holm"} <= set(found["For those who want the statistics"])


def test_rounds_stand_side_by_side() -> None:
    page = diary()
    for day in range(1, 6):
        page = page.on(day).all_at(*CLEAR_DAY)
    page = page.on(6).all_at(*CLEAR_DAY).at("07:30", "round")
    found = review(page.settings, page.entries, page.on(7).instant("07:00"))
    assert [one.number for one in found.rounds] == [1, 2]
    assert [one.days for one in found.rounds] == [5, 2]
    text = review_text(found)
    assert "ROUND BESIDE ROUND" in text
    assert "ROUND BESIDE ROUND" not in review_text(long_diary(5))


def test_days_before_stand_beside() -> None:
    found = of_sample("odin")
    again = review(
        found.settings, read_sample("odin").events, found.now,
        found.numbers.first + timedelta(days=7), 6,
    )  # fmt: skip
    assert again.before is not None
    assert (again.before.first, again.before.days) == (
        found.numbers.first + timedelta(days=1), 6
    )  # fmt: skip
    table = next(part for part in parts(again) if part.title == "The numbers").tables[0]
    assert table.heads == ("what", "Sun 10 to Fri 15 May", "Sat 16 to Thu 21 May")


# --- As a page ------------------------------------------------------------------------------------


@pytest.mark.parametrize("found", [*map(of_sample, SAMPLES), hostile()], ids=[*SAMPLES, "hostile"])
def test_the_page_is_whole_and_loads_nothing(found: Review) -> None:
    source = review_page(found)
    seen = Seen(source)
    assert seen.open == []
    tags = {tag for tag, _ in seen.tags}
    assert not {"script", "img", "link", "iframe", "object", "use", "image", "a"} & tags
    names = {name for _, attrs in seen.tags for name in attrs}
    assert not {"src", "href", "xlink:href", "srcset", "style"} & names
    assert not any(name.startswith("on") for name in names)
    assert "url(" not in source
    assert "@import" not in source
    assert "://" not in source
    assert "\x1b" not in source


def test_hostile_notes_make_no_element() -> None:
    plain, attacked = Seen(review_page(of_sample("fern"))), Seen(review_page(hostile()))
    assert {tag for tag, _ in plain.tags} == {tag for tag, _ in attacked.tags}
    assert any("alert(1)" in said for said in attacked.said)


@pytest.mark.parametrize("name", SAMPLES)
def test_the_page_says_what_the_text_says(name: str) -> None:
    found = of_sample(name)
    said = " ".join(" ".join(Seen(review_page(found)).said).split())
    for part in parts(found):
        assert part.title in said
        for words in part.sentences:
            assert " ".join(words.split()) in said
        for cell in (cell for table in part.tables for row in table.rows for cell in row):
            assert " ".join(cell.split()) in said


def test_every_drawing_has_a_title_and_a_description() -> None:
    seen = Seen(review_page(of_sample("fern")))
    drawings = list(seen.named("svg"))
    assert [drawing["class"] for drawing in drawings] == [
        "rows", "narrow", "small", "small", "small", "small", "small", "dial",
    ]  # fmt: skip
    ids = {attrs.get("id") for attrs in (*seen.named("title"), *seen.named("desc"))}
    for drawing in drawings:
        assert drawing["role"] == "img"
        labels = (drawing["aria-labelledby"] or "").split()
        assert len(labels) == 2
        assert set(labels) <= ids


@pytest.mark.parametrize("name", SAMPLES)
def test_who_does_not_see_the_bars_hears_every_number_of_them(name: str) -> None:
    found = of_sample(name)
    said = outings_by_hour(found.by_hour).said
    for row in hours_table(found).rows:
        hour, _, came, nothing, indoors = row
        accidents = f"{indoors} accident{'' if indoors == '1' else 's'}"
        words = f"{hour[:2]}: {came} something came, {nothing} nothing came, {accidents}"
        assert words in said
    assert said.count(";") == len(hours_table(found).rows) - 1


def test_bars_stand_for_their_numbers_and_no_mark_leaves_the_drawing() -> None:
    bars = Bars(
        "x", "t", "c", ("in", "out"), (Bar("a", 4, 2, 7), Bar("b", 0, 0, 1), Bar("c", 8, 0, 0))
    )
    drawn = bars_plot(bars)
    boxes = re.findall(r'<rect x="[\d.]+" y="([\d.]+)" [^>]*height="([\d.]+)" class="(\w+)"', drawn)
    full = [float(tall) for _, tall, kind in boxes if kind == "bar"]
    (hollow,) = [float(tall) for _, tall, kind in boxes if kind == "hollow"][:1]
    assert full[0] == pytest.approx(full[1] / 2, abs=0.1)
    assert hollow == pytest.approx(full[1] / 4, abs=0.1)
    assert drawn.count('class="accident"') == 4 + 1 + 1  # of seven four and the number, the legend
    assert ">7<" in drawn
    assert min(float(top) for top, _, _ in boxes) >= 0
    assert all(float(y) >= 8 for y in re.findall(r'd="M[\d.]+ (-?[\d.]+)l', drawn))
    assert all(float(y) >= 8 for y in re.findall(r'<text x="[\d.]+" y="(-?[\d.]+)"', drawn))


def test_the_bar_of_a_single_day_is_no_broader_than_others() -> None:
    drawn = bars_plot(Bars("x", "t", "c", ("in", "out"), (Bar("a", 4, 0, 0),)))
    (broad,) = re.findall(r'width="([\d.]+)" height="[\d.]+" class="bar"/><', drawn)[:1]
    assert float(broad) <= 26


def test_nothing_at_all_is_a_drawing_too() -> None:
    assert "<svg" in bars_plot(Bars("x", "t", "c", ("in", "out"), ()))
    assert "0 waits by day" in waits_plot((), [(datetime(2026, 3, 2, tzinfo=UTC).date(), 120)])


# --- In a browser ---------------------------------------------------------------------------------


def browse(folder: Path, html: str, *words: str) -> bytes:
    """Open a page in a real browser that reaches no network; return what it printed."""
    source = folder / "review.html"
    source.write_text(html, encoding="utf-8")
    return subprocess.run(
        ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync",
         "--hide-scrollbars", "--host-resolver-rules=MAP * ~NOTFOUND",
         f"--user-data-dir={folder}/profile", *words, str(source)],
        check=True, capture_output=True, timeout=90,
    ).stdout  # fmt: skip


@BROWSER
def test_it_prints_on_a_few_pages(tmp_path: Path) -> None:
    printed = tmp_path / "review.pdf"
    browse(tmp_path, review_page(of_sample("fern")), "--no-pdf-header-footer",
           f"--print-to-pdf={printed}")  # fmt: skip
    assert 5 <= len(re.findall(rb"/Type\s*/Page\b", printed.read_bytes())) <= 9


@BROWSER
@pytest.mark.parametrize("width", [390, 1280])
def test_nothing_is_asked_for_and_only_tables_and_rows_scroll_sideways(
    width: int, tmp_path: Path
) -> None:
    # The browser itself says how wide the page is; the probe is added for the test alone.
    probe = (
        "<script>addEventListener('load', () => { document.title ="
        " document.documentElement.scrollWidth + ' of ' + innerWidth + ', loaded '"
        " + performance.getEntriesByType('resource').length; });</script></body>"
    )
    html = review_page(hostile()).replace("</body>", probe)
    html = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", html)
    shown = browse(tmp_path, html, f"--window-size={width},900", "--dump-dom").decode()
    found = re.search(r"<title>(\d+) of (\d+), loaded (\d+)</title>", shown)
    assert found is not None
    assert int(found[1]) <= int(found[2])
    assert int(found[3]) == 0


@BROWSER
@pytest.mark.parametrize(("scheme", "dark"), [("1", False), ("0", True)])
def test_it_is_light_or_dark_as_the_reader_has_it(scheme: str, dark: bool, tmp_path: Path) -> None:
    shot = tmp_path / "review.png"
    browse(tmp_path, review_page(of_sample("fern")), "--window-size=390,700",
           f"--blink-settings=preferredColorScheme={scheme}", f"--screenshot={shot}")  # fmt: skip
    assert (sum(corner(shot.read_bytes())) < 3 * 64) is dark


def corner(png: bytes) -> tuple[int, int, int]:
    """Return the colour of the first pixel of a PNG."""
    at, packed = 8, b""
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        if png[at + 4 : at + 8] == b"IDAT":
            packed += png[at + 8 : at + 8 + length]
        at += 12 + length
    red, green, blue = zlib.decompress(packed)[1:4]
    return red, green, blue


# --- A long log -----------------------------------------------------------------------------------


def test_a_long_log_costs_no_more_than_its_days() -> None:
    """A year against two months: the cost grows with the log, not faster (see .bench/review.py)."""

    def seconds(days: int) -> float:
        start = datetime(2025, 1, 6, 5, 30, tzinfo=UTC)
        page = diary(on=start.date())
        clocks = [entry.split() for entry in CLEAR_DAY]
        midnight = start.replace(hour=0, minute=0) - timedelta(hours=1)  # Oslo's
        log = tuple(
            Event(
                kind,
                midnight + timedelta(days=day, hours=int(at[:2]), minutes=int(at[3:])),
                id=f"{day}-{number}",
            )
            for day in range(days)
            for number, (at, kind) in enumerate(clocks)
        )
        History._last = None
        begun = time.process_time()
        review(page.settings, log, log[-1].at)
        return time.process_time() - begun

    short, long = seconds(61), seconds(366)
    assert long < 12 * short
