"""Open jobs: what stays on the board until somebody ticks it off."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from msgspec import structs

from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.log.cleaning import cleaning_steps
from pottyboard.core.log.places import repeat_of
from pottyboard.core.log.state import LogState
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import (
    Minutes,
    clock_words,
    count_words,
    date_words,
    instant_of,
    local,
    minutes_of,
)
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation_views import Job, Situation


def open_jobs(
    settings: Settings, facts: LogState, today: date, questions: Iterable[Job] = ()
) -> tuple[Job, ...]:
    """Return the open jobs on the local date ``today``: spots to clean, the ``questions`` that
    stand, the vet check, the age."""
    dog = settings.dog
    jobs = [_cleaning(settings, facts, accident, today) for accident in facts.dirty]
    jobs.extend(questions)
    if dog.vet != "done" and not facts.seen_by_vet:
        jobs.append(_vet_check(settings))
    if dog.age == "young":
        months = f"{figures.ADULT_FROM_MONTHS:g} months"
        words = f"under {months}: these rules are for adults, ask your vet or a trainer"
        jobs.append(Job("young", words, dog.arrived))
    return tuple(jobs)


def left_open(
    settings: Settings, facts: LogState, now: Minutes, asked: Sequence[Job]
) -> tuple[Job, ...]:
    """Return the questions that are ``asked``, after what else the latest accident leaves open."""
    accident = max(facts.mishaps, key=lambda event: event.t, default=None)
    if accident is None or now - accident.t > figures.ASKED_FOR:
        return tuple(asked)
    if any(job.about == accident.id for job in asked):
        return tuple(asked)
    missing = ("whether seen or found",) * (accident.found is None)
    missing += ("where",) * (not accident.place)
    if not missing:
        return tuple(asked)
    return (_left_open(accident, settings, f"say {' and '.join(missing)}"), *asked)


def rest_of_setup(settings: Settings, events: Iterable[Event], now: Minutes) -> tuple[Job, ...]:
    """Return the set-up, where a first start has left some of it, for the first days of the log."""
    if not settings.unanswered:
        return ()
    first = min((minutes_of(event.logged or event.at) for event in events), default=now)
    if now - max(first, settings.arrived) >= figures.SETUP_ASKED_FOR:
        return ()
    left = count_words(settings.unanswered, "answer")
    words = f"set-up: {left} left (getting up, meals, days away and more: the usual ones hold)"
    return (Job("set-up", words, settings.dog.arrived),)


def with_unsaved(now: Situation, accident: Event) -> Situation:
    """Return a situation that asks about an accident of which nothing is saved yet, too."""
    asked = _left_open(accident, now.settings, "pee or poop? Not saved yet")
    return structs.replace(now, open_jobs=(asked, *now.open_jobs))


def _left_open(accident: Event, settings: Settings, asked: str) -> Job:
    """Return the job to say what is ``asked`` about an accident."""
    words = f"{asked} (accident at {clock_words(accident.t, settings.zone)})"
    return Job("left-open", words, instant_of(accident.t), accident.id)


def nap_over(context: RuleContext) -> tuple[Job, ...]:
    """Return the question about a nap that nobody ended and that counts as ended: does it sleep?"""
    since, ends, now = context.facts.slept_from, context.nap_ends, context.now
    asleep = context.facts.sleep_at(context.plan, now) == "nap"
    if not asleep or since is None or ends is None or now < ends or context.facts.left is not None:
        return ()
    clock = context.clock(since)
    words = (
        f"asleep since {clock}, as far as the log goes: "
        "log that it got up, or that it settled if it sleeps on"
    )
    name = f"Asleep since {clock}: up, or does it sleep on?"
    return (Job("nap", words, instant_of(ends), name=name, answers=("up", "settled")),)


def _vet_check(settings: Settings) -> Job:
    """Return the check that comes before training: it stays until it is logged or said to be done.

    Source: veterinary guidance as quoted on worksmartdogtraining.com (read in that second source),
    and the common practice of rescues.
    """
    words = "book a vet check: rule out illness before training"
    if settings.dog.vet == "booked":
        words = "vet check booked (to rule out illness): log it when done"
    steps = (
        "Pain, heavy drinking or needing to go often are for a vet, not for training.",
        "Log the vet check when it is done, or say so in the set-up.",
        "Source: Veterinary Information Network, congress abstract 5124249; rescue practice.",
    )
    return Job("vet", words, settings.dog.arrived, steps=steps)


def _cleaning(settings: Settings, facts: LogState, accident: Event, today: date) -> Job:
    where = accident.place or "where it happened"
    day, clock = local(accident.t, settings.zone).date(), clock_words(accident.t, settings.zone)
    when = clock if day == today else f"{date_words(day, day)} {clock}"
    words = f"clean {where} ({accident.row.words}, {when}): enzyme cleaner, no ammonia"
    nth, at_spot = repeat_of(accident, facts.mishaps)
    steps = cleaning_steps(accident.surface, accident.kind, nth, at_spot=at_spot)
    return Job("clean", words, instant_of(accident.t), accident.id, steps, f"{when} {where}")
