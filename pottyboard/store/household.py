"""The home folder: one folder for each dog."""

from __future__ import annotations

import errno
import os
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from itertools import count
from pathlib import Path
from typing import Final

from pottyboard.core.model.questions import settings_from
from pottyboard.store.disk import make_folder
from pottyboard.store.dog_log import DogLog
from pottyboard.store.system.errors import StoreError, unusable
from pottyboard.store.system.naming import slug

HOME_VARIABLE: Final = "POTTYBOARD_HOME"


class Household:
    """All dogs of one home folder."""

    def __init__(self, folder: Path) -> None:
        """Take the home folder, which need not exist yet; raise :class:`StoreError` if unusable."""
        self.folder = folder
        self.refused: StoreError | None = None  # why a folder could not be looked into
        try:
            if folder.exists() and not folder.is_dir():
                raise StoreError(f"{folder} is a file: choose a folder with --home.")
        except OSError as error:
            raise unusable(folder, error.strerror) from error
        except ValueError as error:
            raise unusable(folder, str(error)) from error

    @classmethod
    def default_folder(cls, home: str | None, environ: Mapping[str, str]) -> Path:
        """Return ``home`` if given, else ``POTTYBOARD_HOME``, else the system's place for data.

        An empty text counts as not given.
        """
        chosen = home or environ.get(HOME_VARIABLE)
        if chosen:
            try:
                return Path(chosen).expanduser().absolute()
            except RuntimeError:  # ~ of somebody who is not here
                return Path(chosen).absolute()
        from platformdirs import user_data_path

        return user_data_path("pottyboard", appauthor=False)

    def dogs(self) -> tuple[str, ...]:
        """Return the folder names of the dogs, in order: folders with settings or a log.

        A folder that cannot be entered, or a link that leads nowhere, hides none of the others.
        """
        dogs: list[str] = []
        refused: StoreError | None = None
        try:
            for entry in os.scandir(self.folder):
                try:
                    if entry.is_dir() and _holds_record(entry.path):
                        dogs.append(entry.name)
                except OSError as error:
                    if error.errno in (errno.ELOOP, errno.ENOENT):
                        continue
                    refused = unusable(Path(entry.path), error.strerror)
        except FileNotFoundError:
            return ()
        except OSError as error:
            raise unusable(self.folder, error.strerror) from error
        self.refused = refused
        if refused is not None and not dogs:
            raise refused
        return tuple(sorted(dogs))

    def latest(self) -> str | None:
        """Return the dog whose folder was written last, None without any dog."""

        def written(name: str) -> int:
            try:
                return max(os.stat(entry).st_mtime_ns for entry in os.scandir(self.folder / name))
            except (OSError, ValueError):
                return 0

        return max(self.dogs(), key=written, default=None)

    def dog_log(self, dog: str | None = None) -> DogLog:
        """Return the record of ``dog`` (its name or folder), or of the only dog there is.

        Raises :class:`StoreError` if there is no such dog, or several and none is named.
        """
        dogs = self.dogs()
        if not dogs:
            raise StoreError(f"No dog in {self.folder} yet. Run “pottyboard setup” first.")
        if dog is None:
            if len(dogs) > 1:
                raise StoreError(
                    f"Several dogs here: choose one with --dog ({', '.join(dogs)}), such as --dog "
                    f"{dogs[0]}. All of them at once: pottyboard now --all"
                )
            return DogLog(self.folder / dogs[0])
        for name in dogs:
            if dog == name or slug(dog) == slug(name):
                return DogLog(self.folder / name)
        for dog_log in (DogLog(self.folder / name) for name in dogs):
            if slug(dog) == slug(_name_in(dog_log)):  # renamed since its folder was made
                return dog_log
        raise StoreError(f"No dog “{dog}” in {self.folder}. There is: {', '.join(dogs)}.")

    def create(self, answers: Mapping[str, str], now: datetime) -> DogLog:
        """Make a folder for a new dog and save its answers.

        Raises ``SettingsError`` before anything is made if the answers do not fit,
        :class:`StoreError` if the disk refuses.
        """
        name = slug(settings_from(answers, now).dog.name)
        for number in count(1):
            folder = self.folder / (name if number == 1 else f"{name}-{number}")
            try:
                make_folder(folder, fresh=True)
            except FileExistsError:
                continue
            break
        dog_log = DogLog(folder)
        try:
            dog_log.save_answers(answers, now)
        except StoreError:
            with suppress(OSError):  # or the next try would find the name taken
                (folder / ".lock").unlink(missing_ok=True)
                folder.rmdir()
            raise
        return dog_log


def is_of_a_log(path: Path) -> bool:
    """Whether a file lies, or would lie, in a dog's folder or among its backups."""
    folders = (path.parent, path.parent.parent) if path.parent.name == "backups" else (path.parent,)
    try:
        return any(_holds_record(str(folder)) for folder in folders)
    except OSError:
        return False


def _holds_record(folder: str) -> bool:
    names = os.listdir(folder)
    return "settings.json" in names or any(
        name.startswith("events-") and name.endswith(".json") for name in names
    )


def _name_in(dog_log: DogLog) -> str:
    try:
        return dog_log.answers.get("name", "")
    except StoreError:
        return ""
