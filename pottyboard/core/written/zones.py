"""The name of a time zone, as people write it: any letters, blanks, or its city alone."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from functools import lru_cache
from typing import Final
from zoneinfo import ZoneInfo, available_timezones

from pottyboard.core.written.text import TimeError, quoted, tidy

_YEARS: Final = range(2000, 2038)


def zone_name(text: str) -> str:
    """Return the IANA name that ``New York``, ``Europe/london`` or ``America/New York`` means.

    Raises :class:`TimeError` with the nearest names, or with all where a city has several zones.
    """
    said = _plain(text)
    whole, cities = _names()
    if said in whole:
        return whole[said]
    found = _of_one_time(cities.get(said, ())) if said else ()
    if len(found) == 1:
        return found[0]
    if found:
        raise TimeError(f"{quoted(text)} is in several time zones: write {_listed(found)}.")
    near = _nearest(said, whole, cities)
    hint = f" Did you mean {_listed(near)}?" if near else ""
    raise TimeError(f"{quoted(text)} is not a time zone: write one such as Europe/Oslo.{hint}")


def _plain(text: str) -> str:
    return tidy(text).replace(" / ", "/").replace(" ", "_").casefold()


@lru_cache(maxsize=1)
def _names() -> tuple[dict[str, str], dict[str, tuple[str, ...]]]:
    """Return the names by their plain letters, and by the plain letters of the city alone."""
    whole: dict[str, str] = {}
    cities: dict[str, tuple[str, ...]] = {}
    for name in sorted(available_timezones()):
        plain = _plain(name)
        whole[plain] = name
        if "/" in plain and not plain.startswith("etc/"):
            city = plain.rpartition("/")[2]
            cities[city] = (*cities.get(city, ()), name)
    return whole, cities


def _of_one_time(names: Iterable[str]) -> tuple[str, ...]:
    """Return the names without those that show the same time as one before them, every month."""
    kept: dict[tuple[object, ...], str] = {}
    for name in names:
        zone = ZoneInfo(name)
        shown = tuple(
            datetime(year, month, 1, tzinfo=zone).utcoffset()
            for year in _YEARS
            for month in range(1, 13)
        )
        kept.setdefault(shown, name)
    return tuple(kept.values())


def _nearest(
    said: str, whole: dict[str, str], cities: dict[str, tuple[str, ...]]
) -> tuple[str, ...]:
    import difflib  # only to say what was meant: a start without a slip needs none of it

    near = [whole[name] for name in difflib.get_close_matches(said, whole, n=2, cutoff=0.6)]
    for city in difflib.get_close_matches(said.rpartition("/")[2], cities, n=2, cutoff=0.7):
        near += cities[city]
    return tuple(dict.fromkeys(near))[:2]


def _listed(names: Iterable[str]) -> str:
    return " or ".join(names)
