"""A calendar read by the rules of RFC 5545 alone, with no library."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

DURATION = re.compile(r"[+-]?P(?:\d+W|\d+D(?:T.+)?|T(?:\d+H(?:\d+M(?:\d+S)?)?|\d+M(?:\d+S)?|\d+S))")
"""The grammar of a duration, s3.3.6: weeks alone, no years or months, hours never straight before
seconds."""


@dataclass(frozen=True)
class Block:
    """One component, by hand: its name, its (name, parameters, value) lines and its parts."""

    name: str
    lines: tuple[tuple[str, str, str], ...]
    parts: tuple[Block, ...]

    def all(self, name: str) -> list[str]:
        return [value for key, _, value in self.lines if key == name]

    def one(self, name: str) -> str:
        (value,) = self.all(name)
        return value


def by_hand(made: bytes) -> Block:
    """Unfold and parse by the rules of s3.1 alone."""
    lines = made.replace(b"\r\n ", b"").replace(b"\r\n\t", b"").decode("utf-8").split("\r\n")
    assert lines.pop() == ""
    return _block(iter(lines), next(iter(lines))[6:], first=True)


def _block(lines: object, name: str, *, first: bool = False) -> Block:
    found, parts = [], []
    for line in lines:  # type: ignore[attr-defined]
        if first:
            first = False
        elif line.startswith("BEGIN:"):
            parts.append(_block(lines, line[6:]))
        elif line.startswith("END:"):
            assert line[4:] == name
            break
        else:
            head, _, value = line.partition(":")
            key, _, parameters = head.partition(";")
            found.append((key, parameters, value))
    return Block(name, tuple(found), tuple(parts))


def offset(rule: Block, name: str) -> timedelta:
    sign, hours, minutes = re.fullmatch(r"([+-])(\d\d)(\d\d)", rule.one(name)).groups()  # type: ignore[union-attr]
    return timedelta(hours=int(hours), minutes=int(minutes)) * (-1 if sign == "-" else 1)


def utc(value: str, rules: Block) -> datetime:
    if value.endswith("Z"):
        return datetime.strptime(value, "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
    wall = datetime.strptime(value, "%Y%m%dT%H%M%S")
    in_force = max(
        (rule for rule in rules.parts if onset_of(rule) <= wall),
        key=onset_of,
    )
    # Of a time shown twice the first is meant: what was in force before the clocks went back.
    back = offset(in_force, "TZOFFSETFROM") - offset(in_force, "TZOFFSETTO")
    return (
        (wall - offset(in_force, "TZOFFSETTO")).replace(tzinfo=UTC)
        if not (timedelta(0) < back and wall < onset_of(in_force))
        else (wall - offset(in_force, "TZOFFSETFROM")).replace(tzinfo=UTC)
    )


def onset_of(rule: Block) -> datetime:
    """Return from which local time on a rule holds."""
    return datetime.strptime(rule.one("DTSTART"), "%Y%m%dT%H%M%S")
