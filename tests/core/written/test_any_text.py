"""Any text is read, or refused by the one error; what is shown is read back to the same value."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, date, datetime, time
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.model.localtime import read_when, span_words
from pottyboard.core.model.questions import BY_KEY, answers_from, default_answers, settings_from
from pottyboard.core.model.understood import understood
from pottyboard.core.written.amounts import Money, read_money, read_weight
from pottyboard.core.written.clocks import read_clock, read_clocks, read_span
from pottyboard.core.written.dates import read_day, read_moment
from pottyboard.core.written.text import WrittenError
from pottyboard.core.written.weekdays import days_words, read_days
from pottyboard.core.written.zones import zone_name

NOW = datetime(2026, 11, 27, 10, 0, tzinfo=UTC)
TODAY = NOW.date()
DEFAULTS = default_answers(NOW, "Europe/Oslo")
READERS: tuple[Callable[[str], Any], ...] = (
    read_clock,
    read_clocks,
    read_span,
    read_days,
    read_weight,
    read_money,
    zone_name,
    lambda text: read_day(text, TODAY),
    lambda text: read_moment(text, TODAY, "near"),
    lambda text: read_when(text, NOW, settings_from(DEFAULTS, NOW).zone),
)
WORDS = """
0 1 7 12 18 24 30 31 2026 3/4 27.11 : . , - h am pm noon and & Nov 27th Fri last yesterday ago
mon-fri weekend € $ EUR kg lb oz min T Z +01:00 00 ² １ –
"""
BITS = st.sampled_from(WORDS.split())
TEXTS = st.one_of(
    st.text(max_size=20),
    st.text("0123456789:., apmhT-/", max_size=12),
    st.lists(st.tuples(BITS, st.sampled_from(["", " "])), max_size=6).map(
        lambda parts: "".join(bit + gap for bit, gap in parts)
    ),
)


@given(TEXTS)
def test_no_text_raises_anything_else(text: str) -> None:
    for read in READERS:
        with suppress(WrittenError):
            read(text)


@given(st.times().map(lambda clock: clock.replace(second=0, microsecond=0)))
def test_a_clock_time_reads_back_in_both_halves_of_the_day(clock: time) -> None:
    for form in ("%H:%M", "%H.%M", "%H%M", "%I:%M %p", "%I.%M%p", "%Hh%M"):
        assert read_clock(clock.strftime(form)) == clock


@given(st.lists(st.times().map(lambda clock: clock.replace(second=0, microsecond=0)), min_size=1))
def test_a_list_of_times_reads_back(clocks: list[time]) -> None:
    for between in (", ", " ", " and ", " & ", "; "):
        assert read_clocks(between.join(f"{clock:%H:%M}" for clock in clocks)) == tuple(clocks)


@given(st.dates(date(1990, 1, 1), date(2080, 1, 1)))
def test_a_date_reads_back(day: date) -> None:
    for form in ("%Y-%m-%d", "%d.%m.%Y", "%d %b %Y", "%d %B %Y", "%b %d, %Y", "%a %d %b %Y"):
        assert read_day(day.strftime(form), TODAY) == day


@given(st.dates(date(2026, 6, 1), date(2027, 5, 20)))
def test_a_date_without_a_year_is_the_nearest(day: date) -> None:
    assert read_day(f"{day.day} {day:%b}", TODAY) == day


@given(st.integers(0, 47 * 60))
def test_a_length_of_time_reads_back(minutes: int) -> None:
    assert read_span(span_words(minutes)) == minutes
    assert read_span(f"{minutes // 60}:{minutes % 60:02d}") == minutes


@given(st.frozensets(st.integers(1, 7)))
def test_days_read_back(days: frozenset[int]) -> None:
    assert read_days(days_words(days)) == days
    assert read_days(days_words(days).replace(",", " and ")) == days


@given(st.integers(0, 999_999), st.sampled_from(["", "€", "$", "£", "NOK"]))
def test_a_sum_reads_back(cents: int, currency: str) -> None:
    money = Money(cents / 100, currency)
    assert read_money(str(money)) == money


@given(st.integers(2, 250), st.integers(0, 15))
def test_pounds_come_back_as_pounds(pounds: int, ounces: int) -> None:
    for text in (f"{pounds} lb {ounces} oz", f"{pounds}.5lb"):
        settings = settings_from({**DEFAULTS, "weight": text}, NOW)
        answer = answers_from(settings)["weight"]
        assert "lb" in answer
        assert settings_from({**DEFAULTS, "weight": answer}, NOW) == settings


def test_the_arrival_comes_back_as_a_date() -> None:
    settings = settings_from({**DEFAULTS, "arrived": "14 Nov 10:30"}, NOW)
    assert answers_from(settings)["arrived"] == "2026-11-14 10:30"


@pytest.mark.parametrize("text", ["none", "Grazing", "food is always there", "always there."])
def test_food_that_is_always_there_is_an_answer(text: str) -> None:
    settings = settings_from({**DEFAULTS, "meals": text}, NOW)
    assert settings.home.meals == ()
    assert answers_from(settings)["meals"] == "none"


# --- What was understood --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("up", "6.30", "06:30"), ("bed", "10:30 pm", "22:30"), ("up", "06:30", ""),
        ("meals", "7 and 18", "07:00, 18:00"), ("meals", "07:00, 17:30", ""),
        ("meals", "grazing", "food is always there"),
        ("weight", "18", "18 kg, which is 39 lb 11 oz"), ("weight", "18 lb 6 oz", "8.33 kg"),
        ("weight", "18 kg", ""),
        ("zone", "new york", "America/New_York, now 05:00"), ("zone", "Europe/Oslo", ""),
        ("arrived", "28 Nov 8am", "Sat 28 Nov 2026 08:00"),
        ("workdays", "weekdays", "mon-fri"), ("workdays", "Mon & Thu", "mon,thu"),
        ("helpers", "Mina 9am to 1pm $8", "Mina 09:00-13:00 $8"),
        ("exceptions", "5 Dec home", "2026-12-05 home"),
        ("up", "5.5", ""), ("arrived", "soon", ""), ("zone", "Nowhere", ""),
    ],
)  # fmt: skip
def test_what_was_understood_is_repeated(key: str, text: str, words: str) -> None:
    assert understood({**DEFAULTS, key: text}, NOW).get(key, "") == words


@pytest.mark.parametrize("key", ["up", "meals", "workdays", "weight", "zone"])
@given(text=TEXTS)
def test_what_is_shown_is_read_back_to_the_same_value(key: str, text: str) -> None:
    words = understood({**DEFAULTS, key: text}, NOW).get(key)
    if words and words not in ("food is always there", "no days"):
        shown = words.partition(", which is" if key == "weight" else ", now")[0]
        also = (TODAY,) if BY_KEY[key].dated else ()
        read = BY_KEY[key].read
        first, second = read(text, *also), read(shown, *also)
        assert first[0] == second[0] if key == "weight" and "lb" in text else first == second
