"""The board's alarm: rings by every means that the household has chosen."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final, Literal, Protocol, cast

from pottyboard.board.alarms.notifier import Notifier
from pottyboard.board.alarms.terminals import Terminal
from pottyboard.board.alarms.when import AlarmClocks
from pottyboard.core.model.alarms import Alarms
from pottyboard.core.view.in_short import called, in_short_of
from pottyboard.core.view.situation import Situation

if TYPE_CHECKING:
    from pottyboard.board.alarms.voice import Voice

TRIAL: Final = "Trial of the alarm"
TRIAL_BODY: Final = "This is how a break that is due makes itself known."
"""What a trial says by way of a break and its reason."""

Answer = Literal["going", "more", "stays"]
"""What somebody may answer an alarm: they go now, they want 5 more minutes, they do not go."""

_PROTOCOLS: Final = {"osc9": "OSC 9", "osc99": "OSC 99", "osc777": "OSC 777"}


class Ringer:
    """Rings for a situation: the bell, the terminal's notice, the window's title, a program.

    ``clocks`` remember of each dog when it has rung, and what was answered.
    """

    def __init__(self, bell: Callable[[], None], voice: Voice, terminal: Terminal) -> None:
        """Ring by ``bell`` and ``voice``, as the ``terminal`` understands it."""
        self._bell, self._voice, self._terminal = bell, voice, terminal
        self._notifier = Notifier()
        self.clocks: Final = AlarmClocks()

    def look(self, dog: str, situation: Situation, first: Situation) -> None:
        """Ring for the dog in the folder ``dog`` if it is time; name the window after the dog whose
        break is ``first``."""
        if self.clocks.rings(dog, situation):
            self.ring(situation)
        self.name_window(first)

    def ring(self, situation: Situation) -> None:
        """Ring for the break of a situation."""
        reason = situation.next_break.reasons[0].words
        body = reason[:1].upper() + reason[1:]
        self._ring(situation.settings.board.alarms, called(situation), body)

    def answer(
        self, answer: Answer, dog: str, situation: Situation, others: tuple[str, ...]
    ) -> str:
        """Take an answer to the alarm of ``dog``, and of the ``others`` whose break is due or late;
        return what it does, as a sentence."""
        dogs, now = (dog, *others), situation.now
        if answer == "going":
            self.clocks.on_the_way(dogs, now)
            return "On the way: no alarm for 10 min. Nothing is logged yet: log what came."
        if answer == "stays":
            self.clocks.stays(dogs)
            return "Nobody is on the way."
        if not others and situation.next_break.state not in ("due", "late"):
            return "Nothing rings now: no break is due."
        self.clocks.later(dogs, now)
        return "5 more minutes."

    def name_window(self, situation: Situation) -> None:
        """Let the window's title say how long it is to the break of a situation."""
        wanted = situation.settings.board.alarms.title and self._terminal.titles
        self._voice.name_window(in_short_of(situation) if wanted else "")

    def news(self) -> str:
        """Return what has gone wrong and was not told yet, empty if nothing."""
        return self._notifier.news()

    @property
    def is_busy(self) -> bool:
        """Whether a program still runs."""
        return self._notifier.is_busy

    def try_out(self, alarms: Alarms) -> None:
        """Ring as these alarms would."""
        self._ring(alarms, TRIAL, TRIAL_BODY)
        if alarms.title and self._terminal.titles:
            self._voice.name_window(TRIAL)

    def tried(self, alarms: Alarms) -> str:
        """Return what a trial of these alarms did, in a sentence or two; a program that has not
        ended yet is left out."""
        busy, problem = self.is_busy, self._notifier.problem
        ran = bool(alarms.notifier) and not busy and not problem
        done = tried_words(alarms, self._terminal, ran=ran)
        return done if busy or not alarms.notifier else f"{done} {problem}".rstrip()

    def _ring(self, alarms: Alarms, title: str, body: str) -> None:
        if alarms.bell:
            self._bell()
        self._voice.say(self._terminal.notice_of(alarms.notice, title, body))
        self._notifier.show(alarms.notifier, title)


def tried_words(alarms: Alarms, terminal: Terminal, *, ran: bool) -> str:
    """Return what a trial of these alarms did in a terminal; ``ran`` whether the program did."""
    protocol = terminal.protocol(alarms.notice)
    did, not_done = [], []
    if alarms.bell:
        did.append("bell (screen flashes, unless told vbell off)" if terminal.screen else "bell")
    if protocol is not None:
        through = " through tmux, which needs allow-passthrough on" if terminal.tmux else ""
        through = " through screen" if terminal.screen else through
        did.append(f"notice ({_PROTOCOLS[protocol]}{through})")
    elif alarms.notice != "no" and terminal.any_notice:
        not_done.append("No notice: this terminal names none; try osc9, osc99 or osc777.")
    elif alarms.notice != "no":
        not_done.append("No notice: no terminal that shows any.")
    if alarms.title and terminal.titles:
        did.append("title")
    elif alarms.title:
        not_done.append("No title: this terminal has none.")
    if ran:
        did.append(f"“{alarms.notifier[0]}”")
    rang = f"Rang by {', '.join(did)}." if did else "Nothing rang."
    return " ".join((rang, *not_done))


class _WithRinger(Protocol):
    @property
    def ringer(self) -> Ringer: ...


def ringer_of(app: object) -> Ringer:
    """Return the alarm of the app that shows a widget."""
    return cast("_WithRinger", app).ringer
