"""Two dogs in one home, from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from pottyboard.store import Household
from tests.cli.shell import BRAMBLE, Shell


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in the home of Bramble and Wren."""
    made = Shell(tmp_path / "home", capsys)
    made.set_up()
    wren = BRAMBLE.replace("Bramble", "Wren").replace("setup", "setup --another")
    assert made.type(wren).code == 0
    return made


@pytest.mark.parametrize(
    "line",
    ["log pee", "undo", "now", "day", "visits", "sheet", "export", "import x.csv",
     "report pee --by Mina", "setup --bed 23:00"],
)  # fmt: skip
def test_a_command_for_one_dog_asks_which_and_names_them(shell: Shell, line: str) -> None:
    done = shell.type(line)
    assert done.code == 1
    assert "choose one with --dog (bramble, wren), such as --dog bramble" in done.err
    assert done.out == ""


def test_what_was_saved_names_the_dog_whose_undo_it_is(shell: Shell) -> None:
    done = shell.run("--dog", "wren", "log", "pee")
    assert "To take it back: pottyboard --dog wren undo" in done.out
    assert shell.run("--dog", "wren", "undo").out.startswith("Taken back: pee")


def test_now_of_all_dogs(shell: Shell) -> None:
    shell.type("log pee --at 10:30 --dog Wren")
    done = shell.type("now --all --line")
    assert [line.partition(":")[0] for line in done.out.splitlines()] == ["Bramble", "Wren"]
    found = json.loads(shell.type("now --all --json").out)
    assert found["schema"] == 1
    assert [dog["since_minutes"]["pee"] for dog in found["dogs"]] == [None, 90]
    assert shell.type("now --all").out == shell.type("").out
    assert "Wren, day 1 of 14" in shell.type("").out


def test_now_of_all_says_which_dog_cannot_be_read(shell: Shell) -> None:
    for path in (shell.home / "wren").rglob("*settings*"):
        path.unlink()
    (shell.home / "wren" / "events-2026-03.json").write_text("{}")
    done = shell.type("now --all --line")
    assert done.code == 1
    assert "holds no settings" in done.err
    assert done.out.startswith("Bramble")


def test_an_accident_of_an_unknown_dog_until_it_is_known(shell: Shell) -> None:
    done = shell.type("log pee-inside --at 11:00 --place hall --found --unsure --dog bramble")
    assert "which dog is not known" in done.out
    assert "Also in the log of Wren." in done.out
    for dog in ("bramble", "wren"):
        assert (
            "pee indoors, hall, found, which dog is not known" in shell.type(f"day --dog {dog}").out
        )
    assert "pee indoors, hall, found, which dog is not known" in shell.type("whose").out

    done = shell.type("whose Wren --by Mina")
    assert done.out.splitlines() == [
        "It was Wren: 11:00 pee indoors, hall, found.",
        "Taken out of the log of Bramble.",
    ]
    assert Household(shell.home).dog_log("bramble").events == ()
    assert shell.type("whose").out == "No accident is waiting for an owner.\n"


def test_several_are_settled_by_their_id(shell: Shell) -> None:
    for clock in ("11:00", "11:30"):
        shell.type(f"log pee-inside --at {clock} --unsure --dog bramble")
    done = shell.type("whose wren")
    assert done.code == 1
    assert "Several accidents: say which with --id." in done.err
    first = Household(shell.home).dog_log("bramble").events[0]
    assert shell.type(f"whose wren --id {first.id}").code == 0
    left = {dog: len(Household(shell.home).dog_log(dog).events) for dog in ("bramble", "wren")}
    assert left == {"bramble": 1, "wren": 2}


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("whose Wren", "No accident is waiting for an owner"),
        ("whose Moss --id x", "No dog “Moss”"),
        ("whose Wren --id x", "There is no such accident in Wren’s log."),
    ],
)
def test_nothing_is_settled_by_mistake(shell: Shell, line: str, words: str) -> None:
    done = shell.type(line)
    assert done.code == 1
    assert words in done.err


def test_undo_and_cleaning_concern_both_logs(shell: Shell) -> None:
    shell.type("log pee-inside --at 11:00 --unsure --dog bramble")
    accident = Household(shell.home).dog_log("wren").events[0]
    shell.type(f"log cleaned --about {accident.id} --dog bramble")
    assert [e.kind for e in Household(shell.home).dog_log("wren").events] == [
        "pee-inside", "cleaned",
    ]  # fmt: skip
    shell.type("undo --dog bramble")
    shell.type("undo --dog bramble")
    assert Household(shell.home).dog_log("wren").events == ()


def test_an_unsure_accident_of_an_only_dog_stays_with_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    alone = Shell(tmp_path / "alone", capsys)
    alone.set_up()
    done = alone.type("log pee-inside --at 11:00 --unsure")
    assert "Also in" not in done.out
    assert alone.type("whose").out == "No accident is waiting for an owner.\n"


# --- Archived, renamed, of one name ---------------------------------------------------------------


def test_an_archived_dog_is_left_out_and_comes_back_whole(shell: Shell) -> None:
    shell.type("--dog Wren log pee")
    assert "is archived: its log is kept" in shell.type("dogs archive Wren").out
    assert "Wren" not in shell.type("now --all").out
    assert "Wren, 8 kg, since 2026-03-02, archived" in shell.type("dogs").out
    assert shell.type("log pee-inside --found --unsure").code == 0  # the only one: no --dog
    assert shell.type("--dog Wren export").out.count("pee") == 1, "its log can still be read"
    assert shell.type("dogs back Wren").out == "Wren is back.\n"
    assert "Wren" in shell.type("now --all").out
    assert shell.type("--dog Wren export").out.count("pee") == 1, "no puddle of when it was away"


def test_a_puddle_of_before_is_still_settled_among_both(shell: Shell) -> None:
    shell.type("--dog Bramble log pee-inside --found --unsure")
    shell.type("dogs archive Wren")
    assert "Taken out of the log of Wren" in shell.type("whose Bramble").out


def test_two_dogs_of_one_name_are_told_apart(shell: Shell) -> None:
    shell.type("setup --another --name Bramble --weight 20 --zone Europe/Oslo")
    assert "Bramble (bramble-1), 8 kg" in shell.type("dogs").out
    assert "Bramble (bramble-2), 20 kg" in shell.type("dogs").out
    for name in ("Bramble", "bramble"):
        done = shell.run("--dog", name, "now")
        assert done.code == 1
        assert "choose one with --dog bramble-1 or --dog bramble-2" in done.err
    shown = shell.type("now --all").out
    assert "Bramble (bramble-1), day 1 of 14" in shown
    assert "Bramble (bramble-2), day 1 of 14" in shown
    short = shell.type("now --all --line short").out.splitlines()
    assert sorted(line.split(", ")[1] for line in short) == [
        "Bramble (bramble-1)", "Bramble (bramble-2)", "Wren",
    ]  # fmt: skip
    assert shell.type("--dog bramble-2 now --line middle").out.startswith("Bramble (bramble-2) ")
    named = [dog["dog"] for dog in json.loads(shell.type("now --all --json").out)["dogs"]]
    assert named == ["Bramble (bramble-1)", "Bramble (bramble-2)", "Wren"]
    assert shell.type("--dog bramble-1 log pee").code == 0
    assert shell.type("dogs rename bramble-2 Moss").code == 0
    assert shell.type("--dog Moss now").code == shell.type("--dog Bramble now").code == 0


def test_a_renamed_dog_keeps_its_log(shell: Shell) -> None:
    shell.type("--dog Bramble log pee")
    assert "Bramble is called Robin now" in shell.type("dogs rename Bramble Robin").out
    assert shell.type("--dog Robin export").out.count("pee") == 1
    assert "Write such as" in shell.type("dogs rename Robin").err


def test_a_home_of_archived_dogs_says_how_to_bring_one_back(shell: Shell) -> None:
    shell.type("dogs archive Bramble")
    shell.type("dogs archive Wren")
    assert "pottyboard dogs back bramble" in shell.type("now").err
