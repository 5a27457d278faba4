"""Visit reports: what a helper writes becomes entries, or a message in its place; never half."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pottyboard.core.model.events import ANSWERS, KINDS, Event, check_details, check_time
from pottyboard.core.transfer.reports import Report, read_report
from tests.core.diary import diary

HOME = diary(15)
NOW = HOME.on(2).instant("13:00")


def read(text: str, **options: Any) -> Report:
    """Read a report of Mina's at 13:00 on day 2."""
    return read_report(text, "Mina", HOME.settings, NOW, **options)


def entries(text: str, **options: Any) -> list[tuple[str, str, dict[str, Any]]]:
    """Return (clock time, kind, details) of each entry of a report that can be read."""
    report = read(text, **options)
    assert report.problems == ()
    names = ("note", "place", "found", "alone", "ml", "sign")
    return [
        (
            HOME.on(2).clock(event.at),
            event.kind,
            {name: value for name in names if (value := getattr(event, name)) not in (None, "")},
        )
        for event in report.entries
    ]


def problem(text: str, **options: Any) -> tuple[int, int, str]:
    """Return where the only problem of a report is, and its words."""
    report = read(text, **options)
    assert report.entries == ()
    (found,) = report.problems
    return found.line, found.column, found.words


# --- What can be read -----------------------------------------------------------------------------


def test_a_message_becomes_entries_with_the_helper_as_author() -> None:
    assert entries("12:10 pee, 12:14 poop, water, all calm") == [
        ("12:10", "pee", {}),
        ("12:14", "poop", {}),
        ("12:14", "water", {}),
        ("12:14", "note", {"note": "all calm"}),
    ]
    assert {event.by for event in read("12:10 pee, 12:14 poop").entries} == {"Mina"}
    assert {event.zone for event in read("12:10 pee").entries} == {"Europe/Oslo"}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("12.10 pee", [("12:10", "pee", {})]),
        ("1210 pee", [("12:10", "pee", {})]),
        ("at 12h10 PEE!", [("12:10", "pee", {})]),
        ("12:10: pee", [("12:10", "pee", {})]),
        ("- 12:10 pee\n- 12:20 poop\n", [("12:10", "pee", {}), ("12:20", "poop", {})]),
        ("12:10\npee\r\npoop", [("12:10", "pee", {}), ("12:10", "poop", {})]),
        ("12:10 pee then 12:20 poop", [("12:10", "pee", {}), ("12:20", "poop", {})]),
        ("12:10 pee. All calm.", [("12:10", "pee", {}), ("12:10", "note", {"note": "All calm"})]),
        ("12:10 pee and poop", [("12:10", "both", {})]),
        ("12:10 pee + poop", [("12:10", "both", {})]),
        ("12:10 pm pee", [("12:10", "pee", {})]),
        ("at 10am pee", [("10:00", "pee", {})]),
        ("yesterday 7.30 p.m. pee", [("2026-03-02 19:30", "pee", {})]),
        ("12:10 both", [("12:10", "both", {})]),
        ("12:10 pee and water", [("12:10", "pee", {}), ("12:10", "water", {})]),
        ("12:10 nothing", [("12:10", "nothing", {})]),
        ("12:10 nothing came", [("12:10", "nothing", {})]),
        ("12:10 pee, no poop", [("12:10", "pee", {}), ("12:10", "note", {"note": "no poop"})]),
        ("12:10 water 200 ml", [("12:10", "water", {"ml": 200.0})]),
        ("12:10 water 0,2 l, pee", [("12:10", "water", {"ml": 200.0}), ("12:10", "pee", {})]),
        ("12:10 long drink", [("12:10", "water", {})]),
        ("12:10 pee on the pad", [("12:10", "pee", {"place": "pad"})]),
        ("12:10 pee by the hedge", [("12:10", "pee", {"place": "hedge"})]),
        ("12:10 poop soft", [("12:10", "poop", {"note": "soft"})]),
        ("12:10 pee (after a while)", [("12:10", "pee", {"note": "after a while"})]),
        ("12:10 pee: took long", [("12:10", "pee", {"note": "took long"})]),
        ("12:10 whining", [("12:10", "sign", {"sign": "whining"})]),
        ("12:10 sign door", [("12:10", "sign", {"sign": "door"})]),
        ("12:10 note met a dog", [("12:10", "note", {"note": "met a dog"})]),
        ("yesterday 12:10 pee", [("2026-03-02 12:10", "pee", {})]),
        ("2026-03-02 12:10 pee", [("2026-03-02 12:10", "pee", {})]),
        (
            "12:10 found poop indoors in the kitchen, cleaned up",
            [
                ("12:10", "poop-inside", {"place": "kitchen", "found": True, "alone": True}),
                ("12:10", "cleaned", {}),
            ],
        ),
        ("12:10 pee indoors", [("12:10", "pee-inside", {"found": True, "alone": True})]),
        ("12:10 saw pee indoors", [("12:10", "pee-inside", {"found": False, "alone": False})]),
    ],
)  # fmt: skip
def test_as_people_write(text: str, found: list[tuple[str, str, dict[str, Any]]]) -> None:
    assert entries(text) == found


def test_every_kind_that_a_helper_can_report_is_read_by_its_code_and_by_its_words() -> None:
    household = {"left", "back", "duty", "interval", "vet", "round", "routine", "noted", *ANSWERS}
    household |= {"told", "called-off", "left-so"}
    words = {"note": ": calm", "health": ": limps"}
    for kind in KINDS.values():
        for name in (kind.code, kind.words):
            report = read(f"12:10 {name}{words.get(kind.code, '')}")
            if kind.code in household:
                assert report.entries == ()
            else:
                assert [event.kind for event in report.entries] == [kind.code], name


def test_what_comes_before_any_time_takes_the_planned_one() -> None:
    at = HOME.on(2).instant("11:30")
    assert entries("pee, 12:00 poop", at=at) == [("11:30", "pee", {}), ("12:00", "poop", {})]


def test_clock_times_belong_to_the_day_that_the_report_is_of() -> None:
    assert entries("1210 pee, 23h10 pee", day=date(2026, 3, 2)) == [
        ("2026-03-02 12:10", "pee", {}),
        ("2026-03-02 23:10", "pee", {}),
    ]


# --- What cannot ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("12:10 pop", (1, 1), "did you mean poop"),
        ("12:10 pee,\n  12:20 xyzzy", (2, 3), "no kind of entry"),
        ("12:10 pee, puddle by the sofa", (1, 12), "if it went indoors"),
        ("12:10 pee on the rug", (1, 1), "indoors?"),
        ("12:10 pee floor", (1, 1), "indoors?"),
        ("12:10 water bowl empty", (1, 1), "put a comma"),
        ("12:10 meal refused", (1, 1), "something else"),
        ("12:10 nothing to report", (1, 1), "put a comma"),
        ("12:10 walk", (1, 1), "no kind of entry"),
        ("12:10 left", (1, 1), "household logs that itself"),
        ("all calm, peee", (1, 11), "did you mean pee"),
        ("pee", (1, 1), "Begin with a time"),
        ("2 pee", (1, 1), "if it is how often"),
        ("12-13 pee", (1, 1), "one time for each thing"),
        ("25:10 pee", (1, 1), "not a clock time"),
        ("13:05 pm pee", (1, 1), "not a clock time"),
        ("13:30 pee. all fine", (1, 1), "still to come"),
        ("12:10 note", (1, 1), "a few words"),
        ("12:10 health", (1, 1), "What was seen?"),
        ("12:10 round", (1, 1), "household logs that itself"),
        ("12:00-12:20 pee", (1, 1), "one time for each thing"),
        ("13:30 pee", (1, 1), "still to come"),
        ("2026-03-01 13:30 pee", (1, 1), "before the dog arrived"),
        ("", (1, 1), "nothing to read"),
        (" ,;\n.", (1, 1), "nothing to read"),
        ("12:10", (1, 1), "nothing to read"),
        (f"12:10 note {'x' * 501}", (1, 1), "too long"),
    ],
)
def test_named_in_its_place_with_what_to_write(
    text: str, place: tuple[int, int], words: str
) -> None:
    report = read(text)
    assert report.entries == ()
    found = report.problems[-1]
    assert (found.line, found.column) == place
    assert words in found.words


def test_one_bad_bit_keeps_everything_out_and_every_bad_bit_is_named() -> None:
    report = read("12:10 pee, 12:14 pop, water, 12:20 peeee")
    assert report.entries == ()
    assert [(found.column, found.text) for found in report.problems] == [
        (12, "12:14 pop"),
        (30, "12:20 peeee"),
    ]
    assert str(report.problems[0]).startswith("line 1, column 12: “12:14 pop”: did you mean poop?")


def test_a_time_that_the_clocks_skip_or_show_twice_is_asked_back() -> None:
    spring = diary(15, on=date(2026, 3, 28))
    now = spring.on(2).instant("13:00")
    report = read_report("02:30 pee", "Mina", spring.settings, now)
    assert "does not exist" in report.problems[0].words


def test_markup_and_marks_of_direction_are_kept_harmless() -> None:
    assert entries("\u200e12:10 pee, \u202e[/b] [red]") == [
        ("12:10", "pee", {}),
        ("12:10", "note", {"note": "[/b] [red]"}),
    ]


WORDS = st.sampled_from(
    [*KINDS, *(kind.words for kind in KINDS.values()), "12:10", "1214", "9.5", "3pm", "and", "+",
     "found", "on the", "pad", "rug", "200 ml", "0,2 l", ",", ", ", ";", "\n", "\r\n", ". ", " ",
     "note", "all calm", "peed", "[/]", "\x1b[31m", "\u202e", "\ud800", "ß", "İ", "ﬁ", "é", "-",
     "(", ")", "yesterday", "2026-03-02", "2026-03-29 02:30", "00:00", "no", "not"]
)  # fmt: skip


@settings(max_examples=1500)
@given(st.one_of(st.text(max_size=80), st.lists(WORDS, max_size=14).map(" ".join)))
def test_any_text_gives_entries_or_located_messages(text: str) -> None:
    report = read(text)
    assert bool(report.entries) != bool(report.problems)
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    lines = lines.replace("\u2028", "\n").replace("\u2029", "\n")
    for found in report.problems:
        assert found.words
        line = lines.split("\n")[found.line - 1]
        assert 1 <= found.column <= max(1, len(line))
    for event in report.entries:
        check(event)


def check(event: Event) -> None:
    """The log takes it, and it holds nothing that does not show."""
    check_details(event)
    check_time(event, NOW, HOME.settings.dog.arrived)
    assert event.by == "Mina"
    for text in (event.note, event.place):
        assert text == " ".join(text.split())
        assert text.isprintable()
        text.encode()
