"""The plan for the days away as plain text, for the command line and for a message."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from pottyboard.core.away.outlook import AwayOutlook
from pottyboard.core.away.proposals import ask_words
from pottyboard.core.away.schedule import AwayDay, AwayPlan, money_words, visits_words
from pottyboard.core.model.localtime import count_words, span_words
from pottyboard.core.model.printable import printable
from pottyboard.core.model.settings import Settings


def visit_list(settings: Settings, plan: AwayPlan) -> str:
    """Return the visits day by day, what cannot be covered, and what would cover it."""
    lines = [
        part
        for day in plan.days
        for line in _day(settings, day)
        for part in textwrap.wrap(line, 80, subsequent_indent=" " * 7)
    ]
    for number, change in enumerate(plan.proposals, 1):
        words = f"  {number}  {printable(ask_words(change, settings), 300)}."
        lines += ["", "Would be better than what was agreed:"] if number == 1 else []
        lines += textwrap.wrap(words, 80, subsequent_indent=" " * 5)
    days = len(plan.days)
    span = "This day" if days == 1 else f"These {days} days"
    lines += ["", f"{span}: {plan.words(settings.home.currency)}"]
    if plan.proposals:
        lines.append("Agreed: pottyboard visits --agreed 1. To stay as it is: --leave 1.")
    if plan.untold:
        untold = count_words(len(plan.untold), "visit")
        lines.append(f"Nobody was told of {untold} yet: --ics FILE, --told, or pottyboard sheet.")
    return "\n".join(lines)


_HEAD = " every  no     cost              "


def outlook_list(outlook: AwayOutlook, currency: str = "") -> str:
    """Return the visits and their cost day by day as the interval moves, with the totals."""
    lines = [
        "What visits cost as breaks get further apart",
        f"{'':15}if all goes well                 with one accident a week",
        f"Day date       {_HEAD} {_HEAD}".rstrip(),
    ]
    for clear, slips in zip(outlook.clear.days, outlook.slips.days, strict=True):
        lines.append(
            f"{clear.number:>3} {clear.date:%a %d %b} "
            + " ".join(
                f"{span_words(day.interval):>6} {day.visits or '':>3} "
                f"{money_words(day.cost) if day.visits else '':>8}{'*' if day.slip else ' '} "
                f"{'' if day.covered else 'NOT COVERED':11}"
                for day in (clear, slips)
            ).rstrip()
        )
    courses = (course.words(currency) for course in (outlook.clear, outlook.slips))
    return "\n".join([*lines, "* an accident that evening", *courses])


def _day(settings: Settings, day: AwayDay) -> Iterator[str]:
    clock = settings.clock
    head = f"{day.date:%a %d %b}, day {day.number}"
    if not day.alone:
        yield f"{head}: somebody is home"
        if not day.visits:
            return
    else:
        alone = ", ".join(f"{clock(away.start)} to {clock(away.end)}" for away in day.alone)
        visits = visits_words(len(day.visits), day.cost, settings.home.currency)
        yield f"{head}: alone {alone}, {'over, ' if day.over else ''}{visits}"
    for planned in day.breaks:
        if planned.kind != "visit":
            yield f"  {clock(planned.at)}  break {planned.words}"
            continue
        visit = next(visit for visit in day.visits if visit.at == planned.at)
        price = money_words(visit.cost, settings.home.currency)
        told = ", told" if visit.told else ""
        yield f"  {clock(visit.at)}  {printable(visit.helper)}, {price}{told}: {visit.why}"
    for meal in day.meals:
        if meal.words:
            yield f"  {clock(meal.at)}  meal, not {clock(meal.usual)}: {meal.words}"
    if day.lacks:
        yield f"  ! {day.lacks}"
    if day.advice:
        yield f"    {day.advice}"
