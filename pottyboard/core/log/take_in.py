"""How an entry changes what the log says: the only place where the running facts move.

What every kind does is read from its row of ``events.KINDS``: the clocks that it sets back, whether
it stirs. What one kind does beside that is a function in :data:`BY_KIND`; a kind without one
changes nothing more.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from pottyboard.core.log.ended_waits import waits_ended_by
from pottyboard.core.log.places import marked, named_alike
from pottyboard.core.log.state import LogState, for_the_night
from pottyboard.core.log.waits import Hold, Wait
from pottyboard.core.model import figures
from pottyboard.core.model.events import DRIBBLES, ILLNESS, KINDS, Event
from pottyboard.core.model.localtime import Minutes
from pottyboard.core.model.plan import DayPlan


def take_in(facts: LogState, event: Event, plan: DayPlan) -> tuple[Wait, ...]:
    """Take the next entry of the day that ``plan`` describes into ``facts``; return what it ended.

    The plan decides what an unqualified ``settled`` means and what counts as the night. What
    another dog may have done is cleaned up and says nothing else.
    """
    row = event.row
    if event.is_agreement:
        return ()
    facts.last_entry = event.t
    if row.is_accident:
        _mark_floor(facts, event)
        if event.unsure:
            return ()
    ended = tuple(waits_ended_by(facts, event, plan))
    for wait in ended:
        if isinstance(wait, Hold):
            _keep_longest(facts, wait)
    if row.stirs or event.kind == "settled":
        _show_active(facts, event, plan)
    own = BY_KIND.get(event.kind)
    if own is not None:
        own(facts, event, plan)
    if event.empties_bladder:
        facts.last_pee, facts.last_small, facts.dry_out = event.t, None, None
        facts.tries, facts.silent_from = (), None
        facts.nap_in_hold, facts.night_in_hold = 0.0, False
    elif event.is_small_pee:
        facts.last_small, facts.dry_out, facts.tries = event.t, None, ()
    if "poop" in row.resets:
        facts.last_poop, facts.meals = event.t, ()
    return ended


# --- What every entry may do ----------------------------------------------------------------------


def _mark_floor(facts: LogState, accident: Event) -> None:
    """Keep where it happened, for the cleaning and for the repeats of two weeks."""
    since = accident.t - figures.REPEAT_WITHIN * 1440
    facts.mishaps = (*(one for one in facts.mishaps if one.t >= since), accident)
    facts.places = marked(facts.places, accident)
    facts.dirty = (*facts.dirty, accident)


def _keep_longest(facts: LogState, hold: Hold) -> None:
    if hold.how == "out" and hold.night and hold.length <= figures.LOG_STOPPED:
        facts.longest_night = max(facts.longest_night, hold.length)
    if hold.how == "out" and not hold.night and hold.awake <= figures.SILENCE_TOO_LONG:
        facts.longest_hold = max(facts.longest_hold, hold.awake)


def _show_active(facts: LogState, event: Event, plan: DayPlan) -> None:
    """Take in what an entry about the dog itself shows: that it woke, or that somebody is back."""
    t = event.t
    if facts.sleep != "night" and facts.sleep_at(plan, t) == "night":
        # What was assumed of a night that nobody logged is kept before this entry ends it.
        facts.slept_from = facts.slept_from if facts.sleep else facts.quiet_from(plan)
        facts.sleep = "night"
    if event.stirs:
        _wake(facts, t, plan, got_up=event.kind == "up")
    if facts.left is not None and facts.came_back(plan, t):
        _end_time_alone(facts, t, plan)
    facts.last_active = t


def _wake(facts: LogState, t: Minutes, plan: DayPlan, *, got_up: bool) -> None:
    """Take in that the dog is awake at ``t``: in the morning, since the day began, unless somebody
    says that it got up just now."""
    up_now = got_up and t <= plan.start + figures.UP_LATEST
    if up_now and plan.number > 1 and (facts.last_active or 0.0) < plan.start:
        facts.woke = t  # also where nobody logged the night
    slept = t - facts.slept_from if facts.sleep and facts.slept_from is not None else None
    if facts.sleep == "nap" and slept is not None:
        got_up = slept >= figures.LONG_NAP
    if got_up:
        facts.asks_up = t
    if facts.slept_from is not None:
        since, until = max(facts.slept_from, facts.last_pee or 0.0), facts.slept_until(t)
        facts.nap_in_hold += max(0.0, until - since)
        oldest = min(facts.last_pee or until, until - figures.SLEEP_COUNTED)
        facts.slept = (
            *(sleep for sleep in facts.slept if sleep[1] > oldest), (facts.slept_from, until),
        )  # fmt: skip
        facts.stirred = t
        if facts.sleep == "night":
            over = facts.slept_from < plan.start and not up_now
            facts.night_in_hold, facts.woke = True, min(t, plan.start) if over else t
        elif facts.sleep == "nap" and facts.left is None:
            facts.napped = facts.slept_from, t
    facts.sleep, facts.slept_from = "", None


# --- What one kind does ---------------------------------------------------------------------------


def _go(facts: LogState, event: Event, plan: DayPlan) -> None:
    """Take in an outing; the pad answers a sign and a failed try, and is no outing."""
    if event.on_pad:
        facts.sign = None
        return
    t, before = event.t, facts.last_out
    same_outing = before is not None and t - before <= figures.ONE_OUTING
    if "poop" not in event.row.resets:
        if not same_outing:
            facts.bare_before = facts.bare_out
        facts.bare_out = t
    if event.row.is_success:
        facts.last_success = t
        if not (same_outing and facts.dry_out is None):
            facts.dry_out = t
    elif facts.last_success is None or t - facts.last_success > figures.ONE_OUTING:
        facts.tries += () if same_outing else (t,)
        facts.dry_out = t
    facts.last_out, facts.sign = t, None
    facts.times_alone = ()


def _have_accident(facts: LogState, event: Event, plan: DayPlan) -> None:
    facts.last_accident, facts.sign = event.t, None
    if event.cause in DRIBBLES:
        return
    if facts.by_night(event, plan):
        facts.last_night_accident = event.t


def _asking(
    facts: LogState, entries: tuple[Minutes, ...], wait: float, plan: DayPlan
) -> tuple[Minutes, ...]:
    """Return those ``entries`` of today that no outing after them has served yet."""
    since = max(plan.start, facts.woke or 0.0)
    out = facts.last_out or 0.0
    return tuple(
        entry
        for entry in entries
        if entry >= since and out < max(entry, entry + wait - figures.SERVES_WITHIN)
    )


def _eat(facts: LogState, event: Event, plan: DayPlan) -> None:
    facts.last_meal = event.t
    facts.fed = (*_asking(facts, facts.fed, figures.AFTER_MEAL, plan), event.t)
    facts.meals = (*facts.waiting_meals, event.t)


def _drink(facts: LogState, event: Event, plan: DayPlan) -> None:
    facts.last_water = event.t
    facts.drank = (*_asking(facts, facts.drank, figures.AFTER_DRINK, plan), event.t)


def _show_sign(facts: LogState, event: Event, plan: DayPlan) -> None:
    facts.last_sign = event.t
    in_next = event.t >= plan.next_morning_from
    asks_from = plan.next_morning_from if in_next else plan.morning_from
    asking = facts.sign is not None and facts.sign >= asks_from
    if event.t != facts.last_out and not asking:
        facts.sign, facts.sign_words = event.t, event.sign


def _settle(facts: LogState, event: Event, plan: DayPlan) -> None:
    if not facts.sleep:
        facts.slept_from = event.t
    facts.sleep, facts.sign = "night" if for_the_night(event, plan) else "nap", None
    facts.asleep_at = event.t


def _greet(facts: LogState, event: Event, plan: DayPlan) -> None:
    facts.greeted, facts.greeted_by = event.t, event.kind


def _play(facts: LogState, event: Event, plan: DayPlan) -> None:
    facts.played = (*_asking(facts, facts.played, figures.AFTER_PLAY, plan), event.t)
    _greet(facts, event, plan)


def _leave(facts: LogState, event: Event, plan: DayPlan) -> None:
    facts.left = facts.last_left = event.t


def _end_time_alone(facts: LogState, t: Minutes, plan: DayPlan) -> None:
    if facts.left is not None:
        today = (alone for alone in facts.times_alone if alone[1] >= plan.start)
        facts.times_alone = (*today, (facts.left, t))
    facts.left = None


def _come_back(facts: LogState, event: Event, plan: DayPlan) -> None:
    _end_time_alone(facts, event.t, plan)
    facts.back = (*_asking(facts, facts.back, 0, plan), event.t)
    facts.last_back = event.t
    _greet(facts, event, plan)


def _take_over(facts: LogState, event: Event, plan: DayPlan) -> None:
    facts.on_duty = event.by


def _clean(facts: LogState, event: Event, plan: DayPlan) -> None:
    """Tick off the accident that the cleaning is about; without one all at its place; without
    either the oldest."""
    if event.about:
        facts.dirty = tuple(one for one in facts.dirty if one.id != event.about)
    elif event.place:
        facts.dirty = tuple(one for one in facts.dirty if not named_alike(one.place, event.place))
    else:
        facts.dirty = facts.dirty[1:]


def _see_vet(facts: LogState, event: Event, plan: DayPlan) -> None:
    facts.seen_by_vet = True


def _note_health(facts: LogState, event: Event, plan: DayPlan) -> None:
    if event.finding in ILLNESS:
        facts.ill = event.t


def _change_routine(facts: LogState, event: Event, plan: DayPlan) -> None:
    facts.measures = facts.measures.and_taken(event, facts.mishaps)


BY_KIND: Final[Mapping[str, Callable[[LogState, Event, DayPlan], None]]] = {
    **{row.code: _go for row in KINDS.values() if row.is_outing},
    **{row.code: _have_accident for row in KINDS.values() if row.is_accident},
    "meal": _eat,
    "water": _drink,
    "sign": _show_sign,
    "settled": _settle,
    "play": _play,
    "left": _leave,
    "back": _come_back,
    "visit": _greet,
    "duty": _take_over,
    "cleaned": _clean,
    "vet": _see_vet,
    "health": _note_health,
    "routine": _change_routine,
}
"""What a kind does beside what its row says."""
