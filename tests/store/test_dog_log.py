"""Logging, correcting, deleting: what is on disk when a change returns."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.model.events import Event, EventError
from pottyboard.core.model.localtime import TimeError
from pottyboard.store import DogLog, StoreError
from pottyboard.store.documents import document_of
from tests.store.house import APRIL, MARCH, NOW, ago, in_march, new_dog_log, opened

AWKWARD = [
    "the mat [/b] by the door [bold red]",
    "\x1b[2J\x1b]0;title\x07 \x00 \x9b",
    "x" * 10_000,
    "\u202eright to left\u200f",
    "half a character \ud83d",
    "both halves \ud83d\ude00, a whole 😀",
    " spaces, \t tabs \r\n and \u2028 lines ",
    '"quoted": {"id": "x"},\n}',
]


def test_an_entry_is_on_disk_when_it_returns(dog_log: DogLog) -> None:
    saved = dog_log.add(ago(5, note="by the gate", by="Ana"), NOW)
    content = json.loads((dog_log.folder / APRIL).read_bytes())
    assert content["about"]["file"]["schema"] == 1
    assert content["entries"][saved.id] == {**document_of(saved), "change": 1}
    assert content["entries"][saved.id]["at"] == "2026-04-10T11:55:00+00:00"
    assert opened(dog_log).events == (saved,)


def test_an_entry_gets_an_id_the_households_zone_and_the_time_of_logging(dog_log: DogLog) -> None:
    saved = dog_log.add(ago(5), NOW)
    assert saved.id.startswith("20260410-1155-")
    assert saved.zone == "Europe/Oslo"
    assert saved.logged == NOW
    abroad = dog_log.add(ago(4, zone="Asia/Tokyo", logged=NOW - timedelta(minutes=1)), NOW)
    assert (abroad.zone, abroad.logged) == ("Asia/Tokyo", NOW - timedelta(minutes=1))


def test_entries_of_the_same_instant_have_different_ids(dog_log: DogLog) -> None:
    ids = {dog_log.add(ago(5), NOW).id for _ in range(50)}
    assert len(ids) == len(dog_log.events) == 50


def test_each_month_has_its_own_file_by_utc(dog_log: DogLog) -> None:
    last_of_march = dog_log.add(Event("pee", datetime(2026, 3, 31, 23, 59, tzinfo=UTC)), NOW)
    first_of_april = dog_log.add(Event("pee", datetime(2026, 4, 1, 0, 0, tzinfo=UTC)), NOW)
    assert list(rows(dog_log, MARCH)) == [last_of_march.id]
    assert list(rows(dog_log, APRIL)) == [first_of_april.id]
    assert dog_log.events == (last_of_march, first_of_april)


def rows(dog_log: DogLog, name: str, table: str = "entries") -> dict[str, dict[str, object]]:
    """Return a table of one file as it is on disk."""
    found: dict[str, dict[str, object]] = json.loads((dog_log.folder / name).read_bytes())[table]
    return found


@pytest.mark.parametrize("note", AWKWARD)
def test_whatever_somebody_wrote_is_stored_whole(dog_log: DogLog, note: str) -> None:
    saved = dog_log.add(ago(5, "note", note=note, by=note[:50]), NOW)
    [read] = opened(dog_log).events
    assert read == saved
    assert read.note.encode("utf-16", "surrogatepass") == note.encode("utf-16", "surrogatepass")
    other = dog_log.add(ago(4), NOW)
    assert opened(dog_log).events == (saved, other)


def test_a_backdated_entry_stands_in_order(dog_log: DogLog) -> None:
    late = dog_log.add(ago(1), NOW)
    early = dog_log.add(ago(90), NOW)
    earliest = dog_log.add(in_march(5), NOW)
    assert dog_log.events == (earliest, early, late)


def test_a_group_is_saved_in_order_across_months(dog_log: DogLog) -> None:
    saved = dog_log.add_all([ago(9), in_march(9), ago(3, "meal")], NOW)
    assert [event.kind for event in saved] == ["pee", "pee", "meal"]
    assert set(opened(dog_log).events) == set(saved)


def test_nothing_of_a_group_is_saved_if_one_does_not_fit(dog_log: DogLog) -> None:
    with pytest.raises(EventError):
        dog_log.add_all([ago(9), ago(8, sign="door")], NOW)
    assert dog_log.events == ()
    assert dog_log.add_all([], NOW) == ()


@pytest.mark.parametrize(
    "wrong",
    [
        ago(-30),
        Event("pee", datetime(2026, 3, 1, tzinfo=UTC)),
        ago(5, sign="door"),
        ago(5, "water", ml=-1.0),
        ago(5, "water", ml=float("nan")),
    ],
)
def test_an_entry_that_does_not_fit_is_refused(dog_log: DogLog, wrong: Event) -> None:
    with pytest.raises(EventError):
        dog_log.add(wrong, NOW)
    assert opened(dog_log).events == ()


def test_a_correction_keeps_what_was_there(dog_log: DogLog) -> None:
    first = dog_log.add(ago(30, note="kitchen"), NOW)
    corrected = dog_log.edit(first.id, {"kind": "poop", "note": "hall"}, NOW, by="Ben")
    assert corrected == Event("poop", first.at, first.id, "", "hall", first.zone, first.logged)
    assert opened(dog_log).events == (corrected,)
    [note] = rows(dog_log, APRIL, "trail").values()
    assert note["action"] == "edit"
    assert note["by"] == "Ben"
    assert note["before"] == {**document_of(first), "change": 1}


def test_a_deletion_keeps_what_was_there(dog_log: DogLog) -> None:
    first = dog_log.add(ago(30), NOW)
    assert dog_log.delete(first.id, NOW, by="Ana") == first
    assert opened(dog_log).events == ()
    [note] = rows(dog_log, APRIL, "trail").values()
    assert note["before"] == {**document_of(first), "change": 1}


def test_the_trail_only_grows(dog_log: DogLog) -> None:
    trail: dict[str, object] = {}
    saved = dog_log.add(ago(30), NOW)
    for number in range(5):
        dog_log.edit(saved.id, {"note": f"version {number}"}, NOW)
        if number % 2:
            dog_log.undo(NOW)
        longer = rows(dog_log, APRIL, "trail")
        assert trail.items() <= longer.items()
        assert len(longer) > len(trail)
        trail = dict(longer)


def test_a_correction_moves_an_entry_to_another_month(dog_log: DogLog) -> None:
    first = dog_log.add(ago(30), NOW)
    moved = dog_log.edit(first.id, {"at": datetime(2026, 3, 30, 8, 0, tzinfo=UTC)}, NOW)
    assert rows(dog_log, APRIL) == {}
    assert list(rows(dog_log, MARCH)) == [first.id]
    assert dog_log.events == opened(dog_log).events == (moved,)


def test_a_correction_that_changes_nothing_is_no_change(dog_log: DogLog) -> None:
    first = dog_log.add(ago(30, note="hall"), NOW)
    content = (dog_log.folder / APRIL).read_bytes()
    assert dog_log.edit(first.id, {"note": "hall"}, NOW) == first
    assert (dog_log.folder / APRIL).read_bytes() == content
    assert dog_log.undo(NOW).action == "add"


def test_a_correction_that_does_not_fit_changes_nothing(dog_log: DogLog) -> None:
    first = dog_log.add(ago(30), NOW)
    for changes in ({"sign": "door"}, {"at": NOW + timedelta(hours=1)}, {"id": "x"}, {"mood": 1}):
        with pytest.raises(EventError):
            dog_log.edit(first.id, changes, NOW)
    with pytest.raises(EventError):
        dog_log.edit(first.id, {"note": 5}, NOW)
    with pytest.raises(TimeError):
        dog_log.edit(first.id, {"at": datetime(2026, 4, 1)}, NOW)
    assert opened(dog_log).events == (first,)


def test_a_note_can_be_corrected_though_the_arrival_was_moved(dog_log: DogLog) -> None:
    first = dog_log.add(in_march(5), NOW)
    dog_log.save_answers({**dog_log.answers, "arrived": "2026-03-20 09:00"}, NOW)
    assert dog_log.edit(first.id, {"note": "at the shelter"}, NOW).note == "at the shelter"
    with pytest.raises(EventError, match="before the dog arrived"):
        dog_log.edit(first.id, {"at": datetime(2026, 3, 6, tzinfo=UTC)}, NOW)


def test_an_entry_that_is_gone_cannot_be_changed(dog_log: DogLog) -> None:
    first = dog_log.add(ago(30), NOW)
    opened(dog_log).delete(first.id, NOW)
    with pytest.raises(EventError, match="no longer there"):
        dog_log.edit(first.id, {"note": "x"}, NOW)
    with pytest.raises(EventError, match="no longer there"):
        dog_log.delete(first.id, NOW)


def test_the_same_entry_saved_again_stays_one(dog_log: DogLog) -> None:
    event = ago(30, id="my-own-id", note="by the gate")
    first = dog_log.add(event, NOW)
    again = opened(dog_log).add(event, NOW + timedelta(minutes=1))
    assert again == first
    assert opened(dog_log).events == (first,)
    with pytest.raises(EventError, match="already"):
        dog_log.add(ago(31, id="my-own-id"), NOW)
    with pytest.raises(EventError, match="already"):
        dog_log.add(in_march(3, id="my-own-id"), NOW)
    with pytest.raises(EventError, match="same id"):
        dog_log.add_all([ago(1, id="two"), ago(2, id="two")], NOW)


def test_fields_of_a_later_version_survive_a_correction(dog_log: DogLog) -> None:
    first = dog_log.add(ago(30), NOW)
    path = dog_log.folder / APRIL
    content = json.loads(path.read_bytes())
    content["entries"][first.id]["mood"] = "calm"
    path.write_text(json.dumps(content))
    dog_log.edit(first.id, {"note": "x"}, NOW)
    assert rows(dog_log, APRIL)[first.id]["mood"] == "calm"


# --- Undo -----------------------------------------------------------------------------------------


def test_undo_takes_back_the_last_change_and_says_what_it_was(dog_log: DogLog) -> None:
    first = dog_log.add(ago(30), NOW)
    second = dog_log.add(ago(10, "meal"), NOW)
    undone = dog_log.undo(NOW)
    assert (undone.action, undone.event) == ("add", second)
    assert undone.words == "Taken back: meal 13:50, logged just now"
    assert dog_log.events == opened(dog_log).events == (first,)


def test_undo_walks_back_in_order_after_a_restart(dog_log: DogLog) -> None:
    first = dog_log.add(in_march(28), NOW)
    second = dog_log.add(ago(20, note="a"), NOW)
    edited = dog_log.edit(second.id, {"note": "b"}, NOW)
    dog_log.delete(first.id, NOW)
    moved = dog_log.edit(second.id, {"at": datetime(2026, 3, 29, tzinfo=UTC)}, NOW)
    assert dog_log.events == (moved,)
    states = []
    for _ in range(5):
        undone = opened(dog_log).undo(NOW)
        states.append((undone.action, undone.event, opened(dog_log).events))
    assert states == [
        ("edit", edited, (edited,)),
        ("delete", first, (first, edited)),
        ("edit", second, (first, second)),
        ("add", second, (first,)),
        ("add", first, ()),
    ]
    with pytest.raises(StoreError, match="nothing to take back"):
        opened(dog_log).undo(NOW)


def test_undo_after_an_undo_and_a_new_change(dog_log: DogLog) -> None:
    first = dog_log.add(ago(30), NOW)
    dog_log.add(ago(20), NOW)
    dog_log.undo(NOW)
    third = dog_log.add(ago(10), NOW)
    assert dog_log.undo(NOW).event == third
    assert dog_log.undo(NOW).event == first
    assert dog_log.events == ()


def test_undo_of_a_group_takes_all_of_it_across_months(dog_log: DogLog) -> None:
    kept = dog_log.add(ago(50), NOW)
    dog_log.add_all([ago(9), in_march(9), in_march(10), ago(3, "meal")], NOW)
    undone = opened(dog_log).undo(NOW)
    assert undone.words == ("Taken back: 4 entries, Mon 9 Mar 13:00 to 13:57, logged just now")
    assert opened(dog_log).events == (kept,)


def test_undo_finds_the_last_change_though_the_clock_was_wrong(dog_log: DogLog) -> None:
    dog_log.save_answers({**dog_log.answers, "arrived": "2026-03-02 09:00"}, NOW)
    wrong = datetime(2031, 1, 1, 8, 0, tzinfo=UTC)
    future = dog_log.add(Event("pee", wrong), wrong)
    present = dog_log.add(ago(5), NOW)
    past = dog_log.add(Event("meal", NOW - timedelta(days=9)), NOW - timedelta(days=8))
    assert [opened(dog_log).undo(NOW).event for _ in range(3)] == [past, present, future]


def test_undo_takes_back_what_another_process_did(dog_log: DogLog) -> None:
    dog_log.add(ago(30), NOW)
    theirs = opened(dog_log).add(ago(10, "meal", by="Ben"), NOW)
    assert dog_log.undo(NOW, by="Ana").event == theirs
    [note] = rows(dog_log, APRIL, "trail").values()
    assert (note["action"], note["by"], note["of"]) == ("undo", "Ana", 2)
    assert note["before"] == {**document_of(theirs), "change": 2}


def test_undo_goes_past_a_line_of_the_trail_that_is_damaged(dog_log: DogLog) -> None:
    first = dog_log.add(ago(30), NOW)
    dog_log.edit(first.id, {"note": "b"}, NOW)
    path = dog_log.folder / APRIL
    content = json.loads(path.read_bytes())
    for note in content["trail"].values():
        note["before"] = "lost"
    content["trail"]["strange"] = 5
    path.write_text(json.dumps(content))
    assert opened(dog_log).undo(NOW).action == "add"
    assert opened(dog_log).events == ()


def test_an_undo_says_whose_entry_it_was_and_how_old(dog_log: DogLog) -> None:
    dog_log.add(ago(30, "meal", by="Ben"), NOW - timedelta(minutes=26))
    past = dog_log.to_undo()
    assert past is not None
    assert past.needs_asking("Ben", NOW)
    assert not past.needs_asking("Ben", NOW - timedelta(minutes=20))
    assert past.needs_asking("Ana", NOW - timedelta(minutes=20))
    assert past.needs_asking("", NOW - timedelta(minutes=20))
    assert dog_log.undo(NOW).words == "Taken back: meal 13:30, logged by Ben 26 min ago"
    assert dog_log.redo(NOW).words == "Back again: meal 13:30, logged by Ben 26 min ago"


def test_an_undo_says_whose_correction_and_deletion_it_was(dog_log: DogLog) -> None:
    saved = dog_log.add(in_march(29, note="a"), NOW)
    dog_log.edit(saved.id, {"note": "b"}, NOW - timedelta(hours=2), "Ben")
    dog_log.delete(saved.id, NOW - timedelta(minutes=5), "Ana")
    when = f"{saved.at.astimezone(dog_log.settings.zone):%a %-d %b %H:%M}"
    assert dog_log.undo(NOW).words == f"Back again: pee, b {when}, deleted by Ana 5 min ago"
    words = f"Correction taken back: pee, a {when} again, corrected by Ben 2 h ago"
    assert dog_log.undo(NOW).words == words
    assert dog_log.redo(NOW).words == f"Corrected again: pee, b {when}"
    assert dog_log.redo(NOW).words == f"Deleted again: pee, b {when}"
    assert dog_log.events == ()


def test_an_undo_of_what_was_shown_takes_nothing_else_back(dog_log: DogLog) -> None:
    dog_log.add(ago(30), NOW)
    shown = dog_log.to_undo()
    opened(dog_log).add(ago(10, "meal", by="Ben"), NOW)
    with pytest.raises(StoreError, match="somebody else has changed the log"):
        dog_log.undo(NOW, seen=shown)
    assert len(dog_log.events) == 2
    dog_log.undo(NOW, seen=dog_log.to_undo())
    assert len(dog_log.events) == 1


def test_a_new_entry_ends_the_redo(dog_log: DogLog) -> None:
    dog_log.add(ago(30), NOW)
    dog_log.add(ago(20), NOW)
    dog_log.undo(NOW)
    dog_log.undo(NOW)
    dog_log.redo(NOW)
    dog_log.add(ago(10, "meal"), NOW)
    with pytest.raises(StoreError, match="No undo to take back"):
        opened(dog_log).redo(NOW)
    dog_log.undo(NOW)
    assert opened(dog_log).redo(NOW).event.kind == "meal"
    with pytest.raises(StoreError, match="No undo to take back"):
        opened(dog_log).redo(NOW)


def test_a_detail_after_an_undo_is_a_change_of_its_own(dog_log: DogLog) -> None:
    saved = dog_log.add(ago(5, "pee-inside"), NOW)
    dog_log.add(ago(4), NOW)
    dog_log.undo(NOW)
    dog_log.edit(saved.id, {"place": "hall"}, NOW, joined=True)
    with pytest.raises(StoreError, match="No undo to take back"):
        dog_log.redo(NOW)
    assert dog_log.undo(NOW).action == "edit"


CHANGES = st.lists(
    st.tuples(
        st.sampled_from(["add", "group", "edit", "move", "delete", "undo", "undo", "redo"]),
        st.integers(0, 40),
        st.booleans(),
    ),
    max_size=12,
)


@given(changes=CHANGES)
def test_undoing_everything_passes_through_every_state_backwards(
    tmp_path_factory: pytest.TempPathFactory, changes: list[tuple[str, int, bool]]
) -> None:
    dog_log = new_dog_log(tmp_path_factory.mktemp("home"))
    states, ahead = [dog_log.events], []
    for what, number, restart in changes:
        if restart:
            dog_log = opened(dog_log)
        events = dog_log.events
        chosen = events[number % len(events)] if events else None
        if what == "add":
            dog_log.add(ago(number), NOW)
        elif what == "group":
            dog_log.add_all([ago(number), in_march(2 + number % 28)], NOW)
        elif what == "undo":
            if len(states) > 1:
                dog_log.undo(NOW)
                ahead.append(states.pop())
                assert dog_log.events == states[-1]
            continue
        elif what == "redo":
            if ahead:
                dog_log.redo(NOW)
                states.append(ahead.pop())
            assert dog_log.to_redo() is None or ahead
            assert dog_log.events == states[-1]
            continue
        elif chosen is None:
            continue
        elif what == "delete":
            dog_log.delete(chosen.id, NOW)
        else:
            at = in_march(2 + number % 28).at if number % 2 else ago(number).at
            moved = {"at": at} if what == "move" else {"note": f"{chosen.note}{number}"}
            if dog_log.edit(chosen.id, moved, NOW) == chosen:
                continue
        assert dog_log.events == opened(dog_log).events
        states.append(dog_log.events)
        ahead.clear()
    while len(states) > 1:
        states.pop()
        dog_log.undo(NOW)
        assert dog_log.events == opened(dog_log).events == states[-1]
    with pytest.raises(StoreError, match="nothing"):
        dog_log.undo(NOW)


def test_details_added_at_once_go_back_with_their_entry(dog_log: DogLog) -> None:
    first = dog_log.add(ago(40), NOW)
    saved = dog_log.add(ago(5, "pee-inside"), NOW)
    dog_log.edit(saved.id, {"place": "hall"}, NOW, joined=True)
    after = opened(dog_log).edit(saved.id, {"found": False}, NOW, joined=True)
    assert opened(dog_log).events == (first, after)
    assert (after.place, after.found) == ("hall", False)
    undone = opened(dog_log).undo(NOW)
    assert (undone.action, undone.event) == ("add", after)
    assert opened(dog_log).events == (first,)


def test_details_added_to_a_correction_go_back_with_it(dog_log: DogLog) -> None:
    saved = dog_log.add(ago(5, "pee-inside", place="hall"), NOW)
    dog_log.add(ago(4), NOW)
    dog_log.edit(saved.id, {"place": "stairs"}, NOW)
    dog_log.edit(saved.id, {"surface": "wood"}, NOW, joined=True)
    assert opened(dog_log).undo(NOW).event == saved
    assert saved in opened(dog_log).events


def test_details_added_after_another_change_are_a_correction_of_their_own(dog_log: DogLog) -> None:
    saved = dog_log.add(ago(5, "pee-inside"), NOW)
    dog_log.add(ago(4), NOW)
    dog_log.edit(saved.id, {"place": "hall"}, NOW, joined=True)
    assert opened(dog_log).undo(NOW).action == "edit"
    assert saved in opened(dog_log).events


def test_a_detail_that_is_taken_out_again_leaves_nothing_behind(dog_log: DogLog) -> None:
    saved = dog_log.add(ago(5, "pee-inside"), NOW)
    dog_log.edit(saved.id, {"place": "hall"}, NOW, joined=True)
    dog_log.edit(saved.id, {"place": ""}, NOW, joined=True)
    assert rows(dog_log, APRIL)[saved.id] == {**document_of(saved), "change": 1}
