"""What the page on the hold says of who calls the breaks, against what calls them."""

from __future__ import annotations

import math

from pottyboard.core.model import priors
from pottyboard.core.model.localtime import span_words
from pottyboard.core.view.hold_report import hold_report
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def after(days: int) -> Diary:
    """Return the morning after so many clear days."""
    page = Diary(diary().settings, learn=True)
    for day in range(1, days + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page.on(days + 1).all_at(*MORNING)


def calling(page: Diary, clock: str = "07:00") -> str:
    return hold_report(page.settings, page.entries, page.instant(clock)).calling


def test_before_the_log_speaks_the_rule_alone_decides() -> None:
    assert calling(after(0)) == "Until then the rule alone decides: 2 h between breaks."


def test_in_the_first_days_the_limit_may_be_passed() -> None:
    """No break comes by the estimate sooner than the share of the interval that the model of the
    reasons waits for (our own choice: priors.FIRST_DAYS_SHARE)."""
    page = after(1)
    every = page.read("07:00").interval.minutes
    least = span_words(math.ceil(every * priors.FIRST_DAYS_SHARE))
    said = calling(page)
    assert f"sooner than {least} after a pee, so more than 4 waits in 100 may end" in said
    assert "From day 3 and 12 logged waits on, at most 4 should, poop counted too." in said


def test_of_a_known_dog_the_limit_decides() -> None:
    assert calling(after(4)) == (
        "Breaks come so early that at most 4 waits in 100 should end indoors, by that and by when "
        "poop may come."
    )


def test_asked_for_the_fixed_reasons_call_beside_it() -> None:
    page = after(4).at("06:45", "routine", measure="fixed-reasons")
    assert page.at("07:00", "meal").dues("07:01").keys() >= {"meal", "model"}
    said = calling(page)
    assert said.startswith("As you asked, meals, long drinks and play call breaks too; by its own")
    assert said.endswith("at most 4 waits in 100 should end indoors.")
