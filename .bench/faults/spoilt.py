"""Damaged files, hostile texts, clocks, rights, links and special files."""

from __future__ import annotations

import os
import random
import re
import resource
import signal
import stat
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

from faults.homes import NOW, SET_UP, Held, copy_of, held, log_of, run
from faults.stops import Tried
from pottyboard.core.model.events import Event

Damage = Callable[[bytes, random.Random], bytes]


def _flip(content: bytes, chance: random.Random) -> bytes:
    at, bit = chance.randrange(len(content)), 1 << chance.randrange(8)
    return content[:at] + bytes([content[at] ^ bit]) + content[at + 1 :]


def _cut(content: bytes, chance: random.Random) -> bytes:
    return content[: chance.randrange(len(content))]


def _zeros(content: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(content))
    return content[:at] + bytes(min(512, len(content) - at)) + content[at + 512 :]


def _twice(content: bytes, chance: random.Random) -> bytes:
    name = chance.choice([b"entries", b"trail", b"answers", b"about"])
    return content.rstrip()[:-1] + b',"' + name + b'":{}}'


def _line_lost(content: bytes, chance: random.Random) -> bytes:
    lines = content.split(b"\n")
    del lines[chance.randrange(len(lines))]
    return b"\n".join(lines)


def _old_tail(content: bytes, chance: random.Random) -> bytes:
    return content + content[chance.randrange(len(content)) :]


def _digits(content: bytes, chance: random.Random) -> bytes:
    return re.sub(
        rb'"change":\d+', b'"change":' + b"9" * chance.choice([5, 40, 4300, 5000]), content
    )


def _junk(content: bytes, chance: random.Random) -> bytes:
    return chance.randbytes(chance.randrange(1, 100_000))


DAMAGES: dict[str, Damage] = {
    "a bit": _flip, "cut short": _cut, "zeros": _zeros, "a name twice": _twice,
    "a line lost": _line_lost, "an old tail": _old_tail, "long numbers": _digits, "junk": _junk,
    "emptied": lambda content, chance: b"",
}  # fmt: skip


def damaged(home: Path, times: int, seed: int) -> Iterator[Tried]:
    """Yield damage to a file: nothing breaks, and what is lost or altered is told."""
    chance = random.Random(seed)
    before = held(home)
    files = ("events-2026-03.json", "events-2026-04.json", "settings.json")
    for name, damage in {**DAMAGES, "vanished": None, "an older copy": None}.items():
        for number in range(times):
            copy = copy_of(home, "spoilt")
            path = copy / "rex" / chance.choice(files)
            if name == "vanished":
                path.unlink()
            elif name == "an older copy":
                path = copy / "rex" / "events-2026-04.json"
                older = path.with_name("older")
                older.write_bytes((path.parent / "backups" / path.name).read_bytes())
                os.replace(older, path)
            else:
                assert damage is not None
                spoilt = damage(path.read_bytes(), chance)
                if chance.random() < 0.5:
                    path.write_bytes(spoilt)  # in place
                else:
                    fresh = path.with_name("fresh")
                    fresh.write_bytes(spoilt)
                    os.replace(fresh, path)
            yield Tried(f"damage: {name}", f"{path.name}, {number}", _untold(copy, before))


def _untold(home: Path, before: Held) -> str:
    """Return what is lost without a word, or what breaks; empty if nothing."""
    first = run(home, "--dog", "rex", "now", "--line")
    second = run(home, "--dog", "rex", "check")
    for done in (first, second, run(home, "--dog", "rex", "log", "meal")):
        if done.code is None or "Traceback" in done.said:
            return f"broke: {done.said[-200:]}"
    try:
        found = held(home)["rex"]
    except Exception as error:
        return "" if second.code else f"unreadable, untold: {error}"
    rows, wanted = found["entries"], before["rex"]["entries"]
    kept = all(rows.get(i) == row for i, row in wanted.items())
    if kept and found["answers"] == before["rex"]["answers"]:
        return ""
    return "" if second.code == 1 else "lost or altered without a word"


TEXTS = (
    "\x1b[31mred\x1b[0m", "\x00", "\x07\x08\x7f", "[/bold]", "[link=file:///etc/passwd]x", "'", '"',
    "=1+1", "@SUM(A1)", "+1", "-1", "\t=1", ",;|\t", "a\r\nb", "\n", "x" * 19_000, "\u202eevil",
    "\u200b", "\ud800", "\udfff\ud800", "e\u0301" * 50, "\U0001f415" * 40, "{{}}", "%s%n",
    "</script><b>", "BEGIN:VEVENT", "\\N", "\\u0000", '"}}', "🏳️‍🌈", "ﬁ", "İ", "NUL", "CON.",
    "..", "/", "../../x", "~", "-rf", "--", "\u2028", "\ufeff", "\u0085",
)  # fmt: skip
PLACES = ("note", "by", "place")


def hostile(home: Path, long: bool) -> Iterator[Tried]:
    """Yield texts that are shown, written and read back: exactly, and without doing anything."""
    joined = (
        [a + b for a in TEXTS for b in TEXTS]
        if long
        else [a + b for a, b in zip(TEXTS, TEXTS[7:] + TEXTS[:7], strict=True)]
    )
    for text in (*TEXTS, *joined):
        copy = copy_of(home, "texts")
        log = log_of(copy, "rex")
        fresh = {}
        for place in PLACES:
            kind = "pee" if place == "place" else "note"
            note = {"note": "n"} if place == "by" else {}
            event = Event(kind, NOW, f"t-{place}", **{**note, place: text})  # type: ignore[arg-type]
            try:
                fresh[place] = log.add(event, NOW)
            except Exception as error:
                if type(error).__name__ != "EventError":
                    yield Tried("hostile texts", f"{place} {text[:20]!r}", f"broke: {error}")
        wrong = ""
        for words in (
            ("now",),
            ("day",),
            ("diary",),
            ("check",),
            ("export", "--csv", str(copy / "o.csv")),
        ):
            done = run(copy, "--dog", "rex", *words)
            if done.code is None or "Traceback" in done.said:
                wrong = f"{words[0]} broke: {done.said[-200:]}"
            elif re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f]", done.said):
                wrong = f"{words[0]} lets control characters through"
        other = copy / "other"
        run(other, *SET_UP, "Rex")
        done = run(other, "import", str(copy / "o.csv"), "--yes")
        if done.code != 0:
            wrong = wrong or f"not read back: {done.said[-200:]}"
        else:
            events = held(other)["rex"]["entries"]
            same = all(
                events.get(e.id, {}).get(p, "") == held(copy)["rex"]["entries"][e.id].get(p, "")
                for p, e in fresh.items()
            )
            wrong = wrong or ("" if same else "read back otherwise")
        yield Tried("hostile texts", repr(text[:30]), wrong)


def clocks(home: Path) -> Iterator[Tried]:
    """Yield clocks that were set, hours that are skipped or shown twice, and years out of range."""
    for hours in (1, 5, 30, 24 * 40):
        copy = copy_of(home, "clock")
        run(copy, "--dog", "rex", "log", "pee")
        done = run(copy, "--dog", "rex", "now", now=NOW - timedelta(hours=hours))
        said = done.code == 0 and "later than this computer" in done.said
        yield Tried("clocks", f"set back {hours} h", "" if said else "not a word")
        after = run(copy, "--dog", "rex", "log", "meal", now=NOW - timedelta(hours=min(hours, 30)))
        lost = len(held(copy)["rex"]["entries"]) != len(held(home)["rex"]["entries"]) + 2
        yield Tried("clocks", f"logged after {hours} h back", after.said[-100:] if lost else "")
    for at, asks in (
        ("2026-03-29 02:30", True),
        ("2025-10-26 02:30", True),
        ("2026-03-29 03:30", False),
    ):
        copy = copy_of(home, "clock")
        if at < "2026":
            run(copy, "--dog", "rex", "setup", "--arrived", "2025-09-01 09:00")
        paper = copy / "paper.csv"
        paper.write_text(f"Date,Time,What\n{at.replace(' ', ',')},pee\n")
        done = run(copy, "--dog", "rex", "import", str(paper), "--yes")
        yield Tried(
            "clocks", f"import of {at}", "" if (done.code != 0) == asks else done.said[-100:]
        )
    for year in (
        "0001-01-01T00:00:00+00:00",
        "9999-12-31T23:59:59+00:00",
        "9999-12-31T23:59:59-12:00",
    ):
        copy = copy_of(home, "clock")
        path = copy / "rex" / "events-2026-04.json"
        path.write_text(re.sub('"at":"[^"]*"', f'"at":"{year}"', path.read_text(), count=1))
        for words in (
            "now",
            "day",
            "review",
            "diary",
            "export --csv -",
            "check",
            "log pee",
            "undo",
        ):
            done = run(copy, "--dog", "rex", *words.split())
            wrong = done.said[-100:] if done.code is None or "Traceback" in done.said else ""
            yield Tried("clocks", f"{year}, {words}", wrong)
    for zone in (
        "Mars/Phobos",
        "",
        "../../etc/passwd",
        "UTC",
        "Pacific/Kiritimati",
        "Antarctica/Troll",
    ):
        copy = copy_of(home, "clock")
        for path in (copy / "rex").rglob("settings.json"):
            path.write_text(path.read_text().replace("Europe/Oslo", zone))
        for words in ("now", "check", "setup --zone Europe/Oslo", "now"):
            done = run(copy, "--dog", "rex", *words.split())
            yield Tried(
                "clocks", f"zone {zone}, {words}", done.said[-100:] if done.code is None else ""
            )
        yield Tried(
            "clocks",
            f"zone {zone} set right",
            "" if run(copy, "--dog", "rex", "now").code == 0 else "not",
        )


def rights(home: Path) -> Iterator[Tried]:
    """Yield who may read what is made, under three umasks, and what was open to others."""
    for umask in (0o000, 0o022, 0o077):
        before = os.umask(umask)
        try:
            fresh = home.with_name(f"umask-{umask:o}")
            run(fresh, *SET_UP, "Rex")
            for words in (
                "log pee",
                "log meal",
                "undo",
                f"export --csv {fresh}/out.csv",
                "diary --html " + f"{fresh}/d.html",
            ):
                run(fresh, *words.split())
        finally:
            os.umask(before)
        for path in (fresh, *fresh.rglob("*")):
            mode = stat.S_IMODE(path.stat().st_mode)
            wrong = "" if not mode & 0o077 else f"others may: {mode:o}"
            yield Tried("rights", f"umask {umask:03o}, {path.name}", wrong)
    for folder in (".", "rex"):
        copy = copy_of(home, "open")
        (copy / folder).chmod(0o755)
        done = run(copy, "--dog", "rex", "now")
        mode = stat.S_IMODE((copy / folder).stat().st_mode)
        wrong = "left open" if mode & 0o077 else "" if "could be read" in done.said else "not told"
        yield Tried("rights", f"open {folder}", wrong)


def special(home: Path) -> Iterator[Tried]:
    """Yield links, pipes and folders where files are expected, and exports onto a log."""

    def placed(place: Callable[[Path], object], name: str) -> Tried:
        copy = copy_of(home, "special")
        place(copy)
        for words in ("now", "check", "log pee"):
            done = run(copy, "--dog", "rex", *words.split())
            if done.code is None or "Traceback" in done.said:
                return Tried("links and special files", name, done.said[-200:])
        try:
            wrong = "" if held(copy)["rex"]["entries"] else "nothing is shown"
        except Exception as error:
            wrong = f"nothing can be read: {error}"
        return Tried("links and special files", name, wrong)

    yield placed(lambda copy: (copy / "loop").symlink_to(copy / "loop"), "a looping link")
    yield placed(lambda copy: (copy / "gone").symlink_to(copy / "nowhere"), "a link to nothing")
    yield placed(lambda copy: (copy / "rex/events-2026-02.json").mkdir(), "a folder for a month")
    yield placed(lambda copy: (copy / "rex/backups/x").mkdir(), "a folder among the backups")
    month = "rex/events-2026-02.json"
    yield placed(lambda copy: (copy / month).symlink_to("loop"), "a dead link")
    without_end: dict[str, Callable[[Path], object]] = {
        "a pipe for a month": lambda copy: os.mkfifo(copy / month),
        "a device for a month": lambda copy: (copy / month).symlink_to("/dev/zero"),
    }
    for name, place in without_end.items():
        if _passes_over(home, place):
            yield placed(place, name)
        else:
            yield Tried("links and special files", name, "it is read without end")
    victim = home.with_name("victim")
    for line in (
        "export --csv {}/rex/events-2026-04.json",
        "diary --html {}/rex/settings.json",
        "review --html {}/rex/backups/events-2026-04.json",
    ):
        copy = copy_of(home, "special")
        before = held(copy)
        done = run(copy, "--dog", "rex", *line.format(copy).split())
        wrong = "" if done.code == 1 and held(copy) == before else "the log was overwritten"
        yield Tried("links and special files", line.format("HOME"), wrong)
    copy = copy_of(home, "special")
    victim.write_text("mine")
    (copy / f".out.csv.{os.getpid()}.new").symlink_to(victim)
    run(copy, "--dog", "rex", "export", "--csv", str(copy / "out.csv"))
    wrong = "" if victim.read_text() == "mine" else "another file was overwritten"
    yield Tried("links and special files", "a link under a foreseen name", wrong)


def _passes_over(home: Path, place: Callable[[Path], object]) -> bool:
    """Whether what can be read without end is passed over: tried in a child that is ended."""
    copy = copy_of(home, "without-end")
    place(copy)
    child = os.fork()
    if child == 0:
        signal.alarm(5)
        resource.setrlimit(resource.RLIMIT_AS, (2**31, 2**31))
        done = run(copy, "--dog", "rex", "now")
        os._exit(int(done.code is None))
    return os.waitpid(child, 0)[1] == 0
