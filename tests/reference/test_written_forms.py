"""Written times, days and weights, against standards and the data of other people.

ISO 8601 and RFC 3339 (July 2002): examples of sections 5.8 and forms of section 5.6, the forms from
memory but for the grammar, which was read. Weekdays: the English names of the Unicode CLDR as babel
ships them. Pound: exactly 0.45359237 kg (international yard and pound agreement, 1959); 16 ounces
to it. Currency codes: ISO 4217, as babel ships it. Zones: the IANA database on this computer.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Literal
from zoneinfo import available_timezones

import pytest
from babel import Locale
from babel.dates import get_day_names, get_month_names

from pottyboard.core.model.localtime import read_when, zone_named
from pottyboard.core.model.questions import default_answers, settings_from
from pottyboard.core.written.amounts import read_money
from pottyboard.core.written.dates import date_written, read_day
from pottyboard.core.written.weekdays import read_days
from pottyboard.core.written.zones import zone_name

NOW = datetime(2026, 11, 27, 10, 0, tzinfo=UTC)
OSLO = zone_named("Europe/Oslo")


@pytest.mark.parametrize(
    ("text", "instant"),
    [
        # RFC 3339, section 5.8
        ("1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.520000+00:00"),
        ("1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57+00:00"),
        ("1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27.870000+00:00"),
        # section 5.6: lower case, and a blank in place of the T
        ("1996-12-19t16:39:57z", "1996-12-19T16:39:57+00:00"),
        ("1996-12-19 16:39:57Z", "1996-12-19T16:39:57+00:00"),
        # ISO 8601, basic form
        ("19961219T163957Z", "1996-12-19T16:39:57+00:00"),
        ("20261127T0800+0100", "2026-11-27T07:00:00+00:00"),
    ],
)
def test_instants_of_the_standards(text: str, instant: str) -> None:
    assert read_when(text, NOW, OSLO).astimezone(UTC).isoformat() == instant


def test_dates_of_iso_8601() -> None:
    assert date_written("2026-11-27") == date_written("20261127") == (2026, 11, 27)


@pytest.mark.parametrize("width", ["short", "abbreviated", "wide"])
@pytest.mark.parametrize("locale", ["en_GB", "en_US"])
def test_weekdays_of_the_cldr(width: Literal["short", "abbreviated", "wide"], locale: str) -> None:
    names = get_day_names(width, locale=locale)
    assert [read_days(names[day]) for day in range(7)] == [{day + 1} for day in range(7)]


@pytest.mark.parametrize("width", ["abbreviated", "wide"])
@pytest.mark.parametrize("locale", ["en_GB", "en_US", "en_AU"])
def test_months_of_the_cldr(width: Literal["abbreviated", "wide"], locale: str) -> None:
    names = get_month_names(width, locale=locale)
    read = [read_day(f"2 {names[month]} 2026", NOW.date()).month for month in range(1, 13)]
    assert read == list(range(1, 13))


@pytest.mark.parametrize(
    ("text", "kilograms"),
    [("20 lb", 20 * 0.45359237), ("18 lb 6 oz", 18 * 0.45359237 + 6 * 0.45359237 / 16)],
)
def test_pounds_in_kilograms(text: str, kilograms: float) -> None:
    answers = {**default_answers(NOW, "UTC"), "weight": text}
    assert settings_from(answers, NOW).dog.weight_kg == pytest.approx(kilograms, abs=0.005)


@pytest.mark.parametrize("code", ["EUR", "USD", "GBP", "CHF", "NOK", "PLN", "CAD", "ZAR", "JPY"])
def test_currencies_of_iso_4217(code: str) -> None:
    assert code in Locale("en").currencies
    assert read_money(f"12.50 {code}").amount == read_money(f"{code} 12,50").amount == 12.5


def test_every_zone_is_known_by_its_name_in_any_letters() -> None:
    for name in available_timezones():
        assert zone_name(name.lower().replace("_", " ")) == name


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("London", "Europe/London"), ("new york", "America/New_York"),
        ("America/New York", "America/New_York"), ("Europe/london", "Europe/London"),
        ("Istanbul", "Asia/Istanbul"), ("buenos aires", "America/Argentina/Buenos_Aires"),
    ],
)  # fmt: skip
def test_a_city_alone_is_its_zone(text: str, name: str) -> None:
    assert zone_name(text) == name


@pytest.mark.parametrize(
    ("text", "near"),
    [("New Yrok", "America/New_York"), ("Lodnon", "Europe/London"), ("Oslo/Europe", "Europe/Oslo")],
)
def test_a_slip_brings_the_zone_that_was_meant(text: str, near: str) -> None:
    with pytest.raises(ValueError, match=near):
        zone_name(text)
