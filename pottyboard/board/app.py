"""The board as an application: which screen comes first, colours, keys, the palette."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Iterable, Mapping
from typing import Any, ClassVar, Final

from textual import events
from textual.app import App, SystemCommand
from textual.binding import BindingType
from textual.screen import Screen
from textual.widget import Widget

from pottyboard.board.alarms.ringer import Answer, Ringer
from pottyboard.board.alarms.terminals import terminal_of
from pottyboard.board.alarms.voice import Voice
from pottyboard.board.control.coming_back import SAID, ComingBack
from pottyboard.board.control.drafts import Drafts
from pottyboard.board.control.entries import Clock, Entries
from pottyboard.board.control.in_turn import Followed, InTurn
from pottyboard.board.control.looking_ahead import looks_ahead
from pottyboard.board.control.other_dogs import OtherDogs
from pottyboard.board.dialogs.frame import DialogFrame
from pottyboard.board.keys.actions import EMERGENCY
from pottyboard.board.keys.bindings import binding
from pottyboard.board.keys.board_file import BoardFile, read_board_file
from pottyboard.board.keys.keymap import KeymapError, check_keymap, read_keymap
from pottyboard.board.palette import WithPalette, commands_of
from pottyboard.board.screens.day import DayScreen
from pottyboard.board.set_up.opening import setup_screen
from pottyboard.board.text.colours import EVENING, TERMINAL, THEMES, unknown_words
from pottyboard.board.widgets.top_line import PageTop
from pottyboard.core.log.ahead import ahead_words
from pottyboard.core.view.situation import Situation
from pottyboard.store import DogLog, Household, StoreError

_TYPED: Final = (events.Key, events.Paste)
_USED: Final = (*_TYPED, events.MouseDown, events.MouseScrollUp, events.MouseScrollDown)
"""What somebody does who is at the board."""

_STRANDED: Final = 0.05
"""Seconds between two looks whether a key under way has got lost with what was closed."""

_DEMO: Final = "DEMO"
_DEMO_SAID: Final = 15
"""Seconds for which a demo says what it is."""

_HEIGHTS: Final = [(0, "-low"), (24, "-high")]


class BoardApp(WithPalette):
    """Shows one dog's board; asks the set-up questions first where there is no dog yet."""

    TITLE = "pottyboard"
    CSS_PATH: ClassVar = ["styles/app.tcss", "styles/day_screen.tcss"]
    AUTO_FOCUS = ""
    ALLOW_SELECT = False
    ENABLE_COMMAND_PALETTE = True
    NOTIFICATION_TIMEOUT = 8
    VERTICAL_BREAKPOINTS = _HEIGHTS
    BINDINGS: ClassVar[list[BindingType]] = [binding(EMERGENCY)]

    def __init__(
        self,
        household: Household,
        dog_log: DogLog | None,
        now: Clock,
        environ: Mapping[str, str],
        *,
        set_up: bool = False,
        choose: bool = False,
        plain: bool = False,
        demo: str = "",
        ticks: Callable[[], float] = time.monotonic,
    ) -> None:
        """Show ``record``, or the set-up if it is None; ``now`` is the only clock of entries.

        ``ticks`` is a steady clock in seconds, which tells a slip of the finger from an entry.
        With ``set_up`` the set-up stands over the board at first, with ``choose`` the dogs to
        choose from. ``plain`` glyphs are for a terminal that shows no others.
        ``demo`` is what an invented log has to say of itself first: its top line says so too.
        """
        no_colour = "NO_COLOR" in environ
        super().__init__(ansi_color=True if no_colour else None)
        voice = Voice()
        self.driver_class = voice.over(self.driver_class)
        self.ringer: Final = Ringer(self.bell, voice, terminal_of(environ))
        self._household = household
        self._dog_log = dog_log
        self._now = now
        self._ticks = ticks
        self._set_up, self._choose, self._plain = set_up, choose, plain
        self._demo = demo
        self._day: DayScreen | None = None
        self._opened: list[Entries] = []
        self._coming_back = ComingBack(now, ticks)
        self._in_turn = InTurn()
        self.drafts: Final = Drafts()
        self.animation_level = "none"
        for theme in THEMES.values():
            self.register_theme(theme)
        file = read_board_file(household.folder)
        colours = environ.get("POTTYBOARD_COLOURS", "")
        self._begin_with(TERMINAL.name if no_colour else colours or file.colours)
        self._colours = file.colours
        self._own_keys = environ.get("POTTYBOARD_KEYS", "")
        wrong_keys = self._take_keys(file)
        self._wrong = (*file.problems, wrong_keys, unknown_words(colours))

    def _begin_with(self, colours: str) -> None:
        """Take the colours of the first paint."""
        if colours in THEMES and colours != EVENING.name:
            self.theme = colours
        else:
            # Setting the theme would read every style sheet twice.
            self.set_reactive(App.theme, EVENING.name)
            self.stylesheet.set_variables(self.get_css_variables())

    def _take_keys(self, file: BoardFile) -> str:
        """Take the household's keys, those typed for this time first; return what is wrong."""
        keymap, wrong = dict(file.keys), ""
        try:
            keymap = check_keymap({**keymap, **read_keymap(self._own_keys)})
        except KeymapError as error:
            wrong = f"Your keys are not used: {error}"
        self.keymap = keymap
        self.set_keymap(keymap)
        return wrong

    def get_default_screen(self) -> Screen[Any]:
        """Return the day as the first screen, if there is a dog: nothing is painted before it.

        Where its answers do not fit, the set-up that mends them comes first.
        """
        if self._dog_log is not None:
            try:
                return self._day_of(self._dog_log)
            except StoreError:
                if not self._set_up:
                    raise
        return super().get_default_screen()

    def on_ready(self) -> None:
        """Look for garbage from the first paint on, but never through what the start has made."""
        gc.freeze()
        gc.enable()

    def on_mount(self) -> None:
        """Open the set-up on a first start, or if it was asked for."""
        self._watch = self.set_interval(_STRANDED, self._find_stranded, pause=True)
        if self._day is not None and self._choose:
            self.action_dogs()
        elif self._day is None or self._set_up:
            self.action_setup()

    @property
    def standing(self) -> Situation | None:
        """What the board shows, also under whatever covers it."""
        return None if self._day is None else self._day.situation

    def on_day_screen_looked(self) -> None:
        """Let what covers the board say how things stand by now."""
        for part in (*self.screen.query(PageTop), *self.screen.query(DialogFrame)):
            part.look()
        day = self._day
        if day is not None and (problem := self.ringer.news()):
            day.say(problem, wrong=True)
        if day is None or any(getattr(each, "stays_open", False) for each in self.screen_stack):
            return
        state, covered = day.situation.next_break.state, self.screen is not day
        typing = hasattr(self.focused, "cursor_blink")  # a line or an area for typing has a cursor
        may_open = not (covered or self._demo) and self._coming_back.is_somebody_there
        if self._coming_back.is_due(state, covered=covered, typing=typing):
            self._come_back(day)
        elif may_open and looks_ahead(day.situation, self._household, day.dog):
            self.action_page("ahead")

    def _come_back(self, day: DayScreen) -> None:
        """Close whatever lies over the board; what was typed there is kept."""
        kept = False
        while self.screen is not day:
            over = self.screen
            kept |= self.drafts.keep(over)
            over.dismiss(None)
        self._coming_back.came()
        day.tick()
        if kept:
            day.say(
                "Back on the board. What you typed is kept: it is there when you open it again."
            )

    # --- Keys in turn -----------------------------------------------------------------------------

    async def on_event(self, event: events.Event) -> None:
        """Note what is done at the board; a key or a paste waits until the one before is through.

        What was meant for a dialog that has just gone does nothing but say so.
        """
        if isinstance(event, _TYPED) and not event.is_forwarded:
            if self._in_turn.admits(event):
                await self._hand_on(event)
        elif not (isinstance(event, _USED) and self._is_held_back(event)):
            await super().on_event(event)

    async def _hand_on(self, event: events.Event) -> None:
        """Hand an event to what has the focus, and send word after it."""
        if not self._is_held_back(event):
            await super().on_event(event)
        self._in_turn.follow(self._has_focus)
        self._watch.resume()

    def on_followed(self, back: Followed) -> None:
        """Hand the next key on if the one before is through, or else wait for what it has begun."""
        if not self._in_turn.is_awaited(back):
            return
        focus = self._has_focus
        if back.has_settled(focus):
            self.call_next(self._go_on)
        else:
            self._in_turn.follow(focus, back.rounds + 1)

    def _find_stranded(self) -> None:
        """Go on where what had the focus has gone, and with it the word that was sent after."""
        if self._in_turn.is_stranded:
            self._in_turn.follow(self._has_focus)

    async def _go_on(self) -> None:
        event = self._in_turn.next()
        if event is None:
            self._watch.pause()
        else:
            await self._hand_on(event)

    @property
    def _has_focus(self) -> Widget:
        return self.focused or self.screen

    def _is_held_back(self, event: events.Event) -> bool:
        """Note that somebody is at the board; return whether this was meant for what has gone."""
        if event.is_forwarded:
            return False
        self._coming_back.touch()
        if self._day is None or not self._coming_back.holds_key_back():
            return False
        self._day.say(SAID)
        return True

    def on_app_focus(self) -> None:
        """Look at once when the terminal's window is back in front."""
        if self._day is not None:
            self._day.tick()

    def _day_of(self, dog_log: DogLog) -> DayScreen:
        self._dog_log = dog_log
        entries, others = self._seen_from(dog_log)
        self._day = DayScreen(entries, self.size, others, self.ringer, _DEMO if self._demo else "")
        if self._demo:
            self.notify(self._demo, timeout=_DEMO_SAID, markup=False)
        ahead = ahead_words(entries.events, entries.now(), entries.settings)
        told = (*dog_log.notices, *dog_log.kept, ahead, *self._wrong)
        for notice in dict.fromkeys(told):
            if notice:
                self.notify(notice, severity="warning", timeout=30, markup=False)
        return self._day

    def _seen_from(self, dog_log: DogLog) -> tuple[Entries, OtherDogs]:
        """Return the log of a dog, and the other dogs of the home."""
        entries = Entries(dog_log, self._now, self._ticks, self._household, plain=self._plain)
        self._opened.append(entries)
        return entries, OtherDogs(self._household, dog_log.folder, self._now, self.ringer.clocks)

    def _turn_to(self, dog_log: DogLog) -> None:
        """Show another dog's board in place of this one."""
        assert self._day is not None
        try:
            entries, others = self._seen_from(dog_log)
        except StoreError as error:
            self._day.say(str(error), wrong=True)
            return
        self._dog_log = dog_log
        self._day.turn_to(entries, others)

    def finish(self, seconds: float = 6.0) -> int:
        """Give what is on its way to the disk some seconds more; return what is not saved."""
        return sum(entries.finish(seconds) for entries in self._opened)

    # --- Actions of the board ---------------------------------------------------------------------

    def action_alarm(self, answer: Answer) -> None:
        """Answer the alarm: somebody goes now, or wants 5 more minutes. It is no entry."""
        day = self._day
        assert day is not None
        day.tick()
        said = self.ringer.answer(answer, day.dog, day.situation, day.others.called)
        day.show()
        day.say(said)

    def action_setup(self) -> None:
        """Open the set-up: the first one, or to change an answer later."""
        try:
            screen = setup_screen(
                self._household, self._dog_log, self._now, whole=self._set_up, plain=self._plain
            )
        except StoreError as error:
            if self._day is None:
                raise
            self._day.say(str(error), wrong=True)
            return

        def closed(saved: DogLog | None) -> None:
            if self._day is not None:
                self._take_up()
                self._day.tick()
                self._say_if_kept(saved, screen.draft_name)
            elif saved is None:
                self.exit(0)
            else:
                self.push_screen(self._day_of(saved))

        self.push_screen(screen, closed)

    def action_dogs(self) -> None:
        """Open the dogs of the home: another one's board, or the set-up of one more."""
        from pottyboard.board.screens.dogs import ANOTHER, DogsScreen

        day = self._day
        assert day is not None

        def closed(folder: str | None) -> None:
            if folder == ANOTHER:
                self._set_up_another()
            elif folder is not None and folder != day.entries.dog_log.folder.name:
                self._turn_to(self._household.in_folder(folder))
            else:
                day.tick()
            if self._set_up and folder != ANOTHER:
                self._set_up = False
                self.action_setup()

        self.push_screen(DogsScreen(self._household, day.entries), closed)

    def _take_up(self) -> None:
        """Take up keys and colours that the set-up has changed."""
        file = read_board_file(self._household.folder)
        self._take_keys(file)
        if file.colours != self._colours:
            self._colours = file.colours
            self.theme = file.colours or EVENING.name

    def _set_up_another(self) -> None:
        def closed(saved: DogLog | None) -> None:
            if saved is not None:
                self._turn_to(saved)
            self._say_if_kept(saved, screen.draft_name)

        screen = setup_screen(self._household, None, self._now, whole=True, plain=self._plain)
        self.push_screen(screen, closed)

    def _say_if_kept(self, saved: DogLog | None, name: str) -> None:
        """Say that a set-up was left with its answers kept, and not saved."""
        if saved is None and self._day is not None and self.drafts.holds(name):
            self._day.say("Not saved. What you typed is kept: it is there when you open it again.")

    def action_page(self, name: str) -> None:
        """Open one of the pages, over whatever is open (see :func:`page_named`).

        A message that was about what lies under the page goes.
        """
        from pottyboard.board.pages import page_named

        if self._day is not None:
            page = page_named(name, self._day.entries)
            if type(page) is not type(self.screen):
                self.clear_notifications()
                self.push_screen(page)

    def action_report(self) -> None:
        """Ask for a helper's message, and save what it says."""
        from pottyboard.board.dialogs.report import ReportDialog

        day = self._day
        assert day is not None

        def closed(said: str | None) -> None:
            if said is not None:
                day.change(lambda: said)

        self.push_screen(ReportDialog(day.entries), closed)

    def action_colours(self) -> None:
        """Change to the next colours."""
        names = list(THEMES)
        at = names.index(self.theme) if self.theme in names else -1
        self.theme = names[(at + 1) % len(names)]

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Return the palette's commands: the same actions that the keys have."""
        return commands_of(screen, self.keymap) if isinstance(screen, DayScreen) else ()
