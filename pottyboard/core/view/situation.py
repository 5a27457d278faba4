"""The situation: one frozen value with everything that a view shows, from one pure function."""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import datetime
from typing import Any, Final

from msgspec.structs import replace

from pottyboard.core.accidents.accounts import accounts, home_spots
from pottyboard.core.accidents.pads import pad_plan
from pottyboard.core.away.today import AwayToday, away_today
from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.engine.days import Day
from pottyboard.core.engine.history import History
from pottyboard.core.engine.interval import missing, start_interval, top_interval
from pottyboard.core.engine.reasons import RULE_BY_CODE, dues, served_by
from pottyboard.core.engine.rule_context import Due, RuleContext
from pottyboard.core.estimate.learning import EvidenceSoFar, estimate_of
from pottyboard.core.health.warnings import warnings_of
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, instant_of, minutes_of
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.advice import advice, advice_once_known
from pottyboard.core.view.dropped import fixed_calls
from pottyboard.core.view.hold_report import confidence, hold_estimate, risk_estimate
from pottyboard.core.view.jobs import left_open, nap_over, open_jobs, rest_of_setup
from pottyboard.core.view.open_questions import now_known, open_questions
from pottyboard.core.view.silence import silence_words, silent_since
from pottyboard.core.view.situation_views import (
    Change,
    HoldEstimate,
    Interval,
    Job,
    NextBreak,
    Reason,
    RiskEstimate,
    Situation,
    Slot,
    State,
)
from pottyboard.core.view.timeline import timeline
from pottyboard.core.view.unkept import unkept_words
from pottyboard.core.view.watch_window import watch_window

__all__ = [
    "SCHEMA",
    "Change",
    "DaySummary",
    "HoldEstimate",
    "Interval",
    "Job",
    "NextBreak",
    "Reason",
    "RiskEstimate",
    "Situation",
    "Slot",
    "State",
    "as_json",
    "situation",
]

SCHEMA: Final = 1
"""Version of the situation as JSON (see :func:`as_json`)."""

_RECENT = 40


def situation(
    settings: Settings,
    events: Iterable[Event],
    now: datetime,
    *,
    learn: bool = True,
    taught: EvidenceSoFar | None = None,
) -> Situation:
    """Return the situation at ``now`` (aware), from all ``events`` so far in any order.

    With ``learn`` false only the rule decides, without the estimate from the dog's own log.
    ``taught`` is what the log has taught, where some of the ``events`` are only expected.

    Entries later than ``now`` are not seen, so the same log answers for any instant of the past.
    Raises ``TimeError`` if ``now`` has no time zone.
    """
    at = minutes_of(now)
    history = History.of(settings, events, at, learn)
    if taught is not None:
        history.days[-1] = replace(history.today, evidence_so_far=taught)
    today = history.today
    estimate = estimate_of(settings.dog, today.evidence_so_far) if learn else None
    round_day = today.plan.number - today.round_from + 1
    context = RuleContext(today.facts, today.plan, settings, today.interval, at, estimate)
    away = away_today(settings, today, history.events, now, learn)
    next_break = _next_break(context, away)
    hold = hold_estimate(history, estimate_of(settings.dog, today.evidence_so_far))
    due = minutes_of(next_break.at)
    silent = silent_since(context, history.events)
    risk = None if silent is not None else risk_estimate(context, due)
    watched = None if risk is None else watch_window(context, due, history.events)
    rows = timeline(today, context, away)
    calls = fixed_calls(context, history.days, rows)
    asked = (*nap_over(context), *open_questions(history, at), *now_known(history, context))
    return Situation(
        now=now,
        date=today.plan.date,
        day=today.plan.number,
        settings=settings,
        next_break=next_break,
        since={
            clock: None if minutes is None else math.floor(minutes + 1e-6)
            for clock, minutes in today.facts.since(at).items()
        },
        timeline=rows,
        interval=_interval(settings, today),
        streak_days=today.streak,
        days=tuple(day.summary for day in history.days),
        open_jobs=open_jobs(
            settings,
            today.facts,
            today.plan.date,
            (
                *left_open(settings, today.facts, at, asked),
                *rest_of_setup(settings, history.events, at),
            ),
        ),
        recent=history.events[: -_RECENT - 1 : -1],
        advice=(
            *advice(context),
            *advice_once_known(context, watched, calls, due),
            *unkept_words(context, history.days),
        ),
        confidence=confidence(hold, risk, context, next_break.at)
        if silent is None
        else silence_words(context, silent),
        hold=hold,
        risk=risk,
        on_duty=today.facts.on_duty,
        asleep=context.sleep,
        alone_since=None if today.facts.left is None else instant_of(today.facts.left),
        watch=away.watch,
        accidents=accounts(history.days, at),
        spots=home_spots(today.facts, at),
        warnings=warnings_of(history, now),
        pad=pad_plan(settings, history.days, away.gaps),
        round_day=round_day,
        reminder=_reminder(round_day, context),
        watch_window=watched,
        calls=calls,
        silent_since=None if silent is None else instant_of(silent),
    )


def _next_break(context: RuleContext, away: AwayToday) -> NextBreak:
    standing = sorted(dues(context), key=lambda due: due.at)
    first, now = standing[0].at, context.now
    waits = _waits_for(context, away, first)
    if waits is not None:
        first = minutes_of(waits.at)
    serving = served_by(context, max(first, now), standing)
    # What falls due before a visit can only wait for it: the plan of the visits says what it lacks.
    served = [_reason(context, due) for due in serving if due.at >= first]
    return NextBreak(
        at=instant_of(first),
        minutes=math.ceil(first - now - 1e-6),
        state=_state(context, first),
        reasons=tuple(served if waits is None else (waits, *served)),
        later=tuple(_reason(context, due) for due in standing if due not in serving),
    )


def _waits_for(context: RuleContext, away: AwayToday, due: Minutes) -> Reason | None:
    """Return the visit or the return that a lone dog waits for, if that is its next break.

    It is not while the dog sleeps the night, until it is late, nor where a break falls due before
    a return with no visit left to come: then the board says so.
    """
    waiting = away.watch
    if waiting is None or away.now_away is None:
        return None
    if context.sleep == "night" and waiting.minutes > 0:
        return None
    if waiting.visit is not None:
        return Reason("visit", waiting.at, waiting.words)
    return None if due < minutes_of(waiting.at) else Reason("return", waiting.at, waiting.words)


def _reason(context: RuleContext, due: Due) -> Reason:
    words = RULE_BY_CODE[due.code].words(context, due.clock)
    return Reason(due.code, instant_of(due.at), words)


def _state(context: RuleContext, due: Minutes) -> State:
    to_go = due - context.now
    if to_go < -figures.LATE:
        return "late"
    if to_go <= 0:
        return "due"
    if context.sleep == "night":
        return "asleep"
    if context.facts.left is not None:
        return "alone"
    if context.sleep:
        return "asleep"
    if context.tries:
        return "watching"
    return "soon" if to_go <= figures.SOON else "rest"


def _interval(settings: Settings, today: Day) -> Interval:
    dog, minutes = settings.dog, today.interval
    top = top_interval(dog)
    return Interval(
        minutes=round(minutes),
        start=round(start_interval(dog)),
        top=round(top),
        changes=tuple(
            Change(instant_of(s.at), round(s.before), round(s.after), s.cause, s.words)
            for s in today.steps
        ),
        missing=missing(dog, minutes, today.evidence),
        at_top=minutes >= top,
    )


def _reminder(round_day: int, context: RuleContext) -> str:
    """Return what two weeks do not mean yet: all the day they are over, later once a morning."""
    first_hour = 0 <= context.now - context.plan.start < figures.CALM_FOR
    if round_day < figures.PROGRAMME_DAYS or (
        round_day > figures.PROGRAMME_DAYS and not first_hour
    ):
        return ""
    return (
        "Two weeks do not make a house-trained dog: keep this up until "
        f"{figures.HOUSE_TRAINED_WEEKS:g} weeks without an accident have passed"
    )


def as_json(situation: Situation) -> dict[str, Any]:
    """Return the situation as plain values for JSON: the documented, versioned form.

    Instants are ISO 8601 with the home's offset; lengths are whole minutes.
    """
    zone = situation.settings.zone

    def iso(at: datetime) -> str:
        return at.astimezone(zone).isoformat(timespec="minutes")

    due, alone = situation.next_break, situation.watch
    return {
        "schema": SCHEMA,
        "now": iso(situation.now),
        "dog": situation.settings.called,
        "day": situation.day,
        "next_break": {
            "at": iso(due.at),
            "minutes": due.minutes,
            "state": due.state,
            "reasons": [
                {"reason": reason.code, "at": iso(reason.at), "words": reason.words}
                for reason in due.reasons
            ],
        },
        "since_minutes": dict(situation.since),
        "interval_minutes": situation.interval.minutes,
        "streak_days": situation.streak_days,
        "hold": {
            "median_minutes": situation.hold.median_minutes,
            "range80": list(situation.hold.range80),
            "holds": situation.hold.holds,
            "accidents": situation.hold.accidents,
        },
        "risk": situation.risk
        and {
            "now": round(situation.risk.now, 4),
            "at_due": round(situation.risk.at_due, 4),
            "limit": situation.risk.limit,
            "over_from": situation.risk.over_from and iso(situation.risk.over_from),
        },
        "open_jobs": [
            {"job": job.code, "words": job.words, "since": iso(job.since), "about": job.about}
            for job in situation.open_jobs
        ],
        "pad": situation.pad
        and {
            "words": situation.pad.words,
            "caution": situation.pad.caution,
            "ends": iso(situation.pad.ends),
        },
        "alone": alone
        and {
            "since": iso(alone.since),
            "waits_for": alone.who,
            "at": iso(alone.at),
            "minutes": alone.minutes,
            "words": alone.words,
        },
        "warnings": [
            {
                "warning": warning.code,
                "level": warning.level,
                "words": warning.words,
                "because": warning.because,
                "source": warning.source,
                "since": iso(warning.since),
                "noted": warning.noted,
            }
            for warning in situation.warnings
        ],
        "on_duty": situation.on_duty,
        "confidence": situation.confidence,
    }
