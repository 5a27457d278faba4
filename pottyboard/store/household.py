"""The home folder: one folder for each dog."""

from __future__ import annotations

import errno
import os
from collections import Counter
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from itertools import count
from pathlib import Path
from typing import Final

from pottyboard.core.model.questions import settings_from
from pottyboard.store.disk import make_folder, replace_file
from pottyboard.store.dog_log import DogLog
from pottyboard.store.system.errors import StoreError, no_dog, unusable
from pottyboard.store.system.naming import slug

HOME_VARIABLE: Final = "POTTYBOARD_HOME"
_ARCHIVED: Final = ".archived"
"""The mark in the folder of a dog that was archived."""
_LOOKED_AHEAD: Final = ".looked-ahead"
"""The mark in the folder of a dog whose weeks ahead were shown."""


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
        """Return the folder names of the dogs that live here, in order; as :meth:`everyone`."""
        return tuple(name for name in self.everyone() if not self.is_archived(name))

    def archived(self) -> tuple[str, ...]:
        """Return the folder names of the dogs that were archived, in order."""
        return tuple(name for name in self.everyone() if self.is_archived(name))

    def is_archived(self, name: str) -> bool:
        """Whether a dog was archived: its log is kept, and no list of the board names it."""
        return os.path.exists(self.folder / name / _ARCHIVED)

    def looks_ahead_once(self, name: str) -> bool:
        """Return whether a dog's weeks ahead were never shown by themselves; then they were.

        Raises :class:`StoreError` if that cannot be remembered.
        """
        mark = self.folder / name / _LOOKED_AHEAD
        if os.path.exists(mark):
            return False
        replace_file(mark, b"")
        return True

    def archive(self, dog: str) -> str:
        """Archive a dog; return its name. Raises :class:`StoreError` if that is not saved."""
        dog_log = self.dog_log(dog)
        self.archive_folder(dog_log.folder.name)
        return _name_in(dog_log) or dog_log.folder.name

    def archive_folder(self, name: str) -> None:
        """Archive the dog in a folder. Raises :class:`StoreError` if that is not saved."""
        replace_file(self.folder / name / _ARCHIVED, b"")

    def bring_back(self, dog: str) -> str:
        """Bring an archived dog back; return its name. Raises :class:`StoreError`."""
        dog_log = self.dog_log(dog)
        self.bring_folder_back(dog_log.folder.name)
        return _name_in(dog_log) or dog_log.folder.name

    def bring_folder_back(self, name: str) -> None:
        """Bring the archived dog in a folder back. Raises :class:`StoreError`."""
        try:
            (self.folder / name / _ARCHIVED).unlink(missing_ok=True)
        except OSError as error:
            raise unusable(self.folder / name, error.strerror) from error

    def called(self) -> dict[str, str]:
        """Return what each dog that lives here is called, by folder name.

        Dogs of one name have in brackets what tells them apart, also after ``--dog``.
        """
        names, apart = self._names(), self.apart()
        return {
            folder: f"{name} ({apart[folder]})" if apart[folder] else name
            for folder, name in names.items()
        }

    def apart(self) -> dict[str, str]:
        """Return what tells each dog that lives here from others of its name, by folder name.

        It is empty where no other has the name.
        """
        dogs = self.dogs()
        if len(dogs) < 2:  # the usual home, of which nothing more has to be read
            return dict.fromkeys(dogs, "")
        names = self._names()
        alike = Counter(slug(name) for name in names.values())
        return {
            folder: _apart(folder, name) if alike[slug(name)] > 1 else ""
            for folder, name in names.items()
        }

    def _names(self) -> dict[str, str]:
        return {name: _name_in(DogLog(self.folder / name)) or name for name in self.dogs()}

    def everyone(self) -> tuple[str, ...]:
        """Return the folder names of all dogs, in order: folders with settings or a log.

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
        if not dogs and dog is None and (away := self.archived()):
            raise StoreError(
                f"Every dog here is archived. Bring one back with: pottyboard dogs back {away[0]}"
            )
        if not dogs and not self.archived():
            raise no_dog(self.folder)
        if dog is None:
            if len(dogs) > 1:
                names = self._choices(dogs)
                raise StoreError(
                    f"Several dogs here: choose one with --dog ({', '.join(names)}), such as --dog "
                    f"{names[0]}. All of them at once: pottyboard now --all"
                )
            return DogLog(self.folder / dogs[0])  # no other lives here
        found = self._named(dog, dogs) or self._named(dog, self.archived())
        if found is None:
            raise StoreError(f"No dog “{dog}” in {self.folder}. There is: {', '.join(dogs)}.")
        return self.in_folder(found)

    def _choices(self, folders: tuple[str, ...]) -> list[str]:
        """Return what may follow ``--dog``, each for one dog alone."""
        names = {folder: _name_in(DogLog(self.folder / folder)) for folder in folders}
        alike = Counter(map(slug, names.values()))
        return [
            _apart(folder, name) if alike[slug(name)] > 1 else folder
            for folder, name in names.items()
        ]

    def in_folder(self, name: str) -> DogLog:
        """Return the record in a dog's folder; it knows what tells it from others of its name."""
        dog_log = DogLog(self.folder / name)
        dog_log.apart = self.apart().get(name, "")
        return dog_log

    def _named(self, dog: str, folders: tuple[str, ...]) -> str | None:
        """Return the folder of the dog of this name, or else the folder of this name.

        Raises :class:`StoreError` where several dogs have the name.
        """
        wanted = slug(dog)
        names = {folder: _name_in(DogLog(self.folder / folder)) for folder in folders}
        alike = [folder for folder in folders if slug(names[folder]) == wanted]
        if len(alike) > 1:
            apart = [_apart(folder, names[folder]) for folder in alike]
            raise StoreError(
                f"{len(alike)} dogs are called {names[alike[0]]}: choose one with --dog "
                f"{' or --dog '.join(apart)}."
            )
        if alike:
            return alike[0]
        for folder in folders:
            if wanted in (slug(folder), slug(_apart(folder, names[folder]))):
                return folder
        return None

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


def _apart(folder: str, name: str) -> str:
    """Return what tells a dog from others of its name: its folder, numbered from the first on."""
    return f"{folder}-1" if folder == slug(name) else folder


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
