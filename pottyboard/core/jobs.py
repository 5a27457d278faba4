"""Open jobs: what stays on the board until somebody ticks it off."""

from __future__ import annotations

from pottyboard.core.events import Event
from pottyboard.core.facts import Facts
from pottyboard.core.localtime import clock_words, instant_of
from pottyboard.core.settings import Settings
from pottyboard.core.shapes import Job


def open_jobs(settings: Settings, facts: Facts) -> tuple[Job, ...]:
    """Return the open jobs: spots to clean, the vet check before training, the age."""
    dog = settings.dog
    jobs = [_cleaning(settings, accident) for accident in facts.dirty]
    if dog.vet != "done" and not facts.seen_by_vet:
        words = "vet check booked: log it when done" if dog.vet == "booked" else "book a vet check"
        jobs.append(Job("vet", words, dog.arrived))
    if dog.age == "young":
        words = "under 12 months: these rules are for adults, ask your vet or a trainer"
        jobs.append(Job("young", words, dog.arrived))
    return tuple(jobs)


def _cleaning(settings: Settings, accident: Event) -> Job:
    where = accident.place or "where it happened"
    clock = clock_words(accident.t, settings.zone)
    words = f"clean {where} ({accident.row.words}, {clock}): enzyme cleaner, no ammonia"
    return Job("clean", words, instant_of(accident.t), accident.id)
