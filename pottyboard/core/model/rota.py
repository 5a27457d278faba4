"""The rota as people write it: days of the week, who is away when, and who can come.

Each text fits one line of the set-up. The readers raise ``ValueError`` with a message that says
what to write; the writers return text that reads back into the same values.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, time, timedelta
from typing import Final

from pottyboard.core.model import figures
from pottyboard.core.model.localtime import Minutes
from pottyboard.core.model.settings import EVERY_DAY, Helper, OtherDays, OwnHours
from pottyboard.core.written.amounts import MONEY, Money, read_money
from pottyboard.core.written.clocks import read_clock
from pottyboard.core.written.dates import is_day, read_day
from pottyboard.core.written.lines import read_name
from pottyboard.core.written.weekdays import DAY, GROUP, days_words, read_days

HOME: Final = "home"

_DAYS = re.compile(
    rf"(?:{DAY}|{GROUP})(?:(?:\s?[-,&]\s?|\s(?:and|to)\s)(?:{DAY}|{GROUP}))*", re.IGNORECASE
)
_ENDS_IN_DAYS = re.compile(rf"(?:(.*)\s)?({_DAYS.pattern})", re.IGNORECASE)
_HOUR = r"\d[\d:.h]*(?:[ap]\.?m\.?)?"
_HOURS = re.compile(rf"({_HOUR})-({_HOUR})", re.IGNORECASE)
_UNTIL = re.compile(r"\s*\.\.\s*|\s(?:to|until)\s", re.IGNORECASE)
_LOOSE_HALF = re.compile(r"(?<=\d)\s+(?=[ap]\.?m\b)", re.IGNORECASE)
_LOOSE_DASH = re.compile(
    r"(?:(?<=\d)|(?<=\d[ap]m)|(?<=\d[ap]\.m\.))(?:\s*[-–]\s*|\s+to\s+)(?=\d)", re.IGNORECASE
)
_LOOSE_COMMA = re.compile(r"\s*,\s*")
_AMOUNT = r"(\d+(?:[.,]\d+)?)"
_UNIT = r"(m|min|minutes?|h|hours?|d|days?)"
_NOTICE = re.compile(rf"notice {_AMOUNT}\s*{_UNIT}", re.IGNORECASE)
_LENGTH = re.compile(rf"{_AMOUNT}\s*{_UNIT}", re.IGNORECASE)
_COST = re.compile(MONEY, re.IGNORECASE)

_HELPER_FORM = "Write helpers such as: Mina 11:00-15:00 12.50 mon-fri 20min notice 24h; Otto 9-18."
_OWN_FORM = "Write who differs, such as: Ben mon,wed 09:00-13:00; Cleo home."
_OTHER_FORM = "Write dates such as: 2026-03-05 home; Ben 2026-03-06..2026-03-08 10:00-12:00."


def _parts(answer: str) -> list[str]:
    """Return the entries between semicolons, with loose spaces around dashes and commas gone."""
    whole = _LOOSE_DASH.sub("-", _LOOSE_HALF.sub("", answer))
    whole = _LOOSE_COMMA.sub(",", whole)
    return [" ".join(part.split()) for part in whole.split(";") if part.strip()]


# --- Days and hours -------------------------------------------------------------------------------


def _read_hours(text: str, who: str) -> tuple[time, time]:
    found = _HOURS.fullmatch(text)
    if not found:
        raise ValueError(f"“{text}” is not a span of hours: write one such as 08:30-17:00.")
    bare = [part for part in found.groups() if part.isdecimal() and 1 <= int(part) <= 12]
    if len(bare) == 1 and re.search(r"[ap]\.?m", text, re.IGNORECASE):
        raise ValueError(f"“{text}”: write am or pm to both, such as 9am-1pm.")
    start, end = (read_clock(part) for part in found.groups())
    if start == end:
        raise ValueError(f"{who}: the same time twice in {text}.")
    return start, end


def hours_words(start: time, end: time) -> str:
    """Return a span of local clock times, as ``08:30-17:00``."""
    return f"{start:%H:%M}-{end:%H:%M}"


# --- Who is away when -----------------------------------------------------------------------------


def read_own_hours(answer: str) -> tuple[OwnHours, ...]:
    """Read who is away at other times than the household: ``Ben mon,wed 09:00-13:00; Cleo home``.

    Days left out mean every day; ``home`` means never away.
    """
    own: list[OwnHours] = []
    for part in _parts(answer):
        *before, last = part.split(" ")
        if last.lower() == HOME:
            own.append(OwnHours(read_name(" ".join(before)), frozenset(), time(0), time(0)))
            continue
        if not before or not _HOURS.fullmatch(last):
            raise ValueError(f"“{part}” is not understood. {_OWN_FORM}")
        days, who = EVERY_DAY, " ".join(before)
        ending = _ENDS_IN_DAYS.fullmatch(who)
        if ending and ending[1]:
            who, days = ending[1], read_days(ending[2])
        name = read_name(who)
        own.append(OwnHours(name, days, *_read_hours(last, name)))
    never = {hours.person for hours in own if not hours.days}
    for hours in own:
        if hours.days and hours.person in never:
            raise ValueError(f"{hours.person} is both home and away: keep one of the two.")
    return tuple(dict.fromkeys(own))


def own_hours_words(own: Iterable[OwnHours]) -> str:
    """Return own hours as the text that :func:`read_own_hours` reads."""
    words = []
    for hours in own:
        if not hours.days:
            words.append(f"{hours.person} {HOME}")
            continue
        # A name that ends like a day must not be read as one.
        plain = hours.days == EVERY_DAY and not _ENDS_IN_DAYS.fullmatch(hours.person)
        days = "" if plain else f" {days_words(hours.days)}"
        words.append(f"{hours.person}{days} {hours_words(hours.leave, hours.back)}")
    return "; ".join(words)


def read_other_days(answer: str, today: date) -> tuple[OtherDays, ...]:
    """Read exceptions by date: ``2026-03-05 home; Ben 6 Mar to 8 Mar 10:00-12:00``.

    Without a name they hold for everybody; a date without a year is the nearest one, unless that is
    over a month ago: nobody plans for then.
    """
    others: list[OtherDays] = []
    for part in _parts(answer):
        words = part.split(" ")
        person, first, last = _who_and_dates(part, words[:-1], today)
        if last < first:
            raise ValueError(f"{' '.join(words[:-1])} ends before it begins.")
        person = read_name(person) if person else ""
        if words[-1].lower() == HOME:
            others.append(OtherDays(first, last, person))
        else:
            hours = _read_hours(words[-1], person or f"{first}")
            others.append(OtherDays(first, last, person, *hours))
    return tuple(dict.fromkeys(others))


def _who_and_dates(part: str, words: list[str], today: date) -> tuple[str, date, date]:
    """Return the name before the dates, and the first and the last of them."""
    for at in range(len(words)):
        ends = _UNTIL.split(" ".join(words[at:]))
        if len(ends) <= 2 and all(map(is_day, ends)):
            first, *last = (_planned_day(end, today) for end in ends)
            return " ".join(words[:at]), first, last[0] if last else first
    raise ValueError(f"“{part}” is not understood. {_OTHER_FORM}")


def _planned_day(text: str, today: date) -> date:
    day = read_day(text, today)
    if _YEAR.search(text) or day >= today - _LONG_AGO:
        return day
    return read_day(f"{text} {day.year + 1}", today)


_YEAR: Final = re.compile(r"\d{4}")
_LONG_AGO: Final = timedelta(days=31)


def other_days_words(others: Iterable[OtherDays]) -> str:
    """Return exceptions as the text that :func:`read_other_days` reads."""
    words = []
    for other in others:
        who = f"{other.person} " if other.person else ""
        until = f"..{other.last}" if other.last > other.first else ""
        hours = HOME
        if other.leave is not None and other.back is not None:
            hours = hours_words(other.leave, other.back)
        words.append(f"{who}{other.first}{until} {hours}")
    return "; ".join(words)


# --- Who can come ---------------------------------------------------------------------------------


def read_helpers(answer: str) -> tuple[Helper, ...]:
    """Read who can visit: a name and hours, then in any order what else there is to say.

    That is the cost of a visit, the days, how long a visit lasts and the least notice:
    ``Mina 11:00-15:00 €12.50 mon-fri 20min notice 24h; Otto 9:00-18:00``.
    """
    helpers = tuple(dict.fromkeys(_read_helper(part) for part in _parts(answer)))
    currencies = sorted({helper.currency for helper in helpers} - {""})
    if len(currencies) > 1:
        raise ValueError(
            f"{' and '.join(currencies)} cannot be added up: write all costs in one currency."
        )
    return helpers


def _read_helper(part: str) -> Helper:
    words = part.split(" ")
    at = next((n for n, word in enumerate(words) if _HOURS.fullmatch(word)), 0)
    if at == 0:
        raise ValueError(f"“{part}” is not understood. {_HELPER_FORM}")
    name = read_name(" ".join(words[:at]))
    start, end = _read_hours(words[at], name)
    if end <= start:
        raise ValueError(f"{name}: the hours end before they begin.")
    cost, days = Money(0.0), EVERY_DAY
    lasts, notice = float(figures.VISIT_LASTS), 0.0
    rest = " ".join(words[at + 1 :])
    while rest:
        for pattern in (_NOTICE, _LENGTH, _COST, _DAYS):
            found = re.match(rf"(?:{pattern.pattern})(?= |$)", rest, re.IGNORECASE)
            if found:
                break
        else:
            raise ValueError(f"{name}: “{rest}” is not understood. {_HELPER_FORM}")
        rest = rest[found.end() :].lstrip()
        if pattern is _NOTICE:
            notice = _minutes(found[1], found[2])
        elif pattern is _LENGTH:
            lasts = _minutes(found[1], found[2])
        elif pattern is _COST:
            cost = read_money(found[0])
        else:
            days = read_days(found[0])
    span = (end.hour - start.hour) * 60 + end.minute - start.minute
    if not figures.VISIT_GRID <= lasts <= span:
        raise ValueError(f"{name}: a visit lasts 5 min or more, and fits within the hours.")
    if cost.amount > figures.COST_MOST:
        raise ValueError(f"{name}: a visit costs {figures.COST_MOST:g} at most.")
    if notice > figures.NOTICE_MOST:
        raise ValueError(f"{name}: 14 days of notice at most.")
    return Helper(name, start, end, round(cost.amount, 2), notice, lasts, days, cost.currency)


def _minutes(amount: str, unit: str) -> Minutes:
    each = {"m": 1, "h": 60, "d": 1440}[unit[0].lower()]
    return round(float(amount.replace(",", ".")) * each)


def helpers_words(helpers: Iterable[Helper]) -> str:
    """Return helpers as the text that :func:`read_helpers` reads; what is usual is left out."""
    words = []
    for helper in helpers:
        text = f"{helper.name} {hours_words(helper.start, helper.end)} "
        text += str(Money(helper.cost, helper.currency))
        if helper.days != EVERY_DAY:
            text += f" {days_words(helper.days)}"
        if helper.lasts != figures.VISIT_LASTS:
            text += f" {helper.lasts:g}min"
        if helper.notice:
            text += f" notice {_notice_words(helper.notice)}"
        words.append(text)
    return "; ".join(words)


def _notice_words(notice: Minutes) -> str:
    if notice % 1440 == 0:
        return f"{notice / 1440:g}days" if notice > 1440 else "24h"
    return f"{notice / 60:g}h" if notice % 60 == 0 else f"{notice:g}min"
