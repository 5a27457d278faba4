"""The warnings: one table of rules over the log, and those that stand at an instant.

A warning is raised by the marks that its rule finds in the log. It stands for a while after the
last of them, or until a vet has seen the dog, where that is what it waits for. It is shown until
the household has noted it, and again once it is worse than it was then. Nothing here names what a
dog may have: each row says whom to call, and what in the log speaks for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Final, NamedTuple

from pottyboard.core.engine.history import History
from pottyboard.core.health import behaviour, body, notes, pees
from pottyboard.core.health.health_views import LEVELS, Level, Warning
from pottyboard.core.health.notes import Rule
from pottyboard.core.health.window import Look, Mark
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, instant_of, minutes_of
from pottyboard.core.model.settings import Condition, Dog

TEXAS: Final = "Texas Veterinary Medical Association, texvetpets.org, January 2015"
ELWOOD: Final = "Elwood Vet"
PRACTICE: Final = "common practice, no source"
OWN: Final = "the count is our own choice"
SHARE: Final = "the share is our own choice"
HOURS: Final = "the hours are our own choice"
LEAKS: Final = "World Small Animal Veterinary Association, congress paper, VIN 3852252"
CLINICIANS: Final = "Lindell, Clinician's Brief, February 2017, via animalhealthdigest.com"
MARKS: Final = (
    "Clinician's Brief, Urine Marking in Dogs; Lindell, Feyrecilde, Horwitz and Landsberg, Dog "
    "Behavior Problems: Marking Behavior"
)
ALONE: Final = (
    "PMC6978995, 2020; PLoS One 2023;18:e0289356; how soon after leaving is common practice, no "
    "source"
)
WATER: Final = f"{figures.WATER_MUCH.source}; {ELWOOD}; Cornell Riney Canine Health Center, 2024"

_DAY: Final = 1440.0
_SIGN: Final = figures.SIGN_STANDS * _DAY
_HABIT: Final = figures.HABIT_WITHIN * _DAY
_UNEASE: Final = figures.UNEASE_STANDS * _DAY


class Row(NamedTuple):
    """One warning of :data:`TABLE`.

    ``rule`` finds what raises it, looking ``window`` minutes back from each entry; ``words`` say
    for each level that it can have what to do. It stands for ``stands`` minutes after its last
    mark; ``by_vet`` whether a vet's visit ends it before that, and ``ends`` says so in words.
    """

    code: str
    rule: Rule
    window: Minutes
    words: Mapping[Level, str]
    source: str
    stands: Minutes
    ends: str
    by_vet: bool = True


_CHECK: Final = "a logged vet check, or a week without it"


def _vet(
    code: str,
    rule: Rule,
    source: str,
    *,
    window: Minutes = _SIGN,
    stands: Minutes = _SIGN,
    ends: str = _CHECK,
    **words: str,
) -> Row:
    """Return a row that waits for a vet."""
    return Row(code, rule, window, _by_level(words), source, stands, ends)


def _passing(code: str, rule: Rule, source: str, *, window: Minutes = _SIGN, **words: str) -> Row:
    """Return a row for what often passes."""
    return Row(code, rule, window, _by_level(words), source, _UNEASE,
               "a logged vet check, or two days without it")  # fmt: skip


def _pattern(code: str, rule: Rule, source: str, *, window: Minutes = _HABIT, **words: str) -> Row:
    """Return a row for a pattern, which only time ends."""
    return Row(code, rule, window, _by_level(words), source, _SIGN,
               "a week without it", by_vet=False)  # fmt: skip


def _by_level(words: Mapping[str, str]) -> dict[Level, str]:
    return {level: words[level] for level in LEVELS if level in words}


TABLE: Final[tuple[Row, ...]] = (
    _vet(
        "straining", notes.straining, TEXAS,
        stands=figures.WARNING_LOOKS_BACK * _DAY, ends="a logged vet check",
        now="Phone a vet now: straining with little or no pee cannot wait.",
        today="Still tell the vet today: it strained, though a normal pee came since; phone a vet "
        "now if it strains again.",
    ),
    _vet(
        "no-pee", pees.no_pee, f"{TEXAS}; {HOURS}",
        window=float(figures.NO_PEE), ends="a pee or a vet check in the log",
        now="Phone a vet now: no pee for so long, and unwell with it.",
        soon="Call your vet today: no pee for a whole day; if your dog strains or seems unwell, "
        "phone a vet now.",
    ),
    _vet(
        "blood", notes.noted("blood", "soon"), TEXAS,
        soon="Call your vet soon, today if you can: blood was seen.",
    ),
    _vet(
        "pain", notes.noted("pain", "soon"), PRACTICE,
        soon="Call your vet soon, today if you can: something seems to hurt.",
    ),
    _vet(
        "small-pees", pees.small_pees, f"{ELWOOD}; {SHARE}",
        soon="Call your vet soon: many small pees; if little or nothing comes, phone a vet now.",
    ),
    _vet(
        "drinking", body.drinking, f"{WATER}; {OWN}", window=figures.WATER_AGAIN * _DAY,
        soon="Call your vet soon and tell the amounts: your dog drinks a lot; keep its water "
        "where it is.",
        watch="Measure the bowl for another day: your dog drinks more than most; keep its water "
        "where it is.",
    ),
    _vet(
        "wet-bed", body.wet_bed, LEAKS,
        soon="Call your vet soon: peeing while asleep is not a training problem.",
    ),
    _vet(
        "relapse", body.relapse, f"{CLINICIANS}; {OWN}", window=float(figures.RELAPSE_WITHIN),
        soon="Call your vet soon: many accidents all at once, after clear days.",
    ),
    _passing(
        "vomiting",
        notes.lasting(
            "vomiting", body.drinking, body.wet_bed, body.relapse, pees.no_pee, pees.small_pees,
            again=figures.VOMITING_AGAIN,
        ),
        f"{TEXAS}; {OWN}",
        today="Call your vet today: vomiting, and a dog so small or old should not wait.",
        soon="Call your vet soon: vomiting more than once, or with another symptom.",
        watch="Keep an eye on your dog: call your vet if it vomits again or seems unwell.",
    ),
    _passing(
        "loose-stool", notes.lasting("loose-stool"), f"{PRACTICE}; {HOURS}",
        today="Call your vet today: loose stool, and a dog so small or old should not wait.",
        soon="Call your vet soon: loose stool for over a day, or with another symptom.",
        watch="Keep an eye on it: call your vet if the stool is still loose after a day.",
    ),
    _passing(
        "stools", body.many_stools, f"{PRACTICE}; {OWN}", window=_DAY,
        today="Call your vet today: many stools, and a dog so small or old should not wait.",
        soon="Call your vet soon: many stools in a day.",
    ),
    _passing(
        "off-food", notes.lasting("off-food"), f"{PRACTICE}; {HOURS}",
        soon="Call your vet soon: off food for over a day, or with another symptom.",
        watch="Keep an eye on it: call your vet if your dog still does not eat after a day.",
    ),
    _passing(
        "listless", notes.lasting("listless"), f"{PRACTICE}; {HOURS}",
        soon="Call your vet soon: listless for over a day, or with another symptom.",
        watch="Keep an eye on your dog: call your vet if it is still listless after a day.",
    ),
    _vet(
        "often", pees.often, f"{ELWOOD}; {OWN}",
        soon="Call your vet soon: one pee after another, between the breaks; if little or nothing "
        "comes, phone a vet now.",
        ask="Tell your vet at the next chance: far more pees than on the days before.",
    ),
    _vet(
        "straining-stool", notes.noted("straining-stool", "ask", "soon"), PRACTICE,
        soon="Call your vet soon: straining to pass stool, and another symptom; if little or no "
        "pee comes, phone a vet now.",
        ask="Tell your vet at the next chance: straining to pass stool; if little or no pee comes, "
        "phone a vet now.",
    ),
    _vet(
        "large-pees", pees.large_pees, f"{ELWOOD}; {SHARE}",
        ask="Tell your vet at the next chance: many large pees; measure the bowl for a day.",
    ),
    _pattern(
        "alone", behaviour.alone, f"{ALONE}; {OWN}",
        ask="Ask a qualified behaviourist, after a vet check: until then leave your dog with "
        "company.",
    ),
    _pattern(
        "marking", behaviour.marking, f"{MARKS}; {OWN}",
        ask="Ask your vet or a qualified behaviourist: several small pees against upright things.",
    ),
    _pattern(
        "nights", behaviour.nights, f"{PRACTICE}; {OWN}",
        ask="Tell your vet at the next chance, and plan a break in the night: several wet nights.",
    ),
    _pattern(
        "pad", behaviour.pad_only, f"{PRACTICE}; {OWN}", window=figures.PAD_WITHIN * _DAY,
        ask="Ask a qualified trainer or behaviourist: your dog pees on the pad, not outside.",
    ),
    _vet(
        "no-stool", body.no_stool, f"{PRACTICE}; {HOURS}",
        window=figures.NO_STOOL * _DAY, ends="a stool or a vet check in the log",
        watch="Keep an eye on it: no stool for three days though it eats; call your vet if none "
        "comes tomorrow, if it strains or seems unwell.",
    ),
    _pattern(
        "greeting", behaviour.greeting, f"{CLINICIANS}; {OWN}",
        watch="Greet quietly, crouching, outside if you can: never scold, it cannot help it.",
    ),
)  # fmt: skip
"""Every warning, the gravest first."""


CONDITIONS: Final[Mapping[Condition, str]] = {
    "water-medicine": "on a medicine that makes it pass more water",
    "in-heat": "in heat",
    "operated": "operated of late",
}
"""What a vet is told of the dog beside a warning, from the set-up."""


def words_for(row: Row, level: Level, dog: Dog) -> str:
    """Return what to do: with what the vet should know, and no word against a medicine."""
    words = row.words[level]
    known = [said for condition, said in CONDITIONS.items() if condition in dog.conditions]
    if not (row.by_vet and known):
        return words
    told = f"{words} Tell your vet too: {', '.join(known)}."
    if row.code == "drinking" and "water-medicine" in dog.conditions:
        told += " Stop neither the medicine nor the water."
    return told


# --- What stands ----------------------------------------------------------------------------------


class Episode(NamedTuple):
    """A warning from the first of its marks until it ends; ``worst`` is the gravest mark."""

    row: Row
    since: Minutes
    worst: Mark
    until: Minutes

    @property
    def how_bad(self) -> tuple[int, float]:
        """Rank by level, then by grade."""
        return _how_bad(self.worst)


def warnings_of(history: History, now: datetime) -> tuple[Warning, ...]:
    """Return the warnings that stand at ``now`` (aware), the gravest first, noted ones last.

    Only the last two weeks of the log count, and only what had happened by ``now``.
    """
    at = minutes_of(now)
    look = Look.at(history, at)
    standing = [episode for row in TABLE if (episode := _standing(row, look)) is not None]
    warnings = [_warning(look, episode, _note(history, look, episode)) for episode in standing]
    return tuple(sorted(warnings, key=lambda w: (LEVELS.index(w.level), w.noted is not None)))


def warnings_between(history: History, first: datetime, last: datetime) -> tuple[Warning, ...]:
    """Return every warning that stood from ``first`` to ``last``, in the order in which they began.

    For a paper: what was noted since is not asked.
    """
    start, end = minutes_of(first), minutes_of(last)
    look = Look.at(history, end, since=start - figures.WARNING_LOOKS_BACK * _DAY)
    found = [e for row in TABLE for e in _episodes(row, look) if e.until > start]
    return tuple(_warning(look, e, None) for e in sorted(found, key=lambda e: e.since))


def _standing(row: Row, look: Look) -> Episode | None:
    return next((e for e in reversed([*_episodes(row, look)]) if e.until > look.now), None)


def _episodes(row: Row, look: Look) -> Iterator[Episode]:
    """Yield the stretches over which a warning stood, in order."""
    current: Episode | None = None
    for mark in sorted(row.rule(look, row.window), key=lambda mark: mark.at):
        until = _ended(row, look, mark)
        if current is None or mark.at >= current.until:
            if current is not None:
                yield current
            current = Episode(row, mark.at, mark, until)
        else:
            worst = max(mark, current.worst, key=_how_bad)  # the later of two alike
            current = Episode(row, current.since, worst, max(until, current.until))
    if current is not None:
        yield current


def _ended(row: Row, look: Look, mark: Mark) -> Minutes:
    """Return when the warning ends that this mark raises, if no other follows."""
    ends = [mark.at + row.stands]
    if mark.until is not None:
        ends.append(mark.until)
    if row.by_vet:
        ends.extend(vet for vet in look.vets if vet >= mark.at)
    return min(ends)


def _how_bad(mark: Mark) -> tuple[int, float]:
    return -LEVELS.index(mark.level), mark.grade


def _warning(look: Look, episode: Episode, noted: str | None) -> Warning:
    row, worst = episode.row, episode.worst
    return Warning(
        code=row.code,
        level=worst.level,
        words=words_for(row, worst.level, look.settings.dog),
        because=worst.because,
        source=row.source,
        since=instant_of(episode.since),
        grade=worst.grade,
        noted=noted,
        ends=row.ends,
    )


def _note(history: History, look: Look, episode: Episode) -> str | None:
    """Return what the household noted of a warning, None if it has not or it is worse since."""
    noted = [e for e in look.events if e.kind == "noted" and e.about == episode.row.code]
    if not noted:
        return None
    last = noted[-1]
    if last.t < episode.since:
        return None
    then = _standing(episode.row, _seen_at(history, last))
    return last.note if then is not None and episode.how_bad <= then.how_bad else None


def _seen_at(history: History, noted: Event) -> Look:
    """Return what was in the log when a warning was noted: what was typed later is not."""
    return Look.at(history, noted.t, typed_by=noted.logged or noted.at)
