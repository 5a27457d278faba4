"""The Away screen: the days on which everybody is away, what is planned for them, what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import groupby, zip_longest
from textwrap import wrap
from typing import ClassVar, Final

from rich.cells import cell_len
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content

from pottyboard.board.control.entries import Entries
from pottyboard.board.screens.base import UNDO, UNDOES, PageScreen, closing
from pottyboard.board.text.glyphs import GlyphSet, kind_glyph, sign
from pottyboard.board.text.inked import TEXT, Row, inked
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.away_week import legend, week
from pottyboard.board.widgets.key_line import Key
from pottyboard.core.away.outlook import AwayOutlook, OutlookDay
from pottyboard.core.away.overview import AwaySituation, away_situation
from pottyboard.core.away.practice import STEPS, Ladder
from pottyboard.core.away.proposals import agreeing, ask_words, leaving, telling, told_words
from pottyboard.core.away.schedule import AwayDay, Visit, money_words, visits_words
from pottyboard.core.model.events import KINDS, Event
from pottyboard.core.model.localtime import at_most_words, count_words, date_words, span_words
from pottyboard.core.model.settings import Settings

_WEEK: Final = timedelta(days=7)
_MOST_WEEKS: Final = 8

LEAST_WIDTH: Final = 57
"""Cells under which the page no longer fits."""

_SIDE_BY_SIDE_FROM: Final = 2 * LEAST_WIDTH + 3
_MOST_TEXT: Final = 78
_KEPT: Final = "\N{NO-BREAK SPACE}"
_SHOWN_PRACTICES: Final = 3
_LONGEST: Final = 300

_STYLES: Final = {
    **TEXT,
    "away": "$text-primary",
    "alone": "$text-accent",
    "visit": "bold $text-success",
    "short": "bold $text-error",
}
"""How each ink looks; whatever it says is said by a glyph or a word as well."""


class AwayScreen(PageScreen[None]):
    """One page that scrolls; escape, q and its own key close it, the arrows turn weeks."""

    BINDINGS: ClassVar[list[BindingType]] = [
        closing("away"),
        Binding("i", "app.report", "visit report", show=False),
        Binding("left", "turn(-1)", "the week before", show=False),
        Binding("right", "turn(1)", "the week after", show=False),
        Binding("t", "told", "told the helpers", show=False),
        Binding("y", "settle(True)", "agreed", show=False),
        Binding("n", "settle(False)", "leave as it is", show=False),
        UNDO,
    ]

    def __init__(self, entries: Entries) -> None:
        """Plan ahead from the log of ``entries``."""
        self._weeks = 0
        super().__init__(entries)

    def look(self) -> None:
        """Plan the days away, from this week on or from the one that was turned to."""
        log, now = self.entries, self.situation.now
        first: date | None = None
        if self._weeks:
            today = now.astimezone(log.settings.zone).date()
            first = max(today, log.settings.first_date) + self._weeks * _WEEK
        self._away = away_situation(log.settings, log.events, now, first=first)

    def ends(self) -> tuple[str, ...]:
        """Return the dog, and which days are planned."""
        days = self._away.plan.days
        first, last = days[0].date, days[-1].date
        span = f"{first.day} {first:%b} to {last.day} {last:%b}"
        return self.titled("away from home"), span

    def page(self, width: int, height: int) -> Content:
        """Return the plan."""
        return inked(rows(self._away, self.entries.settings, width), _STYLES)

    def hints(self) -> Iterator[Key]:
        """Yield the ways on."""
        if self._away.plan.proposals:
            yield Key("y", "agreed", "screen.settle(True)")
            yield Key("n", "leave it", "screen.settle(False)")
        if self._untold():
            yield Key("t", "told them", "screen.told")
        yield Key("i", "visit report", "app.report")
        yield Key(self.arrows("left"), "week before", "screen.turn(-1)")
        yield Key(self.arrows("right"), "after", "screen.turn(1)")
        yield Key(self.arrows("up", "down"), "scroll")

    def _untold(self) -> tuple[Visit, ...]:
        """Return the visits to come of which nobody was told."""
        plan, now = self._away.plan, self.entries.situation.now
        return tuple(visit for visit in plan.untold if visit.at > now)

    def action_told(self) -> None:
        """Note that the helpers were told of the visits that the page shows."""
        if visits := self._untold():
            log = self.entries
            entries = telling(visits, log.now(), "said", self.situation.on_duty)
            self.change(lambda: f"{self._said(log.add_all(entries))} They stay. {UNDOES}")
        else:
            self.say("There is no visit to come of which nobody was told.")

    def _said(self, entries: Sequence[Event]) -> str:
        return f"Told: {told_words(entries, self.entries.settings)}."

    def action_settle(self, agreed: bool) -> None:
        """Answer the first proposal: the helper agreed to it, or it is left as it was agreed."""
        proposals = self._away.plan.proposals
        if not proposals:
            self.say("There is no change to what was agreed.")
            return
        answer = agreeing if agreed else leaving
        entry = answer(proposals[0], self.entries.now(), self.situation.on_duty)
        self.change(lambda: f"{self.entries.save(entry)} {UNDOES}")

    def action_turn(self, step: int) -> None:
        """Go to the week before or after, from this week on."""
        self._weeks = min(max(self._weeks + step, 0), _MOST_WEEKS)
        self.look()
        self.show()
        self.query_one("#page", VerticalScroll).scroll_home(animate=False)


# --- The page ------------------------------------------------------------------------------------


def rows(away: AwaySituation, settings: Settings, width: int) -> tuple[Row, ...]:
    """Return the rows of the page, each as pieces of one ink."""
    width = max(LEAST_WIDTH, width)
    glyphs = settings.board.glyphs
    half = (width - 3) // 2 if width >= _SIDE_BY_SIDE_FROM else width
    text = min(half, _MOST_TEXT)
    top = [
        *_lead(away, settings, width),
        (),
        *week(away.plan.days, settings, width, glyphs),
        *_paragraph(legend(glyphs), "dim", width),
        (),
    ]
    days = list(_days(away.plan.days, settings, text))
    beside = [*_outlook(away.outlook, settings, text), *_practice(away.ladder, settings, text)]
    if half < width:
        return (*top, *_side_by_side(days, beside, half + 3))
    return (*top, *days, (), *beside)


def _side_by_side(left: Sequence[Row], right: Sequence[Row], column: int) -> Iterator[Row]:
    """Yield rows in two columns, the second from ``column`` on."""
    for one, other in zip_longest(left, right, fillvalue=()):
        used = sum(cell_len(text) for text, _ in one)
        yield (*one, (" " * (column - used), ""), *other) if other else one


def _paragraph(text: str, ink: str, width: int, first: str = "", later: str = "") -> Iterator[Row]:
    safe = one_line(text, _LONGEST)
    for line in wrap(safe, width, initial_indent=first, subsequent_indent=later):
        yield ((line, ink),)


# --- From the top ---------------------------------------------------------------------------------


def _lead(away: AwaySituation, settings: Settings, width: int) -> Iterator[Row]:
    """Yield what matters first: who is due now, then the plan in a sentence."""
    plan, watching = away.plan, away.watch
    if watching is not None:
        mark = f"{sign('problem', settings.board.glyphs)} " if watching.state == "late" else ""
        ink = "short" if watching.state == "late" else "lead"
        yield from _paragraph(f"{mark}Now: {watching.words}.", ink, width)
    if not any(day.alone for day in plan.days):
        yield from _paragraph("Somebody is home on all of these days.", "lead", width)
        yield from _paragraph(
            "Who is away when, and who can visit, stands in the set-up: days away, leaving, "
            "returning, helpers.", "", width,
        )  # fmt: skip
        return
    usual = f", mostly at {_listed([f'{at:%H:%M}' for at in plan.usual])}" if plan.usual else ""
    yield from _paragraph(f"{plan.words(settings.home.currency)}{usual}.", "lead", width)
    if plan.untold:
        untold = count_words(len(plan.untold), "visit")
        words = f"Nobody was told of {untold} yet: the calendar or the sheet tells, or t here."
        yield from _paragraph(words, "", width)
    if plan.proposals:
        count = count_words(len(plan.proposals), "change")
        words = f"{count} to ask for: y if the first is agreed, n to leave it as it is."
        yield from _paragraph(words, "", width)
    if not settings.home.helpers:
        yield from _paragraph(
            "Nobody can visit yet: write who, and between which hours, into the set-up.", "", width
        )


def _listed(texts: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(texts[:-1]), texts[-1])))


# --- Day by day -----------------------------------------------------------------------------------


def _days(days: Sequence[AwayDay], settings: Settings, width: int) -> Iterator[Row]:
    """Yield each day in words, days in a row that are alike as one."""
    yield (("Day by day", "heading"),)
    for said, run in groupby(days, lambda day: tuple(_day(day, settings, width))):
        alike = list(run)
        yield from _paragraph(
            f"{date_words(alike[0].date, alike[-1].date)}: {_alone(alike[0], settings)}",
            "lead",
            width,
        )
        yield from said


def _alone(day: AwayDay, settings: Settings) -> str:
    if not day.alone:
        return "somebody is home"
    spans = (f"{settings.clock(a.start)} to {settings.clock(a.end)}" for a in day.alone)
    visits = visits_words(len(day.visits), day.cost, settings.home.currency)
    if day.over:
        return f"alone {', '.join(spans)}, that is over" + (f"; {visits}" if day.visits else "")
    return f"alone {', '.join(spans)}, at most {at_most_words(day.limit)} at a time; {visits}"


def _day(day: AwayDay, settings: Settings, width: int) -> Iterator[Row]:
    """Yield what is planned for a day: first what cannot be covered and what would."""
    glyphs = settings.board.glyphs
    if day.lacks:
        yield from _paragraph(day.lacks, "short", width, f"  {sign('problem', glyphs)} ", "    ")
    if day.advice:
        yield from _paragraph(day.advice, "words", width, "    ", "    ")
    for change in day.proposals:
        words = ask_words(change, settings)
        yield from _paragraph(words, "lead", width, f"  {sign('chosen', glyphs)} ", "    ")
    if not day.breaks or day.over:
        return
    visits = {visit.at: visit for visit in day.visits}
    for planned in day.breaks:
        visit = visits.get(planned.at) if planned.kind == "visit" else None
        if visit is None:
            mark, words = sign("break", glyphs), f"break {planned.words}"
        else:
            mark = kind_glyph(KINDS["visit"], glyphs)
            price = money_words(visit.cost, settings.home.currency)
            price = f", {price}{', told' if visit.told else ''}"
            words = f"{one_line(visit.helper, 24)}{price}: {visit.why}"
        yield from _entry(settings.clock(planned.at), mark, words, width)
    for meal in day.meals:
        if meal.words:
            words = f"meal, not {settings.clock(meal.usual)}: {meal.words}"
            yield from _entry(
                settings.clock(meal.at), kind_glyph(KINDS["meal"], glyphs), words, width
            )


def _entry(at: str, mark: str, words: str, width: int) -> Iterator[Row]:
    yield from _paragraph(words, "words", width, f"  {at}  {mark} ", " " * 11)


# --- What it costs, and the practice --------------------------------------------------------------


def _outlook(outlook: AwayOutlook, settings: Settings, width: int) -> Iterator[Row]:
    """Yield visits and cost day by day as the interval moves, with the totals."""
    days, glyphs = outlook.clear.days, settings.board.glyphs
    if not days or not (outlook.clear.visits or outlook.clear.uncovered):
        return
    yield (("What visits cost as breaks get further apart", "heading"),)
    head = f"{'every':>6} {kind_glyph(KINDS['visit'], glyphs):>2} {'cost':>8}"
    yield ((f"{'':14}{'all goes well':>18}{'1 accident a week':>21}", "dim"),)
    yield ((f"{'':14}{head}   {head}", "dim"),)
    for clear, slips in zip(days, outlook.slips.days, strict=True):
        name = f"{clear.number:>2} {clear.date:%a} {clear.date.day:>2} {clear.date:%b} "
        fields = "".join(_course(day, glyphs) for day in (clear, slips))
        yield ((f"{name}{fields}".rstrip(), "words"),)
    gap, slip = sign("problem", glyphs), sign("missed", glyphs)
    marks = f"{gap} a gap that nobody covers, {slip} an accident that evening"
    yield from _paragraph(marks, "dim", width)
    for course in (outlook.clear, outlook.slips):
        words = course.words(settings.home.currency)
        yield from _paragraph(f"Up to day {days[-1].number}, {words}", "lead", width)
    yield ()


def _course(day: OutlookDay, glyphs: GlyphSet) -> str:
    gap = " " if day.covered else sign("problem", glyphs)
    slip = sign("missed", glyphs) if day.slip else " "
    cost = money_words(day.cost) if day.visits else ""
    return f"{span_words(day.interval):>6} {day.visits or '':>2} {cost:>8} {gap}{slip}"


def _practice(ladder: Ladder, settings: Settings, width: int) -> Iterator[Row]:
    """Yield where the practice stands, what is next, and how it went so far."""
    glyphs = settings.board.glyphs
    yield (("Practice absences", "heading"),)
    if ladder.concern:
        mark = f"{sign('problem', glyphs)} "
        yield from _paragraph(_sentence(ladder.concern), "short", width, mark, "  ")
    yield from _paragraph(_sentence(ladder.words), "lead", width)
    if ladder.rungs:
        whole = (span_words(rung).replace(" ", _KEPT) for rung in ladder.rungs)
        times = f" {sign('chosen', glyphs)} ".join(whole)
        today = f"; {ladder.left_today} more today" if ladder.left_today else "; enough for today"
        for line in wrap(times + today, width - 2):
            yield ((f"  {line.replace(_KEPT, ' ')}", "words"),)
        for number, step in enumerate(STEPS, 1):
            yield from _paragraph(step, "dim", width, f"  {number} ", "    ")
    for practice in reversed(ladder.done[-_SHOWN_PRACTICES:]):
        at = practice.at.astimezone(settings.zone)
        how = practice.how or "not said how"
        yield ((f"  {at:%a %H:%M}  {span_words(practice.minutes)}, {how}", "words"),)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."
