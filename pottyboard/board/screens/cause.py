"""The page of causes: why each accident likely happened, and one change for tomorrow."""

from __future__ import annotations

import math
from collections.abc import Iterator
from textwrap import wrap
from typing import ClassVar, Final

from rich.cells import cell_len
from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.style import Style

from pottyboard.board.screens.base import UNDO, UNDO_KEY, UNDOES, ChoicePage, Written, closing
from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.safe_text import one_line, padded
from pottyboard.board.text.words import NAME_WIDTH
from pottyboard.board.widgets.key_line import Key
from pottyboard.core.accidents.accident_views import Account
from pottyboard.core.model.describe import CAUSE_WORDS
from pottyboard.core.model.events import Event
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


class CauseScreen(ChoicePage[None]):
    """Shows one accident at a time; each cause has a key, and so has the change."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("t,enter", "take", "take the change", show=False),
        Binding("e", "ask_rest", "ask the rest", show=False),
        UNDO,
        closing("causes"),
    ]

    @property
    def account(self) -> Account | None:
        """The accident that is shown."""
        accounts = self.situation.accidents
        return accounts[min(self.at, len(accounts) - 1)] if accounts else None

    def ends(self) -> tuple[str, ...]:
        """Return the dog, and which accident of how many is shown."""
        count = self.count()
        number = f"{self.at + 1} of {count}" if count else "none"
        return self.titled("why it happened indoors"), number

    def count(self) -> int:
        """Return how many accidents there are."""
        return len(self.situation.accidents)

    def write(self, width: int, height: int) -> Written:
        """Return the page of the chosen accident."""
        return page(self.situation, self.at, width, height)

    def hints(self) -> Iterator[Key]:
        """Yield the keys that do something now."""
        account = self.account
        if account is None:
            return
        if account.offer is not None and account.offer.measure and not account.offer.taken:
            yield Key("t", "take the change", "screen.take")
        yield Key("1-0 a-d", "cause")
        yield Key("e", "ask the rest", "screen.ask_rest")
        yield from self.choosing()
        yield UNDO_KEY

    # --- Doing ------------------------------------------------------------------------------------

    def on_key(self, event: events.Key) -> None:
        """Take the key of a cause."""
        if event.character is not None and event.character in (*CAUSE_KEYS, LOG_KEY):
            event.stop()
            self.action_say_cause(event.character)

    def action_say_cause(self, key: str) -> None:
        """Save what the household says was the cause, or leave it to the log again."""
        account = self.account
        if account is not None:
            cause = CAUSE_KEYS.get(key, "")
            self.change(lambda: self._say_cause(account, cause))

    def _say_cause(self, account: Account, cause: str) -> str:
        self.entries.complete(account.event.id, {"cause": cause}, joined=False)
        said = f"“{CAUSE_WORDS[cause]}”" if cause else "as the log says"
        return f"Cause of {self.situation.settings.clock(account.event.at)}: {said}. {UNDOES}"

    def action_take(self) -> None:
        """Take the change into the routine."""
        account = self.account
        offer = None if account is None else account.offer
        if account is None or offer is None:
            return
        if offer.taken or not offer.measure:
            self.say("Taken already." if offer.taken else "Nothing to take: this is for you to do.")
            return
        entry = self.entries.make(
            "routine", measure=offer.measure, minutes=offer.minutes, about=account.event.id
        )
        self.change(lambda: self._take(entry, offer.words))

    def _take(self, entry: Event, words: str) -> str:
        self.entries.begin(entry)
        return f"Taken: {words} {UNDOES}"

    def action_ask_rest(self) -> None:
        """Ask what is not yet known about the accident."""
        from pottyboard.board.dialogs.accident import AccidentDialog

        account = self.account
        if account is None:
            return
        dialog = AccidentDialog(self.entries, account.event, several_dogs=self.entries.several_dogs)
        if not dialog.left_open:
            self.say(
                "Nothing left to ask. To change an answer, go back (esc), select it and press e."
            )
            return
        self.app.push_screen(dialog, lambda _: self.show())


# --- The page ------------------------------------------------------------------------------------


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
