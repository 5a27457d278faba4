"""Open jobs: spots to clean, the vet check, the age."""

from __future__ import annotations

import pytest
from msgspec import structs

from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.view.jobs import rest_of_setup
from tests.core.diary import MORNING, Diary, diary


def codes(page: Diary, clock: str) -> list[str]:
    """Return the codes of the open jobs."""
    return [job.code for job in page.read(clock).open_jobs]


def spots(page: Diary, clock: str = "12:00") -> list[str]:
    """Return the ids of the accidents that are still to clean up."""
    return [job.about for job in page.read(clock).open_jobs if job.code == "clean"]


def two_accidents() -> Diary:
    """Return a morning with an accident on the rug and one in the hall."""
    page = diary(vet="done").on(3).all_at(*MORNING)
    page = page.at("08:00", "pee-inside", id="rug", place="rug")
    return page.at("09:00", "poop-inside", id="hall", place="Hall")


def test_a_spot_stays_open_until_it_is_cleaned() -> None:
    page = two_accidents()
    assert spots(page) == ["rug", "hall"]
    assert spots(page.on(9)) == ["rug", "hall"]
    assert spots(page.at("09:10", "cleaned", about="rug")) == ["hall"]
    assert spots(page.at("09:10", "cleaned", place="hall")) == ["rug"]
    assert spots(page.at("09:10", "cleaned")) == ["hall"], "the oldest, when nobody says which"
    assert spots(page.all_at("09:10 cleaned", "09:11 cleaned")) == []


def test_cleaning_another_place_leaves_the_spot_open() -> None:
    assert spots(two_accidents().at("09:10", "cleaned", place="kitchen")) == ["rug", "hall"]


def test_cleaning_before_the_accident_does_not_count() -> None:
    page = diary(vet="done").on(3).all_at(*MORNING, "07:00 cleaned")
    assert spots(page.at("08:00", "pee-inside", id="rug")) == ["rug"]


def test_cleaned_in_the_minute_of_the_accident() -> None:
    page = diary(vet="done").on(3).all_at(*MORNING)
    for first, second in (("a", "b"), ("b", "a")):
        entries = page.at("08:00", "pee-inside", id=first).at("08:00", "cleaned", id=second)
        assert spots(entries) == [], f"ids {first}, {second}"


def test_the_words_say_what_to_clean_with() -> None:
    job = next(j for j in two_accidents().read("12:00").open_jobs if j.about == "rug")
    assert "rug" in job.words
    assert "enzyme cleaner, no ammonia" in job.words
    assert two_accidents().clock(job.since) == "08:00"


def test_a_spot_of_an_earlier_day_says_which_day() -> None:
    page = two_accidents()
    now, later = page.read("12:00").open_jobs[0], page.on(5).read("07:00").open_jobs[0]
    assert "(pee indoors, 08:00)" in now.words
    assert "(pee indoors, Wed 4 Mar 08:00)" in later.words
    assert (now.name, later.name) == ("08:00 rug", "Wed 4 Mar 08:00 rug")


def test_the_vet_check_comes_first() -> None:
    assert codes(diary(), "07:00") == ["vet"]
    assert codes(diary(vet="booked"), "07:00") == ["vet"]
    assert codes(diary(vet="done"), "07:00") == []
    page = diary().on(3).at("10:00", "vet")
    assert codes(page, "09:59") == ["vet"]
    assert codes(page, "10:00") == []


def test_the_vet_check_says_why_and_stays() -> None:
    # Veterinary guidance quoted on worksmartdogtraining.com (read in that second source): pain and
    # illness are ruled out before a dog that pees indoors is trained.
    for booked in ("not yet", "booked"):
        page = diary(vet=booked)
        (job,) = page.on(20).read("12:00").open_jobs
        assert "rule out illness" in job.words
        assert any("source" in step.casefold() for step in job.steps)
        assert page.clock(job.since) == "06:30"


def test_a_young_dog_is_warned_for() -> None:
    jobs = diary(vet="done", age="young").read("07:00").open_jobs
    assert [job.code for job in jobs] == ["young"]
    assert "12 months" in jobs[0].words
    assert "vet" in jobs[0].words


def test_the_rest_of_the_set_up_is_open_for_two_days_of_the_log() -> None:
    page = diary(vet="done").at("09:00", "pee")
    assert "set-up" not in codes(page, "10:00"), "everything was answered"
    left = structs.replace(page.settings, unanswered=28)

    def stands(events: tuple[Event, ...], clock: str, day: int) -> bool:
        now = minutes_of(page.on(day).instant(clock))
        return bool(rest_of_setup(left, events, now))

    assert stands(page.entries, "10:00", 1)
    assert stands(page.entries, "08:00", 3)
    assert not stands(page.entries, "10:00", 3), "it does not nag for ever"
    assert stands((), "10:00", 9), "nothing was logged: the board has not been in use yet"
    (job,) = rest_of_setup(left, page.entries, minutes_of(page.instant("10:00")))
    assert job.words.startswith("set-up: 28 answers left (")
    assert not job.is_question


# --- A nap that nobody ended ----------------------------------------------------------------------


def naps(page: Diary, clock: str) -> list[str]:
    """Return what stands about a nap, and the kinds of entry that answer it."""
    jobs = (job for job in page.read(clock).open_jobs if job.code == "nap")
    return [f"{job.name} {', '.join(job.answers)}" for job in jobs]


ASKS = "Asleep since 08:00: up, or does it sleep on? up, settled"


@pytest.mark.parametrize(
    ("entries", "before", "from_then"),
    [
        (("06:30 up", "06:36 pee", "08:00 settled"), "10:35", "10:36"),
        (("06:30 up", "06:36 pee", "07:58 pee", "08:00 settled"), "10:59", "11:00"),
    ],
)
def test_a_nap_that_nobody_ended_is_asked_about_from_its_minute_on(
    entries: tuple[str, ...], before: str, from_then: str
) -> None:
    """Our own rule: after 3 h asleep, or twice the interval (2 h) since the last pee."""
    page = diary(vet="done").on(2).all_at(*entries)
    assert naps(page, before) == []
    assert naps(page, from_then) == [ASKS]
    (job,) = page.read(from_then).open_jobs
    assert page.clock(job.since) == from_then
    assert job.is_question, "one key answers it"


def test_the_question_about_a_nap_is_gone_once_it_is_answered() -> None:
    page = diary(vet="done").on(2).all_at("06:30 up", "06:36 pee", "08:00 settled")
    assert naps(page.at("10:40", "note"), "10:41") == [ASKS], "a note says nothing of it"
    for kind in ("up", "settled", "pee", "meal"):
        assert naps(page.at("10:40", kind), "10:41") == [], kind
    on = page.at("10:40", "settled")
    assert on.read("10:41").asleep == "nap"
    assert (naps(on, "11:39"), naps(on, "11:40")) == ([], [ASKS]), "and asked again in an hour"
    assert naps(page.at("10:40", "up"), "16:00") == []
