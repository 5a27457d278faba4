"""The frame of the HTML papers: whole, escaped, and with nothing to load or run."""

from __future__ import annotations

from collections.abc import Iterator
from html.parser import HTMLParser

import pytest

from pottyboard.papers.page import Html, bullets, figure, page, paragraph, section, table, text

HOSTILE = "</td><script>alert(1)</script>&\"'\x1b[31m\u202e"


class Seen(HTMLParser):
    """Keeps the text of a page, its tags with their attributes, and what is still open."""

    def __init__(self, source: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.said: list[str] = []
        self.feed(source)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.said.append(data)

    def named(self, tag: str) -> Iterator[dict[str, str | None]]:
        """Yield the attributes of every element with this tag."""
        return (attrs for name, attrs in self.tags if name == tag)


def everything(words: str) -> str:
    """Return a page that says ``words`` wherever a page can say something."""
    return page(
        words,
        [
            paragraph(words, "warning"),
            section(words, [bullets([words]), table(words, [words, words], [[words, words]])]),
            figure(Html("<svg></svg>"), words),
        ],
    )


@pytest.mark.parametrize("words", ["Bramble", HOSTILE])
def test_text_stays_text_wherever_it_stands(words: str) -> None:
    source = everything(words)
    seen = Seen(source)
    assert seen.open == []
    assert not {"script", "img", "link", "iframe", "object"} & {tag for tag, _ in seen.tags}
    assert sum("alert" in said for said in seen.said) == (10 if words == HOSTILE else 0)
    assert "\x1b" not in source
    assert "\u202e" not in source


def test_a_page_may_load_and_run_nothing() -> None:
    source = everything("x")
    policies = [a for a in Seen(source).named("meta") if "http-equiv" in a]
    assert [policy["content"] for policy in policies] == [
        "default-src 'none'; style-src 'unsafe-inline'"
    ]
    assert source.startswith('<!doctype html>\n<html lang="en">')
    assert "url(" not in source
    assert "@import" not in source


def test_a_table_names_its_columns_and_its_rows() -> None:
    seen = Seen(table("Pees by day", ["Day", "Pees"], [["Mon", "5"], ["Tue", "6"]], numbers=[1]))
    assert [cell["scope"] for cell in seen.named("th")] == ["col", "col", "row", "row"]
    assert [cell.get("class") for cell in seen.named("td")] == ["number", "number"]
    assert next(seen.named("div"))["aria-label"] == "Pees by day"


def test_on_a_phone_an_empty_cell_leaves_no_heading_behind() -> None:
    source = page("Bramble", [table("Times", ["a", "b", "c"], [["x", "", "y"]])])
    assert '<td data-head="b"></td>' in source
    assert ".stacks td:empty { display: none; }" in source


def test_text_is_escaped_once() -> None:
    assert text("a < b & c") == "a &lt; b &amp; c"
