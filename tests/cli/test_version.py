"""The version: it stands in pyproject.toml alone, and the installed program tells it."""

from __future__ import annotations

import importlib.metadata
import tomllib
from importlib.metadata import PackageNotFoundError
from pathlib import Path

import pytest

import pottyboard
from tests.cli.shell import Shell

ROOT = Path(pottyboard.__file__).parent.parent


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    """A shell in an empty home."""
    return Shell(tmp_path / "home", capsys)


def test_an_installed_program_tells_its_metadata(
    shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def version(name: str) -> str:
        asked.append(name)
        return "12.3"

    monkeypatch.setattr(importlib.metadata, "version", version)
    assert shell.run("--version").out == "pottyboard 12.3\n"
    assert asked == ["pottyboard"]


def test_run_from_its_source_it_says_that_it_is_not_installed(
    shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    def version(name: str) -> str:
        raise PackageNotFoundError(name)

    monkeypatch.setattr(importlib.metadata, "version", version)
    done = shell.run("--version")
    assert (done.code, done.out) == (0, "pottyboard (not installed)\n")


def test_the_version_stands_in_one_place_and_the_changes_name_it() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    number = project["version"]
    for path in (ROOT / "pottyboard").rglob("*.py"):
        source = path.read_text("utf-8")
        assert "__version__" not in source
        assert f'"{number}"' not in source, path
    assert f"**{number}**" in (ROOT / "README.md").read_text("utf-8")
