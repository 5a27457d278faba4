"""The home folder: one folder for each dog."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from pottyboard.core.questions import settings_from
from pottyboard.store.disk import make_folder
from pottyboard.store.errors import StoreError
from pottyboard.store.record import Record

HOME_VARIABLE = "POTTYBOARD_HOME"


class Household:
    """All dogs of one home folder."""

    def __init__(self, folder: Path) -> None:
        """Take the home folder, made if it is not there; raise :class:`StoreError` if unusable."""
        self.folder = folder
        make_folder(folder)

    @staticmethod
    def default_folder(home: str | None, environ: Mapping[str, str]) -> Path:
        """Return ``home`` if given, else ``POTTYBOARD_HOME``, else the system's place for data."""
        chosen = home or environ.get(HOME_VARIABLE)
        if chosen:
            return Path(chosen).expanduser().absolute()
        from platformdirs import user_data_path

        return user_data_path("pottyboard", appauthor=False)

    def dogs(self) -> tuple[str, ...]:
        """Return the folder names of the dogs, in order."""
        try:
            return tuple(
                sorted(path.parent.name for path in self.folder.glob("*/settings.json"))
                or sorted({path.parent.name for path in self.folder.glob("*/events-*.json")})
            )
        except OSError as error:
            raise StoreError(
                f"Cannot read {self.folder}: {error.strerror}. Choose another with --home."
            ) from error

    def record(self, dog: str | None = None) -> Record:
        """Return the record of ``dog`` (its name or folder), or of the only dog there is.

        Raises :class:`StoreError` if there is no such dog, or several and none is named.
        """
        dogs = self.dogs()
        if not dogs:
            raise StoreError(f"No dog in {self.folder} yet. Run “pottyboard setup” first.")
        if dog is None:
            if len(dogs) > 1:
                raise StoreError(f"Several dogs here: choose one with --dog ({', '.join(dogs)}).")
            return Record(self.folder / dogs[0])
        name = slug(dog)
        if name not in dogs:
            raise StoreError(f"No dog “{dog}” in {self.folder}. There is: {', '.join(dogs)}.")
        return Record(self.folder / name)

    def create(self, answers: Mapping[str, str], now: datetime) -> Record:
        """Make a folder for a new dog and save its answers.

        Raises ``SettingsError`` before anything is made if the answers do not fit.
        """
        name = slug(settings_from(answers, now).dog.name)
        folder, number = self.folder / name, 1
        while folder.exists():
            number += 1
            folder = self.folder / f"{name}-{number}"
        record = Record(folder)
        record.save_answers(answers, now)
        return record


def slug(name: str) -> str:
    """Return a folder name for a dog's name: lower-case letters and digits of any script."""
    plain = unicodedata.normalize("NFKC", name).casefold()
    return re.sub(r"[\W_]+", "-", plain).strip("-")[:40] or "dog"
