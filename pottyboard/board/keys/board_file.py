"""The settings file of the board: colours and keys of a home, for people to write and to read.

It is ``board.toml`` (TOML 1.0) in the home folder, for all of its dogs::

    colours = "daylight"

    [keys]
    accident = "f2"

What is wrong with it is said and left out; the file itself is never changed for that.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from msgspec import Struct

from pottyboard.board.keys.keymap import KeymapError, check_keymap, read_keymap
from pottyboard.store import StoreError
from pottyboard.store.disk import read_file, replace_file

FILE_NAME: Final = "board.toml"
COLOURS: Final = ("evening", "daylight", "terminal")
"""What the household calls the colours of the board."""


class BoardFile(Struct, frozen=True):
    """What the file says: ``colours`` (empty: the usual ones), ``keys`` by the id of the action.

    ``problems`` tells in sentences what could not be used.
    """

    path: Path
    colours: str = ""
    keys: Mapping[str, str] = {}
    problems: tuple[str, ...] = ()

    @property
    def keys_text(self) -> str:
        """The keys as they are typed: ``accident=f2 note=f3``."""
        return " ".join(f"{name}={key}" for name, key in self.keys.items())


def read_board_file(home: Path) -> BoardFile:
    """Return what the file of a home says; of a file that is not there nothing, without a word."""
    path = home / FILE_NAME
    try:
        content, _ = read_file(path)
        said = tomllib.loads(content.decode("utf-8-sig"))
    except FileNotFoundError:
        return BoardFile(path)
    except OSError as error:
        return BoardFile(path, problems=(f"{path} cannot be read: {error.strerror}.",))
    except ValueError as error:
        words = f"{path} is not used: {error}. Mend it, or delete it for the usual keys and colours"
        return BoardFile(path, problems=(f"{words}.",))
    problems = []
    if strangers := [name for name in said if name not in ("colours", "keys")]:
        problems.append(f"{path}: “{strangers[0]}” is not known, only colours and [keys].")
    colours, wrong = _colours(said.get("colours", ""))
    keys, clash = _keys(said.get("keys", {}))
    problems += [f"{path}: {words}" for words in (wrong, clash) if words]
    return BoardFile(path, colours, keys, tuple(problems))


def _colours(said: object) -> tuple[str, str]:
    if said in ("", *COLOURS):
        return str(said), ""
    *others, last = COLOURS
    return "", f"colours are {', '.join(others)} or {last}, not “{said}”."


def _keys(said: object) -> tuple[dict[str, str], str]:
    if not isinstance(said, dict) or not all(isinstance(key, str) for key in said.values()):
        return {}, 'keys are written like this, below a line [keys]: accident = "f2"'
    try:
        return check_keymap(said), ""
    except KeymapError as error:
        return {}, f"your keys are not used: {error}"


def save_board_file(home: Path, colours: str | None = None, keys: str | None = None) -> BoardFile:
    """Change what the file says of the colours, the keys or both, and leave all else as it stands.

    ``keys`` is typed as in ``accident=f2 note=f3``; an empty text takes it back. Raises
    ``ValueError`` for what does not fit, :class:`StoreError` where the file cannot be read or
    written: it is then as it was.
    """
    import tomlkit

    path = home / FILE_NAME
    try:
        text = read_file(path)[0].decode("utf-8-sig")
    except FileNotFoundError:
        text = "# The board of this home: see “pottyboard help settings”.\n"
    except OSError as error:
        raise StoreError(f"{path} cannot be read: {error.strerror}. Nothing was saved.") from error
    try:
        said: Any = tomlkit.parse(text)
    except ValueError as error:
        raise StoreError(f"{path} is damaged ({error}): mend or delete it first.") from error
    if colours is not None:
        wrong = _colours(colours)[1]
        if wrong:
            raise ValueError(wrong[:1].upper() + wrong[1:])
        _put(said, "colours", colours)
    if keys is not None:
        _put(said, "keys", read_keymap(keys))
    replace_file(path, tomlkit.dumps(said).encode())
    return read_board_file(home)


def _put(said: Any, name: str, value: str | dict[str, str]) -> None:
    if value:
        said[name] = value
    elif name in said:
        del said[name]
