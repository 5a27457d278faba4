"""The watch window: from when to keep a dog in sight before its break, and by which signs."""

from __future__ import annotations

from datetime import timedelta

from msgspec.structs import replace

from pottyboard.core.model import priors
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def known(days: int = 4) -> Diary:
    """Return the morning after some clear days."""
    page = Diary(diary().settings, learn=True)
    for day in range(1, days + 1):
        page = page.on(day).all_at(*CLEAR_DAY)
    return page.on(days + 1).all_at(*MORNING)


def test_it_opens_where_the_chance_passes_its_share_of_the_limit() -> None:
    page = known()
    seen = page.read("07:00")
    assert seen.watch_window is not None
    assert seen.risk is not None
    opens = seen.watch_window.since
    share = float(priors.WATCH_SHARE) * seen.risk.limit
    then, after = (
        page.read(page.settings.clock(opens + timedelta(minutes=more))).risk for more in (0, 1)
    )
    assert then is not None
    assert after is not None
    assert then.now <= share < after.now
    assert page.instant("06:35") < opens < seen.next_break.at


def test_it_says_from_when_and_once_it_is_open_only_what_to_do() -> None:
    page = known()
    window = page.read("07:00").watch_window
    assert window is not None
    clock = page.settings.clock(window.since)
    assert window.words == f"From {clock} keep Bramble in sight: it may ask"
    later = page.settings.clock(window.since + timedelta(minutes=1))
    open_now = page.read(later).watch_window
    assert open_now is not None
    assert open_now.words == "Keep Bramble in sight: it may ask"


def test_it_is_said_a_quarter_of_an_hour_ahead_and_no_sooner() -> None:
    page = known()
    window = page.read("07:00").watch_window
    assert window is not None

    def said(before: int) -> bool:
        clock = page.settings.clock(window.since - timedelta(minutes=before))
        return any("in sight" in line for line in page.read(clock).advice)

    assert said(14)
    assert said(-1)
    assert not said(17)


def test_the_signs_of_this_dog_are_named_the_commonest_first() -> None:
    page = known()
    for clock, sign in (("06:36", "circling"), ("06:37", "door"), ("06:38", "door")):
        page = page.at(clock, "sign", sign=sign)
    window = page.at("06:40", "pee").read("07:00").watch_window
    assert window is not None
    assert window.words.endswith("it may ask, by going to the door or circling")


def test_there_is_none_before_the_log_speaks_or_once_the_break_is_due() -> None:
    assert known(days=0).read("06:40").watch_window is None
    assert replace(known(), learn=False).read("07:00").watch_window is None
    page = known()
    due = page.read("07:00").next_break.at
    late = page.settings.clock(due + timedelta(minutes=3))
    assert not any("in sight" in line for line in page.read(late).advice)


def test_it_calls_no_break() -> None:
    seen = known().read("07:00")
    assert seen.watch_window is not None
    assert seen.watch_window.since not in {slot.at for slot in seen.timeline}
    assert seen.next_break.at > seen.watch_window.since
