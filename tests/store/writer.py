"""A process that logs, corrects, deletes and takes back until it is killed; imports only the store.

``python writer.py FOLDER [plain]`` reads a seed a line and forks a child for each, which says what
it is going to do (``try``) and that the store has acknowledged it (``done``), each with the id of
the entry and its note afterwards, null for none. ``plain`` puts TinyDB's own JSON storage in the
place of ours.
"""

from __future__ import annotations

import gc
import json
import os
import random
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

from pottyboard.core.events import Event
from pottyboard.store import Record, book

NOW = datetime(2026, 4, 10, 12, 0, tzinfo=UTC)
CHANGES = 400
"""More than a child makes before it is killed."""


def say(*words: str | None) -> None:
    """Write a line at once."""
    os.write(1, (json.dumps(words) + "\n").encode())


def work(record: Record, seed: int) -> None:
    """Make random changes, each announced and acknowledged."""
    rng = random.Random(seed)
    log = {event.id: event for event in record.events}
    past: list[tuple[str, Event | None]] = []
    for number in range(CHANGES):
        action = rng.choice(["add", "add", "edit", "delete", "undo"])
        if action == "undo" and past:
            entry_id, before = past.pop()
            say("try", entry_id, before and before.note)
            record.undo(NOW)
        elif action in ("edit", "delete") and log:
            entry_id = rng.choice(sorted(log))
            past.append((entry_id, log[entry_id]))
            note = f"{seed}.{number}" + "x" * rng.randrange(200)
            say("try", entry_id, None if action == "delete" else note)
            if action == "edit":
                record.edit(entry_id, {"note": note, "at": instant(rng)}, NOW)
            else:
                record.delete(entry_id, NOW)
        else:
            entry_id = f"{seed}-{number}"
            past.append((entry_id, None))
            say("try", entry_id, "new")
            record.add(Event("pee", instant(rng), id=entry_id, note="new"), NOW)
        after = {event.id: event for event in record.events}
        now = after.get(entry_id)
        say("done", entry_id, now and now.note)
        log = after


def instant(rng: random.Random) -> datetime:
    """Return an instant in the first days of one of two months."""
    start = rng.choice([datetime(2026, 3, 3, tzinfo=UTC), datetime(2026, 4, 3, tzinfo=UTC)])
    return start + timedelta(minutes=rng.randrange(5 * 24 * 60))


def use_plain_storage() -> None:
    """Let TinyDB's own storage write the files: in place, then cut to length."""
    from tinydb.storages import JSONStorage

    ours = book.replace_file

    def plainly(path: Path, content: bytes) -> object:
        if path.name.endswith(".kept"):
            return ours(path, content)
        storage = JSONStorage(str(path))
        storage.write(json.loads(content))
        storage.close()
        found = os.stat(path)
        return found.st_mtime_ns, found.st_size, found.st_ino

    book.replace_file = plainly  # type: ignore[assignment]


def main() -> None:
    """Fork a child for each line."""
    if "plain" in sys.argv:
        use_plain_storage()
    import filelock  # noqa: F401  (before the fork: each child would load it again)

    gc.freeze()
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            work(Record(Path(sys.argv[1])), int(line))
            os._exit(0)
        say("pid", str(child))
        os.waitpid(child, 0)
        say("dead")


if __name__ == "__main__":
    main()
