"""The plan of the next days as an iCalendar file (RFC 5545) for the household's phones.

Breaks, meals, visits and the last thing, with alarms (s3.6.6), renewed by writing it again over
itself. The plan moves with what happens, so that a break has no number that stays: the entries of
the earlier file are matched with the new ones, day by day and kind by kind, so that as little as
possible moves. What is matched keeps its UID; what has no partner any more is called off.

The icalendar library is loaded only when a calendar is made.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from itertools import count
from typing import TYPE_CHECKING, Final

from msgspec import Struct

from pottyboard.core.coming.days_ahead import Basis, Coming
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import count_words
from pottyboard.core.model.printable import printable
from pottyboard.core.model.settings import Settings
from pottyboard.core.statistics.alignment import aligned
from pottyboard.papers.calendars import renewal
from pottyboard.papers.calendars.renewal import DAY, Known

if TYPE_CHECKING:
    from icalendar import Event

PRODUCT: Final = "-//pottyboard//plan 1//EN"
_OTHER: Final = "The file is not a calendar of the plan: name another file, or move this one away."
_KIND: Final = "X-POTTYBOARD-KIND"
_SEEN: Final = ("DTSTART", "DTEND", "SUMMARY", "STATUS")
_BASIS: Final[dict[Basis, str]] = {
    "log": "Planned from the log so far. It moves with what happens: the board knows.",
    "plan": "If all goes to plan until then. In the morning the board knows more.",
    "routine": "From the routine of the set-up. The breaks in between are planned later.",
}
_TOLD: Final = "As the helper was told: it stays at this time."
_UNTOLD: Final = "Nobody was told of it yet: pottyboard visits or the sheet tells."
_SOONER: Final = "At a signal it goes out at once."

_Group = tuple[str, str]
"""The date and the kind by which entries of two files are compared."""


class Renewed(Struct, frozen=True):
    """A calendar, and how many of its entries are to come, new, changed (as far as a phone shows
    it unopened) and called off."""

    content: bytes
    coming: int
    new: int
    changed: int
    called_off: int

    @property
    def words(self) -> str:
        """What the calendar holds and what has changed in it, in a line."""
        told = (
            (self.new, "new"),
            (self.changed, "changed"),
            (self.called_off, "called off"),
        )
        said = ", ".join(f"{number} {words}" for number, words in told if number)
        entries = count_words(self.coming, "entry", "entries")
        return f"{entries} to come: {said or 'nothing has changed'}"


def plan_calendar(
    settings: Settings,
    coming: Iterable[Coming],
    now: datetime,
    days: Sequence[date],
    *,
    household: str = "",
    alarm: float | None = float(figures.CALENDAR_ALARM),
    numbers: bool = False,
    earlier: bytes | None = None,
) -> Renewed:
    """Return what is ``coming`` on these ``days`` as a calendar in UTF-8.

    ``household`` is a name that stays the same, such as the dog's folder. An alarm rings so many
    minutes ahead of a break or a meal, never where None; ``numbers`` writes whom to call into each
    entry. ``earlier`` is the file that this one replaces. Raises ``CalendarError`` if that is not
    a calendar of the plan.
    """
    now = now.astimezone(UTC).replace(microsecond=0)
    known = {} if earlier is None else renewal.known_in(earlier, PRODUCT, _OTHER)
    pieces = tuple(coming)
    uids = _uids(settings, household, pieces, known, now)
    entries = [
        _entry(settings, piece, uid, alarm, numbers=numbers)
        for piece, uid in zip(pieces, uids, strict=True)
    ]
    dates, kept = {f"{day:%Y%m%d}" for day in days}, set(uids)
    gone = [
        renewal.cancelled(before.entry)
        for uid, before in known.items()
        if uid not in kept and before.start > now and _group_of(before)[0] in dates
    ]
    made = renewal.empty(PRODUCT, f"{printable(settings.dog.name)}: breaks and meals")
    content = renewal.written(made, settings.home.zone, (*entries, *gone), now, known)
    after = renewal.known_in(content, PRODUCT, _OTHER)
    changed = {uid for uid in after if uid in known and _seen(after[uid]) != _seen(known[uid])}
    called_off = {uid for uid in changed if after[uid].is_called_off}
    new = len(after.keys() - known.keys())
    return Renewed(content, len(pieces), new, len(changed - called_off), len(called_off))


# --- Which entry is which -------------------------------------------------------------------------


def _uids(
    settings: Settings,
    household: str,
    pieces: Sequence[Coming],
    known: Mapping[str, Known],
    now: datetime,
) -> list[str]:
    """Return a UID for each piece: that of the entry it continues, otherwise one of its own."""
    before: dict[_Group, list[str]] = defaultdict(list)
    for uid, each in sorted(known.items(), key=lambda item: (item[1].start, item[0])):
        if each.start > now and not each.is_called_off:
            before[_group_of(each)].append(uid)
    groups: dict[_Group, list[int]] = defaultdict(list)
    for place, piece in enumerate(pieces):
        groups[f"{piece.date:%Y%m%d}", piece.kind].append(place)
    found: dict[int, str] = {}
    for group, places in groups.items():
        theirs = before[group]
        pairs = aligned(
            [pieces[place].at.timestamp() / 60 for place in places],
            [known[uid].start.timestamp() / 60 for uid in theirs],
            float(figures.CALENDAR_SAME),
        )
        for mine, other in pairs:
            if mine is not None and other is not None:
                found[places[mine]] = theirs[other]
    taken = set(found.values()) | {uid for uids in before.values() for uid in uids}
    for place, piece in enumerate(pieces):
        if place not in found:
            own = _own_uids(settings, household, piece)
            found[place] = next(uid for uid in own if uid not in taken)
            taken.add(found[place])
    return [found[place] for place in range(len(pieces))]


def _own_uids(settings: Settings, household: str, piece: Coming) -> Iterator[str]:
    """Yield UIDs made of what a piece is and when: the first is the same in every new file."""
    who = household or settings.dog.name
    arrived = settings.dog.arrived.astimezone(UTC).isoformat(timespec="minutes")
    clock = settings.clock(piece.at)
    for turn in count():
        yield renewal.uid_from("plan", who, arrived, piece.date, piece.kind, clock, turn)


def _seen(known: Known) -> tuple[str, ...]:
    """Return what somebody sees of an entry in a phone before they open it."""
    entry = known.entry
    return tuple(str(entry.content_line(name, entry[name])) for name in _SEEN if name in entry)


def _group_of(known: Known) -> _Group:
    return str(known.entry.get(DAY, "")), str(known.entry.get(_KIND, ""))


# --- One entry ------------------------------------------------------------------------------------


def _entry(
    settings: Settings, piece: Coming, uid: str, alarm: float | None, *, numbers: bool
) -> Event:
    from icalendar import Event

    instants = (_whole(piece.at), _whole(piece.until))
    start, end = renewal.as_written(instants, settings.home.zone)
    entry, summary = Event(), _summary(settings, piece)
    entry.add("uid", uid)
    entry.add("dtstart", start)
    entry.add("dtend", end)
    entry.add("summary", summary)
    entry.add("description", "\n".join(_description(settings, piece, numbers=numbers)))
    untold = piece.kind == "visit" and not piece.told
    entry.add("status", "TENTATIVE" if untold else "CONFIRMED")
    entry.add("class", "PRIVATE")
    entry.add("transp", "TRANSPARENT")  # nobody is busy because the dog goes out
    entry.add(DAY, f"{piece.date:%Y%m%d}")
    entry.add(_KIND, piece.kind)
    ahead = None if alarm is None else _alarm(settings, piece, alarm)
    if ahead is not None:
        words = f"{summary} at {settings.clock(piece.at)}"
        entry.add_component(renewal.alarm_before(ahead, words))
    return entry


def _whole(at: datetime) -> datetime:
    """Return the full minute: a calendar has no seconds (s5), and too early is the safer side."""
    return at.replace(second=0, microsecond=0)


def _alarm(settings: Settings, piece: Coming, alarm: float) -> float | None:
    """Return how many minutes ahead a piece rings, None if not at all.

    In the quiet hours only a planned night break, leaving and the last thing do, as on the board;
    where the hours end before the piece itself, it rings at its time. A visit rings for its helper.
    """
    quiet = settings.board.alarms
    if piece.kind == "visit":
        return None
    for ahead in (alarm, 0.0):
        clock = (piece.at - timedelta(minutes=ahead)).astimezone(settings.zone).time()
        if piece.in_quiet or not quiet.is_quiet(clock):
            return ahead
    return None


def _summary(settings: Settings, piece: Coming) -> str:
    dog = printable(settings.dog.name)
    if piece.kind == "visit":
        return f"{printable(piece.helper)} visits {dog}" + ("" if piece.told else " (not told yet)")
    return f"{dog}: {'night break' if piece.kind == 'night' else piece.kind}"


def _description(settings: Settings, piece: Coming, *, numbers: bool) -> Iterator[str]:
    home = settings.home
    if piece.kind == "visit":
        yield _TOLD if piece.told else _UNTOLD
    elif piece.words and piece.words != piece.kind:
        yield f"Why: {printable(piece.words)}."
    if piece.kind in ("break", "last thing", "night"):
        spot = f" ({printable(home.spot)})" if home.spot else ""
        yield f"On the lead to the spot{spot}. {_SOONER}"
    if not piece.told:
        yield _BASIS[piece.basis]
    if numbers:
        yield from (printable(str(number)) for number in home.numbers)
