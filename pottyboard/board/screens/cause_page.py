"""What the page of causes says: one accident, why it likely happened, one change for tomorrow."""

from __future__ import annotations

import math
from collections.abc import Iterator
from textwrap import wrap
from typing import Final

from rich.cells import cell_len
from textual.content import Content
from textual.style import Style

from pottyboard.board.screens.chosen import Written
from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line, padded
from pottyboard.board.text.words import NAME_WIDTH
from pottyboard.core.accidents.accident_views import Account
from pottyboard.core.model.describe import CAUSE_WORDS
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import Situation

CAUSE_KEYS: Final = dict(zip("1234567890abcd", CAUSE_WORDS, strict=True))
"""The key of each cause."""

LOG_KEY: Final = "x"
"""The key that leaves the cause to the log again."""

_AIRY_FROM: Final = 30
_COLUMN_GAP: Final = 1
_LEAST_PLACE: Final = 10
_BESIDE: Final = 54
_SAID: Final = "Set by you"
_NONE: Final = "No accident in the last two weeks: nothing to explain."


def page(situation: Situation, at: int, width: int, height: int) -> Written:
    """Return the page with the accident number ``at``, the newest being 0."""
    accounts = situation.accidents
    if not accounts:
        return Written([Content(_NONE)])
    settings, airy = situation.settings, height >= _AIRY_FROM
    lines = list(_account(accounts[at], settings, width, airy))
    if len(accounts) == 1:
        return Written(lines)
    lines += [*_gap(airy), _title("The last two weeks")]
    row = 0
    for number, account in enumerate(accounts):
        if number == at:
            row = len(lines)
        lines.append(_row(account, settings, width, chosen=number == at))
    return Written(lines, 0, row if row < height else 0)


def when(account: Account, settings: Settings) -> str:
    """Return when it happened, such as ``Wed 4 Mar 12:30``."""
    at = account.event.at.astimezone(settings.zone)
    return f"{at:%a} {at.day} {at:%b} {at:%H:%M}"


def _account(account: Account, settings: Settings, width: int, airy: bool) -> Iterator[Content]:
    glyphs, offer = settings.board.glyphs, account.offer
    place = one_line(account.event.place, NAME_WIDTH)
    told = f"{account.event.row.words}, {place}" if place else account.event.row.words
    yield from _wrapped(f"{when(account, settings)} {told}", width, "bold")
    yield from _gap(airy)
    likely = _SAID if account.said else "Likely"
    yield Content.assemble((f"{likely}: ", "dim"), (account.words, "bold $text-warning"))
    yield from _wrapped(account.reasoning.removeprefix(f"{_SAID}."), width)
    yield from _gap(airy)
    yield _title("What the log says")
    yield from _wrapped(f" {sign('between', glyphs)} ".join(account.facts), width)
    yield from _gap(airy)
    if offer is not None:
        yield _title("One change for tomorrow")
        mark = sign("done" if offer.taken else "advice", glyphs)
        yield from _wrapped(f"{mark} {one_line(offer.words, 300)}", width, "bold")
        if offer.taken:
            yield Content.styled("  taken: the plan has it", "$text-success")
        elif offer.measure:
            yield _click("  t takes it", "screen.take")
        yield from _gap(airy)
    yield _title("If it was something else, one key says so")
    yield from _keys(account, width, glyphs)


def _keys(account: Account, width: int, glyphs: GlyphSet) -> Iterator[Content]:
    """Yield the causes with their keys in as many columns as fit, the present one marked."""
    texts = {
        key: f"{sign('chosen', glyphs) if code == account.cause else ' '}{key} {CAUSE_WORDS[code]}"
        for key, code in CAUSE_KEYS.items()
    }
    for row in columns(list(texts), [len(text) for text in texts.values()], width):
        yield Content.assemble(*(_key(key, room, texts[key], account) for key, room in row))
    if account.said:
        yield _click(f" {LOG_KEY} as the log says", f"screen.say_cause('{LOG_KEY}')")


def _key(key: str, room: int, text: str, account: Account) -> Content:
    is_present = CAUSE_KEYS[key] == account.cause
    return _click(f"{text:{room}}", f"screen.say_cause('{key}')", "bold" if is_present else "")


def columns(names: list[str], cells: list[int], width: int) -> list[list[tuple[str, int]]]:
    """Return names in rows, read down each column, with the cells of each; as low as fits."""
    for many in range(len(names), 0, -1):
        tall = math.ceil(len(names) / many)
        starts = range(0, len(names), tall)
        rooms = [max(cells[start : start + tall]) + _COLUMN_GAP for start in starts]
        if sum(rooms) - _COLUMN_GAP <= width or many == 1:
            break
    return [
        [(names[at], room) for at, room in zip(range(row, len(names), tall), rooms, strict=False)]
        for row in range(tall)
    ]


def _row(account: Account, settings: Settings, width: int, *, chosen: bool) -> Content:
    glyphs, offer = settings.board.glyphs, account.offer
    mark, cut = sign("chosen", glyphs) if chosen else " ", sign("cut", glyphs)
    taken = f", {sign('done', glyphs)} taken" if offer is not None and offer.taken else ""
    room = min(NAME_WIDTH, max(_LEAST_PLACE, width - _BESIDE))
    place = padded(account.event.place, room, cut)
    text = f"{mark} {when(account, settings):16} {place} {account.words}{taken}"
    return Content.styled(text if cell_len(text) <= width else text[:width], "bold" * chosen)


def _click(text: str, call: str, style: str = "") -> Content:
    return Content.styled(text, style).stylize(Style.from_meta({"@click": call}))


def _wrapped(text: str, width: int, style: str = "") -> Iterator[Content]:
    for line in wrap(one_line(text, 1000), width):
        yield Content.styled(line, style)


def _title(text: str) -> Content:
    return Content.styled(text, "bold dim")


def _gap(airy: bool) -> list[Content]:
    return [Content("")] if airy else []
