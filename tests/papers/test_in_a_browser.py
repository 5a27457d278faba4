"""Every HTML paper in a real browser: no request leaves, and nothing is cut off where it is narrow.

What needs no browser is checked beside it: no paper names anything that could be loaded.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable
from datetime import timedelta
from functools import cache
from pathlib import Path
from typing import Final

import pytest

from pottyboard.core.away.overview import away_situation
from pottyboard.core.review.diary import diary
from pottyboard.core.review.report import review
from pottyboard.core.view.situation import situation
from pottyboard.papers.handover.fridge import fridge, fridge_page
from pottyboard.papers.handover.sheet import sheet
from pottyboard.papers.handover.sheet_page import sheet_page
from pottyboard.papers.lookback.diary import diary_paper
from pottyboard.papers.lookback.diary_page import diary_page
from pottyboard.papers.lookback.review_page import review_page
from pottyboard.store.samples import read_sample
from tests.papers.test_page import Seen

BROWSER = pytest.mark.skipif(shutil.which("chromium") is None, reason="no Chromium to look with")


@cache
def made(name: str) -> str:
    """Return a paper of the sample Odin, whose people work away from home."""
    sample = read_sample("odin")
    settings, log = sample.settings, sample.events
    now = max(event.at for event in log) + timedelta(minutes=5)
    view = situation(settings, log, now)
    papers: dict[str, Callable[[], str]] = {
        "review": lambda: review_page(review(settings, log, now)),
        "diary": lambda: diary_page(diary_paper(diary(settings, log, now))),
        "sheet": lambda: sheet_page(sheet(settings, away_situation(settings, log, now).plan, now)),
        "fridge": lambda: fridge_page(
            fridge(view, view.date, view.timeline, ("Vet 01632 960001",))
        ),
    }
    return papers[name]()


PAPERS: Final = ("review", "diary", "sheet", "fridge")


@pytest.mark.parametrize("name", PAPERS)
def test_a_paper_names_nothing_that_could_be_loaded_or_run(name: str) -> None:
    source = made(name)
    seen = Seen(source)
    assert seen.open == []
    assert not {"script", "img", "link", "iframe", "object", "a"} & {tag for tag, _ in seen.tags}
    assert not re.search(r"url\(|@import|://|\b(?:src|href|srcset)=", source)
    (policy,) = [
        attrs["content"] for attrs in seen.named("meta") if attrs.get("http-equiv") is not None
    ]
    assert "default-src 'none'" in str(policy)


@pytest.mark.parametrize("name", PAPERS)
def test_no_row_of_a_table_is_parted_by_a_page(name: str) -> None:
    assert "tr { break-inside: avoid; }" in made(name)


@pytest.mark.parametrize("name", PAPERS)
def test_a_cell_of_a_table_names_its_heading(name: str) -> None:
    seen = Seen(made(name))
    tables = list(seen.named("table"))
    if name in ("review", "diary"):
        heads = [attrs for attrs in seen.named("td") if attrs.get("data-head")]
        assert len(heads) > 100
    assert tables


# --- In a browser ---------------------------------------------------------------------------------

PROBE: Final = """<script>addEventListener('load', () => {
  const cut = [...document.querySelectorAll('.wide, .plot')].filter(
    one => one.scrollWidth > one.clientWidth + 1).length;
  const beyond = [...document.querySelectorAll('body *')].filter(
    one => one.getBoundingClientRect().right > innerWidth + 1).length;
  document.title = [document.documentElement.scrollWidth, innerWidth, cut, beyond,
    performance.getEntriesByType('resource').length].join(' ');
});</script></body>"""
"""The browser itself says what is too wide and what was asked for; added for the test alone."""


def looked_at(source: str, width: int, folder: Path) -> list[int]:
    """Return the width of the page and of the window, how many parts scroll sideways, how many
    reach beyond the window, and how many things the page has asked for."""
    html = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", source)
    file = folder / "paper.html"
    file.write_text(html.replace("</body>", PROBE), encoding="utf-8")
    shown = subprocess.run(
        ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync",
         "--hide-scrollbars", "--host-resolver-rules=MAP * ~NOTFOUND",
         f"--user-data-dir={folder}/profile", f"--window-size={width},900", "--dump-dom",
         str(file)],
        check=True, capture_output=True, timeout=90, text=True,
    ).stdout  # fmt: skip
    found = re.search(r"<title>([\d ]+)</title>", shown)
    assert found is not None
    return [int(number) for number in found[1].split()]


@BROWSER
@pytest.mark.parametrize("width", [390, 500, 1280])
@pytest.mark.parametrize("name", PAPERS)
def test_no_request_leaves_and_the_whole_paper_is_in_sight(
    name: str, width: int, tmp_path: Path
) -> None:
    page, window, cut, beyond, asked = looked_at(made(name), width, tmp_path)
    assert asked == 0
    assert (page <= window, cut, beyond) == (True, 0, 0)


@BROWSER
def test_the_probe_sees_a_request_and_what_is_too_wide(tmp_path: Path) -> None:
    asks = '<link rel="stylesheet" href="http://127.0.0.1:9/other.css">'
    bad = made("fridge").replace("</body>", f'{asks}<p style="width: 900px">x</p></body>')
    page, window, _, beyond, asked = looked_at(bad, 390, tmp_path)
    assert page > window
    assert (beyond > 0, asked > 0) == (True, True)
