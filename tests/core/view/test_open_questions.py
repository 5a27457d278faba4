"""What the board asks about the log, once, and what an answer changes."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from pottyboard.core.model.events import EventError
from pottyboard.core.model.permitted import permitted
from pottyboard.core.view.answerable import answerable_in
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def asked(page: Diary, clock: str) -> list[tuple[str, str, tuple[str, ...]]]:
    jobs = page.read(clock).open_jobs
    return [(job.code, job.about, job.answers) for job in jobs if job.answers]


def across() -> Diary:
    """Return an accident that nobody has said more of, 2 h 35 after the last pee."""
    return diary().on(2).all_at(*MORNING).at("09:10", "pee-inside", found=None, id="wet")


def test_seen_or_found_is_asked_where_the_interval_waits_for_it() -> None:
    page = across()
    assert asked(page, "09:11") == [("seen-or-found", "wet", ("seen", "found"))]
    (job,) = (job for job in page.read("09:11").open_jobs if job.answers)
    assert "The interval waits for that" in job.words


@pytest.mark.parametrize(("kind", "found", "cause"), [("seen", False, "late"), ("found", True, "")])
def test_the_answer_is_what_the_accident_then_says(kind: str, found: bool, cause: str) -> None:
    page = across().at("09:30", kind, about="wet")
    seen = page.read("09:31")
    assert seen.accidents[0].event.found is found
    assert asked(page, "09:31") == []
    assert not cause or seen.accidents[0].cause == cause


def test_an_answer_can_be_taken_back_as_any_entry() -> None:
    page = across().at("09:30", "seen", about="wet", id="answer").without("answer")
    assert asked(page, "09:31") == [("seen-or-found", "wet", ("seen", "found"))]


def test_a_question_is_dropped_after_two_days() -> None:
    assert asked(across().on(4), "09:09") == [("seen-or-found", "wet", ("seen", "found"))]
    assert asked(across().on(4), "09:11") == []
    late = across().on(4).at("10:00", "found", about="wet")
    assert late.read("10:01").accidents[0].event.found is None


def twice() -> Diary:
    page = diary().on(2).all_at(*MORNING).at("08:30", "pee", by="Ann", id="one")
    return page.at("08:42", "pee", by="Ben", id="other")


def test_two_entries_of_two_people_may_be_one() -> None:
    assert asked(twice(), "08:43") == [("same-one", "other", ("same", "two"))]
    alone = diary().on(2).all_at(*MORNING).at("08:30", "pee", by="Ann").at("08:42", "pee", by="Ann")
    assert asked(alone, "08:43") == []


def test_the_same_one_stays_once() -> None:
    page = twice().at("08:50", "same", about="other")
    today = page.read("08:51").days[-1]
    assert (today.outings, today.holds) == (2, (115,))
    assert page.dues("08:51")["hold"] == "10:30"
    assert asked(page, "08:51") == []


def test_two_of_them_stay_two() -> None:
    page = twice().at("08:50", "two", about="other")
    assert page.read("08:51").days[-1].outings == 3
    assert asked(page, "08:51") == []


def test_silence_is_asked_about_once_somebody_is_back() -> None:
    page = diary().on(2).all_at(*MORNING)
    assert asked(page, "12:00") == []
    back = page.at("12:00", "pee")
    assert asked(back, "12:01") == [("silence", "", ("quiet",))]
    assert asked(back.at("12:02", "quiet"), "12:03") == []


def test_of_several_silences_the_newest_is_asked_about() -> None:
    # Common practice, no source: people remember best what was last.
    page = diary().all_at(*CLEAR_DAY).on(2).all_at(*MORNING, "08:30 pee", "11:00 water")
    page = page.all_at("14:00 water", "16:00 meal", "18:00 pee", "18:01 pee")
    jobs = page.on(3).at("06:30", "up").read("06:31").open_jobs
    (words,) = (job.words for job in jobs if job.code == "silence")
    assert words.startswith("nothing happened from Tue 3 Mar 18:01 to 22:30? (Nothing is logged, ")
    assert "nor in 1 stretch before" in words


def test_an_answer_of_the_next_day_clears_the_day_before() -> None:
    silent = [entry for entry in CLEAR_DAY if not "10:00" < entry < "15:00"]
    page = diary().on(2).all_at(*silent).on(3).all_at(*MORNING)
    assert page.read("07:00").days[1].verdict == "unknown"
    assert page.at("07:01", "quiet").read("07:02").days[1].verdict == "clear"


def test_only_what_is_asked_can_be_answered() -> None:
    page = across()
    view = page.read("09:20")
    known = answerable_in(view, page.entries)
    answer = page.at("09:20", "seen", about="wet").entries[-1]
    assert permitted(answer, page.settings.dog, known) == answer
    for kind, about in (("quiet", ""), ("same", "wet"), ("seen", "other")):
        wrong = page.at("09:20", kind, about=about).entries[-1]
        with pytest.raises(EventError, match=r"Nothing is asked|is no question"):
            permitted(wrong, page.settings.dog, known)


# --- Known ---------------------------------------------------------------------------------------


def to_be_known(day: int = 3) -> Diary:
    """Return a diary with clear days up to the morning of ``day``."""
    page = Diary(diary().settings, learn=True)
    for one in range(1, day):
        page = page.on(one).all_at(*CLEAR_DAY)
    return page.on(day).all_at(*MORNING)


def announced(page: Diary, clock: str) -> list[str]:
    return [job.words for job in page.read(clock).open_jobs if job.code == "known"]


def test_that_the_dog_is_known_is_announced_with_what_changes() -> None:
    assert announced(to_be_known(2), "20:00") == []
    (words,) = announced(to_be_known(), "07:00")
    assert words.startswith("Bramble is known now, its own log calls the breaks")
    assert "no longer each meal, drink or play" in words
    (job,) = (job for job in to_be_known().read("07:00").open_jobs if job.code == "known")
    assert job.is_question
    assert job.measures == ("own-log", "fixed-reasons")
    assert announced(replace(to_be_known(), learn=False), "07:00") == []


@pytest.mark.parametrize("measure", ["own-log", "fixed-reasons", "call-meal"])
def test_once_answered_it_never_comes_back(measure: str) -> None:
    page = to_be_known().at("07:05", "routine", measure=measure)
    for day, clock in ((3, "07:06"), (4, "07:00"), (9, "12:00")):
        assert announced(page.on(day), clock) == []


def test_an_answer_taken_back_asks_again() -> None:
    page = to_be_known().at("07:05", "routine", measure="own-log", id="said")
    assert len(announced(page.without("said"), "07:10")) == 1


def test_who_says_nothing_in_two_days_has_let_it() -> None:
    page = to_be_known().on(4).all_at(*MORNING)
    assert len(announced(page, "07:00")) == 1
    assert announced(page.on(5).all_at(*MORNING), "07:00") == []


def test_putting_it_off_goes_back_to_the_fixed_reasons() -> None:
    page = to_be_known().at("06:45", "routine", measure="fixed-reasons").at("07:00", "meal")
    assert page.dues("07:01")["meal"] == "07:15"
    kept = to_be_known().at("06:45", "routine", measure="own-log").at("07:00", "meal")
    assert "meal" not in kept.dues("07:01")
