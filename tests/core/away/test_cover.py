"""Covering an absence: as good as trying every plan, and never dearer with more freedom."""

from __future__ import annotations

from itertools import combinations, pairwise

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from pottyboard.core.away.absence_problem import AbsenceProblem, Opening, best_timed, pose, worth
from pottyboard.core.away.cover import Cover, chosen, fewest, fewest_for_least, price_of
from pottyboard.core.away.rounds import rounds

MANY = settings(max_examples=500, deadline=None)
HALF_HOUR = st.integers(0, 16).map(lambda step: 600 + 30 * step)


@st.composite
def openings(draw: st.DrawFn, helper: int) -> Opening:
    """A helper who comes at one or a few times of a coarse grid."""
    first = draw(HALF_HOUR)
    return Opening(
        helper,
        first=first,
        last=first + draw(st.sampled_from([0, 0, 5, 10])),
        lasts=20,
        price=draw(st.sampled_from([0, 500, 500, 700, 1200, 2500])),
        notice=draw(st.sampled_from([float("-inf"), float("-inf"), 700])),
    )


@st.composite
def cases(draw: st.DrawFn) -> AbsenceProblem:
    """A case with at most ten slots: absences of up to 9 h, limits of 45 min to 4 h."""
    leave = 600 + 15 * draw(st.integers(0, 8))
    back = leave + 15 * draw(st.integers(1, 36))
    meal = None
    if draw(st.booleans()):
        opens = leave + 15 * draw(st.integers(-8, 8))
        meal = (opens, opens + 15 * draw(st.integers(1, 8)))
    nights: tuple[tuple[float, float], ...] = ()
    if draw(st.integers(0, 4)) == 0:
        bed = leave + 30 * draw(st.integers(-4, 10))
        nights = ((bed, bed + 480),)
    return AbsenceProblem(
        leave=leave,
        back=back,
        limit=draw(st.sampled_from([45, 60, 90, 120, 150, 180, 210, 240])),
        openings=tuple(draw(openings(helper)) for helper in range(draw(st.integers(0, 5)))),
        meal=meal,
        nights=nights,
        night_limit=360,
        ahead=draw(st.sampled_from([5.0, 10.0, 15.0])),
    )


def every_plan(case: AbsenceProblem) -> list[tuple[float, int, int]]:
    """Return (minutes over, visits, money) of every plan there is, by trying them all."""
    price: dict[int, int] = {}
    for opening in case.openings:
        for slot in range(600, 1500, 5):
            first = max(opening.first, opening.notice, case.leave)
            if first <= slot <= opening.last and slot < case.back:
                price[slot] = min(price.get(slot, opening.price), opening.price)
    plans = []
    until = {at: reach(case, at) for at in (case.begin, *price)}
    for count in range(len(price) + 1):
        for visits in combinations(sorted(price), count):
            marks = [case.begin, *visits, case.back]
            over = sum(max(0.0, b - until[a]) for a, b in pairwise(marks))
            plans.append((round(over, 3), count, sum(price[slot] for slot in visits)))
    return plans


def reach(case: AbsenceProblem, at: float) -> float:
    """Return by when the next break has to have come, from the rule's own words."""
    until = case.holds_until(at)
    for window in (case.meal, case.middle):
        if window is not None and at < window[0]:
            until = min(until, window[1])
    return until


def slots_of(case: AbsenceProblem) -> int:
    return len(pose(case)[0].slots)


# --- One absence ----------------------------------------------------------------------------------


@settings(max_examples=2000, deadline=None)
@given(cases())
def test_as_good_as_the_best_of_every_plan_there_is(case: AbsenceProblem) -> None:
    """Least over the limit, then fewest visits and least money, or the two the other way round."""
    assume(slots_of(case) <= 8)
    plans = every_plan(case)
    over, count, money = worth(case, False)
    assert (round(over, 3), count, money) == min(plans)
    over, money, count = worth(case, True)
    assert (round(over, 3), money, count) == min((o, m, c) for o, c, m in plans)


@MANY
@given(cases(), st.booleans())
def test_the_chosen_visits_are_worth_what_they_claim(case: AbsenceProblem, cheapest: bool) -> None:
    problem, _ = pose(case)
    count = fewest_for_least(problem) if cheapest else fewest(problem)
    assert count is not None
    visits = chosen(problem, count)
    assert visits is not None
    marks = [case.begin, *visits, case.back]
    assert all(a < b for a, b in pairwise(marks))
    over = sum(max(0.0, b - reach(case, a)) for a, b in pairwise(marks))
    assert round(over - problem.over, 3) == 0
    assert (len(visits), price_of(problem, visits)) == (
        worth(case, cheapest)[1:] if not cheapest else worth(case, True)[:0:-1]
    )


@MANY
@given(cases(), st.data(), st.booleans())
def test_more_freedom_is_never_worth_less(
    case: AbsenceProblem, data: st.DataObject, cheapest: bool
) -> None:
    """A wider interval, one more helper, wider hours, less notice: never worse, in any order."""
    freer = data.draw(
        st.sampled_from(
            [
                replace(case, limit=case.limit + 30),
                replace(case, openings=(*case.openings, data.draw(openings(9)))),
                replace(
                    case,
                    openings=tuple(
                        replace(o, first=o.first - 20, last=o.last + 35) for o in case.openings
                    ),
                ),
                replace(
                    case,
                    openings=tuple(replace(o, notice=float("-inf")) for o in case.openings),
                ),
            ]
        )
    )
    before, after = worth(case, cheapest), worth(freer, cheapest)
    assert (round(after[0], 3), *after[1:]) <= (round(before[0], 3), *before[1:])
    if cheapest and not before[0]:
        assert after[1] <= before[1]


@MANY
@given(cases(), st.booleans())
def test_the_last_break_is_as_early_as_costs_nothing(case: AbsenceProblem, cheapest: bool) -> None:
    timed = best_timed(case, cheapest)
    ways = {ahead: worth(replace(case, ahead=ahead), cheapest) for ahead in (5.0, 10.0, 15.0)}
    best = min(ways.values())
    assert timed.ahead == max(ahead for ahead, way in ways.items() if way == best)


def test_a_cheaper_visit_earlier_before_a_hole_is_taken_where_it_makes_the_hole_no_wider() -> None:
    """The window after the meal is missed either way: the dear visit next to it gains nothing."""
    cheap = Opening(0, first=660, last=660, lasts=20, price=100)
    dear = Opening(1, first=700, last=700, lasts=20, price=900)
    late = Opening(2, first=840, last=840, lasts=20, price=100)
    case = AbsenceProblem(
        leave=540, back=960, limit=180, openings=(cheap, dear, late), meal=(720, 780)
    )
    assert worth(case, False) == (60, 2, 200) == min(every_plan(case))


# --- Many days ------------------------------------------------------------------------------------


def every_time(problem: Cover, count: int) -> set[tuple[int, ...]]:
    """Return every plan of a problem that is as good as its best one."""
    money = price_of(problem, chosen(problem, count) or ())
    found = set()
    for visits in combinations(problem.slots, count):
        reaches = [problem.first_reach]
        reaches += [problem.reach[problem.slots.index(slot)] for slot in visits]
        closed = problem.closes < 0 if not visits else visits[-1] >= problem.slots[problem.closes]
        fits = all(slot <= reach for slot, reach in zip(visits, reaches, strict=False))
        if fits and closed and price_of(problem, visits) == money:
            found.add(visits)
    return found


@st.composite
def weeks(draw: st.DrawFn) -> list[AbsenceProblem]:
    """A few days with much the same helpers, left and come back to at different times."""
    first = draw(cases())
    days = [first]
    for _ in range(draw(st.integers(1, 3))):
        leave = first.leave + 15 * draw(st.integers(-3, 3))
        helpers = tuple(
            replace(opening, price=draw(st.sampled_from([opening.price, 500, 1200])))
            for opening in first.openings
            if draw(st.integers(0, 5))
        )
        back = leave + max(15, first.back - first.leave + 15 * draw(st.integers(-3, 3)))
        days.append(replace(first, leave=leave, back=back, openings=helpers))
    return days


@settings(max_examples=600, deadline=None)
@given(weeks(), st.booleans())
def test_days_share_their_times_whenever_that_costs_none_of_them_anything(
    week: list[AbsenceProblem], cheapest: bool
) -> None:
    problems = [pose(case)[0] for case in week]
    counts = [(fewest_for_least(p) if cheapest else fewest(p)) or 0 for p in problems]
    assume(all(len(problem.slots) <= 9 for problem in problems))
    plans = rounds(problems, [True] * len(problems), cheapest)
    for problem, count, visits in zip(problems, counts, plans, strict=True):
        assert visits in every_time(problem, count)
    if len(set(counts)) == 1:
        common = set.intersection(
            *(every_time(p, c) for p, c in zip(problems, counts, strict=True))
        )
        assert bool(common) == (len(set(plans)) == 1)


def test_a_later_day_off_keeps_the_usual_times() -> None:
    helper = Opening(0, first=540, last=960, lasts=20, price=1000)
    whole = AbsenceProblem(leave=510, back=1020, limit=180, openings=(helper,))
    short = AbsenceProblem(leave=510, back=840, limit=180, openings=(helper,))
    plans = rounds([pose(c)[0] for c in (whole, whole, short)], [True] * 3, False)
    assert plans[0] == plans[1] == (675, 840)
    assert plans[2] == (675,)


def test_days_apart_in_the_clock_are_not_put_together() -> None:
    helper = Opening(0, first=540, last=960, lasts=20, price=1000)
    early = pose(AbsenceProblem(leave=510, back=780, limit=180, openings=(helper,)))[0]
    late = pose(AbsenceProblem(leave=525, back=810, limit=180, openings=(helper,)))[0]
    together, apart = (rounds([early, late], [True, alike], False) for alike in (True, False))
    assert together[0] == together[1]
    assert all(len(plan) == 1 for plan in apart)


def test_common_times_are_in_time_for_whoever_leaves_first() -> None:
    openings = (Opening(0, 670, 670, 20, 1000), Opening(0, 690, 690, 20, 1000))
    late = pose(AbsenceProblem(leave=525, back=840, limit=180, openings=openings))[0]
    early = pose(AbsenceProblem(leave=510, back=825, limit=180, openings=openings))[0]
    assert rounds([late, late], [True] * 2, False)[0] == (690,)
    assert rounds([late, late, early], [True] * 3, False) == [(670,)] * 3
