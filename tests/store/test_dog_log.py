"""Logging, correcting, deleting: what is on disk when a change returns."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.core.model.events import Event, EventError
from pottyboard.core.model.localtime import TimeError
from pottyboard.store import Record, StoreError
from pottyboard.store.documents import document_of
from tests.store.house import APRIL, MARCH, NOW, ago, in_march, new_record, opened

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


def test_an_entry_is_on_disk_when_it_returns(record: Record) -> None:
    saved = record.add(ago(5, note="by the gate", by="Ana"), NOW)
    content = json.loads((record.folder / APRIL).read_bytes())
    assert content["about"]["file"]["schema"] == 1
    assert content["entries"][saved.id] == {**document_of(saved), "change": 1}
    assert content["entries"][saved.id]["at"] == "2026-04-10T11:55:00+00:00"
    assert opened(record).events == (saved,)


def test_an_entry_gets_an_id_the_households_zone_and_the_time_of_logging(record: Record) -> None:
    saved = record.add(ago(5), NOW)
    assert saved.id.startswith("20260410-1155-")
    assert saved.zone == "Europe/Oslo"
    assert saved.logged == NOW
    abroad = record.add(ago(4, zone="Asia/Tokyo", logged=NOW - timedelta(minutes=1)), NOW)
    assert (abroad.zone, abroad.logged) == ("Asia/Tokyo", NOW - timedelta(minutes=1))


def test_entries_of_the_same_instant_have_different_ids(record: Record) -> None:
    ids = {record.add(ago(5), NOW).id for _ in range(50)}
    assert len(ids) == len(record.events) == 50


def test_each_month_has_its_own_file_by_utc(record: Record) -> None:
    last_of_march = record.add(Event("pee", datetime(2026, 3, 31, 23, 59, tzinfo=UTC)), NOW)
    first_of_april = record.add(Event("pee", datetime(2026, 4, 1, 0, 0, tzinfo=UTC)), NOW)
    assert list(rows(record, MARCH)) == [last_of_march.id]
    assert list(rows(record, APRIL)) == [first_of_april.id]
    assert record.events == (last_of_march, first_of_april)


def rows(record: Record, name: str, table: str = "entries") -> dict[str, dict[str, object]]:
    """Return a table of one file as it is on disk."""
    found: dict[str, dict[str, object]] = json.loads((record.folder / name).read_bytes())[table]
    return found


@pytest.mark.parametrize("note", AWKWARD)
def test_whatever_somebody_wrote_is_stored_whole(record: Record, note: str) -> None:
    saved = record.add(ago(5, "note", note=note, by=note[:50]), NOW)
    [read] = opened(record).events
    assert read == saved
    assert read.note.encode("utf-16", "surrogatepass") == note.encode("utf-16", "surrogatepass")
    other = record.add(ago(4), NOW)
    assert opened(record).events == (saved, other)


def test_a_backdated_entry_stands_in_order(record: Record) -> None:
    late = record.add(ago(1), NOW)
    early = record.add(ago(90), NOW)
    earliest = record.add(in_march(5), NOW)
    assert record.events == (earliest, early, late)


def test_a_group_is_saved_in_order_across_months(record: Record) -> None:
    saved = record.add_all([ago(9), in_march(9), ago(3, "meal")], NOW)
    assert [event.kind for event in saved] == ["pee", "pee", "meal"]
    assert set(opened(record).events) == set(saved)


def test_nothing_of_a_group_is_saved_if_one_does_not_fit(record: Record) -> None:
    with pytest.raises(EventError):
        record.add_all([ago(9), ago(8, sign="door")], NOW)
    assert record.events == ()
    assert record.add_all([], NOW) == ()


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
def test_an_entry_that_does_not_fit_is_refused(record: Record, wrong: Event) -> None:
    with pytest.raises(EventError):
        record.add(wrong, NOW)
    assert opened(record).events == ()


def test_a_correction_keeps_what_was_there(record: Record) -> None:
    first = record.add(ago(30, note="kitchen"), NOW)
    corrected = record.edit(first.id, {"kind": "poop", "note": "hall"}, NOW, by="Ben")
    assert corrected == Event("poop", first.at, first.id, "", "hall", first.zone, first.logged)
    assert opened(record).events == (corrected,)
    [note] = rows(record, APRIL, "trail").values()
    assert note["action"] == "edit"
    assert note["by"] == "Ben"
    assert note["before"] == {**document_of(first), "change": 1}


def test_a_deletion_keeps_what_was_there(record: Record) -> None:
    first = record.add(ago(30), NOW)
    assert record.delete(first.id, NOW, by="Ana") == first
    assert opened(record).events == ()
    [note] = rows(record, APRIL, "trail").values()
    assert note["before"] == {**document_of(first), "change": 1}


def test_the_trail_only_grows(record: Record) -> None:
    trail: dict[str, object] = {}
    saved = record.add(ago(30), NOW)
    for number in range(5):
        record.edit(saved.id, {"note": f"version {number}"}, NOW)
        if number % 2:
            record.undo(NOW)
        longer = rows(record, APRIL, "trail")
        assert trail.items() <= longer.items()
        assert len(longer) > len(trail)
        trail = dict(longer)


def test_a_correction_moves_an_entry_to_another_month(record: Record) -> None:
    first = record.add(ago(30), NOW)
    moved = record.edit(first.id, {"at": datetime(2026, 3, 30, 8, 0, tzinfo=UTC)}, NOW)
    assert rows(record, APRIL) == {}
    assert list(rows(record, MARCH)) == [first.id]
    assert record.events == opened(record).events == (moved,)


def test_a_correction_that_changes_nothing_is_no_change(record: Record) -> None:
    first = record.add(ago(30, note="hall"), NOW)
    content = (record.folder / APRIL).read_bytes()
    assert record.edit(first.id, {"note": "hall"}, NOW) == first
    assert (record.folder / APRIL).read_bytes() == content
    assert record.undo(NOW).action == "add"


def test_a_correction_that_does_not_fit_changes_nothing(record: Record) -> None:
    first = record.add(ago(30), NOW)
    for changes in ({"sign": "door"}, {"at": NOW + timedelta(hours=1)}, {"id": "x"}, {"mood": 1}):
        with pytest.raises(EventError):
            record.edit(first.id, changes, NOW)
    with pytest.raises(EventError):
        record.edit(first.id, {"note": 5}, NOW)
    with pytest.raises(TimeError):
        record.edit(first.id, {"at": datetime(2026, 4, 1)}, NOW)
    assert opened(record).events == (first,)


def test_a_note_can_be_corrected_though_the_arrival_was_moved(record: Record) -> None:
    first = record.add(in_march(5), NOW)
    record.save_answers({**record.answers, "arrived": "2026-03-20 09:00"}, NOW)
    assert record.edit(first.id, {"note": "at the shelter"}, NOW).note == "at the shelter"
    with pytest.raises(EventError, match="before the dog arrived"):
        record.edit(first.id, {"at": datetime(2026, 3, 6, tzinfo=UTC)}, NOW)


def test_an_entry_that_is_gone_cannot_be_changed(record: Record) -> None:
    first = record.add(ago(30), NOW)
    opened(record).delete(first.id, NOW)
    with pytest.raises(EventError, match="no longer there"):
        record.edit(first.id, {"note": "x"}, NOW)
    with pytest.raises(EventError, match="no longer there"):
        record.delete(first.id, NOW)


def test_the_same_entry_saved_again_stays_one(record: Record) -> None:
    event = ago(30, id="my-own-id", note="by the gate")
    first = record.add(event, NOW)
    again = opened(record).add(event, NOW + timedelta(minutes=1))
    assert again == first
    assert opened(record).events == (first,)
    with pytest.raises(EventError, match="already"):
        record.add(ago(31, id="my-own-id"), NOW)
    with pytest.raises(EventError, match="already"):
        record.add(in_march(3, id="my-own-id"), NOW)
    with pytest.raises(EventError, match="same id"):
        record.add_all([ago(1, id="two"), ago(2, id="two")], NOW)


def test_fields_of_a_later_version_survive_a_correction(record: Record) -> None:
    first = record.add(ago(30), NOW)
    path = record.folder / APRIL
    content = json.loads(path.read_bytes())
    content["entries"][first.id]["mood"] = "calm"
    path.write_text(json.dumps(content))
    record.edit(first.id, {"note": "x"}, NOW)
    assert rows(record, APRIL)[first.id]["mood"] == "calm"


# --- Undo -----------------------------------------------------------------------------------------


def test_undo_takes_back_the_last_change_and_says_what_it_was(record: Record) -> None:
    first = record.add(ago(30), NOW)
    second = record.add(ago(10, "meal"), NOW)
    undone = record.undo(NOW)
    assert (undone.action, undone.event) == ("add", second)
    assert undone.words == "Taken back: meal, 13:50"
    assert record.events == opened(record).events == (first,)


def test_undo_walks_back_in_order_after_a_restart(record: Record) -> None:
    first = record.add(in_march(28), NOW)
    second = record.add(ago(20, note="a"), NOW)
    edited = record.edit(second.id, {"note": "b"}, NOW)
    record.delete(first.id, NOW)
    moved = record.edit(second.id, {"at": datetime(2026, 3, 29, tzinfo=UTC)}, NOW)
    assert record.events == (moved,)
    states = []
    for _ in range(5):
        undone = opened(record).undo(NOW)
        states.append((undone.action, undone.event, opened(record).events))
    assert states == [
        ("edit", edited, (edited,)),
        ("delete", first, (first, edited)),
        ("edit", second, (first, second)),
        ("add", second, (first,)),
        ("add", first, ()),
    ]
    with pytest.raises(StoreError, match="nothing to take back"):
        opened(record).undo(NOW)


def test_undo_after_an_undo_and_a_new_change(record: Record) -> None:
    first = record.add(ago(30), NOW)
    record.add(ago(20), NOW)
    record.undo(NOW)
    third = record.add(ago(10), NOW)
    assert record.undo(NOW).event == third
    assert record.undo(NOW).event == first
    assert record.events == ()


def test_undo_of_a_group_takes_all_of_it_across_months(record: Record) -> None:
    kept = record.add(ago(50), NOW)
    record.add_all([ago(9), in_march(9), in_march(10), ago(3, "meal")], NOW)
    undone = opened(record).undo(NOW)
    assert undone.words == "Taken back: 4 entries"
    assert opened(record).events == (kept,)


def test_undo_finds_the_last_change_though_the_clock_was_wrong(record: Record) -> None:
    record.save_answers({**record.answers, "arrived": "2026-03-02 09:00"}, NOW)
    wrong = datetime(2031, 1, 1, 8, 0, tzinfo=UTC)
    future = record.add(Event("pee", wrong), wrong)
    present = record.add(ago(5), NOW)
    past = record.add(Event("meal", NOW - timedelta(days=9)), NOW - timedelta(days=8))
    assert [opened(record).undo(NOW).event for _ in range(3)] == [past, present, future]


def test_undo_takes_back_what_another_process_did(record: Record) -> None:
    record.add(ago(30), NOW)
    theirs = opened(record).add(ago(10, "meal", by="Ben"), NOW)
    assert record.undo(NOW, by="Ana").event == theirs
    [note] = rows(record, APRIL, "trail").values()
    assert (note["action"], note["by"], note["of"]) == ("undo", "Ana", 2)
    assert note["before"] == {**document_of(theirs), "change": 2}


def test_undo_goes_past_a_line_of_the_trail_that_is_damaged(record: Record) -> None:
    first = record.add(ago(30), NOW)
    record.edit(first.id, {"note": "b"}, NOW)
    path = record.folder / APRIL
    content = json.loads(path.read_bytes())
    for note in content["trail"].values():
        note["before"] = "lost"
    content["trail"]["strange"] = 5
    path.write_text(json.dumps(content))
    assert opened(record).undo(NOW).action == "add"
    assert opened(record).events == ()


CHANGES = st.lists(
    st.tuples(
        st.sampled_from(["add", "group", "edit", "move", "delete", "undo"]),
        st.integers(0, 40),
        st.booleans(),
    ),
    max_size=12,
)


@given(changes=CHANGES)
def test_undoing_everything_passes_through_every_state_backwards(
    tmp_path_factory: pytest.TempPathFactory, changes: list[tuple[str, int, bool]]
) -> None:
    record = new_record(tmp_path_factory.mktemp("home"))
    states = [record.events]
    for what, number, restart in changes:
        if restart:
            record = opened(record)
        events = record.events
        chosen = events[number % len(events)] if events else None
        if what == "add":
            record.add(ago(number), NOW)
        elif what == "group":
            record.add_all([ago(number), in_march(2 + number % 28)], NOW)
        elif what == "undo":
            if len(states) > 1:
                record.undo(NOW)
                states.pop()
                assert record.events == states[-1]
            continue
        elif chosen is None:
            continue
        elif what == "delete":
            record.delete(chosen.id, NOW)
        else:
            at = in_march(2 + number % 28).at if number % 2 else ago(number).at
            moved = {"at": at} if what == "move" else {"note": f"{chosen.note}{number}"}
            if record.edit(chosen.id, moved, NOW) == chosen:
                continue
        assert record.events == opened(record).events
        states.append(record.events)
    while len(states) > 1:
        states.pop()
        record.undo(NOW)
        assert record.events == opened(record).events == states[-1]
    with pytest.raises(StoreError, match="nothing"):
        record.undo(NOW)


def test_details_added_at_once_go_back_with_their_entry(record: Record) -> None:
    first = record.add(ago(40), NOW)
    saved = record.add(ago(5, "pee-inside"), NOW)
    record.edit(saved.id, {"place": "hall"}, NOW, joined=True)
    after = opened(record).edit(saved.id, {"found": False}, NOW, joined=True)
    assert opened(record).events == (first, after)
    assert (after.place, after.found) == ("hall", False)
    undone = opened(record).undo(NOW)
    assert (undone.action, undone.event) == ("add", after)
    assert opened(record).events == (first,)


def test_details_added_to_a_correction_go_back_with_it(record: Record) -> None:
    saved = record.add(ago(5, "pee-inside", place="hall"), NOW)
    record.add(ago(4), NOW)
    record.edit(saved.id, {"place": "stairs"}, NOW)
    record.edit(saved.id, {"surface": "wood"}, NOW, joined=True)
    assert opened(record).undo(NOW).event == saved
    assert saved in opened(record).events


def test_details_added_after_another_change_are_a_correction_of_their_own(record: Record) -> None:
    saved = record.add(ago(5, "pee-inside"), NOW)
    record.add(ago(4), NOW)
    record.edit(saved.id, {"place": "hall"}, NOW, joined=True)
    assert opened(record).undo(NOW).action == "edit"
    assert saved in opened(record).events


def test_a_detail_that_is_taken_out_again_leaves_nothing_behind(record: Record) -> None:
    saved = record.add(ago(5, "pee-inside"), NOW)
    record.edit(saved.id, {"place": "hall"}, NOW, joined=True)
    record.edit(saved.id, {"place": ""}, NOW, joined=True)
    assert rows(record, APRIL)[saved.id] == {**document_of(saved), "change": 1}
