"""What a system can refuse, in words that say what to do."""

from __future__ import annotations

from pathlib import Path


class StoreError(Exception):
    """Something could not be read or saved; the message says what to do."""


class HalfSavedError(StoreError):
    """A change of several logs is made in some of them; the message says in which."""


class NoSettingsError(StoreError):
    """There are no answers of a set-up: truly none, not answers that cannot be read just now."""


def unsaved(path: Path, why: str | None, *, perhaps: bool) -> StoreError:
    """Return the error for a change that is not on disk, or of which nobody can tell."""
    saved = "Perhaps not saved, so look before you log it again" if perhaps else "Not saved"
    return StoreError(
        f"{saved}: {path} cannot be written ({why}). What was saved before is safe. Make room or "
        f"check the disk, then try again."
    )


def unusable(folder: Path, why: str | None) -> StoreError:
    """Return the error for a folder that the system refuses."""
    return StoreError(
        f"{folder!s:.200} cannot be used: {why}. Check its owner and permissions, or choose "
        f"another folder with --home or POTTYBOARD_HOME."
    )


def no_settings(folder: Path, kept: str = "") -> NoSettingsError:
    """Return the error for a dog's folder without answers of a set-up; ``kept`` is what else is to
    be said of it."""
    if not folder.exists():
        return NoSettingsError(
            f"{folder!s:.200} is not there any more: was it moved, or is its disk not connected? "
            f"Put it back, then the log goes on by itself.{kept}"
        )
    return NoSettingsError(
        f"{folder!s:.200} holds no settings: run “pottyboard setup”. The log there stays as it is."
        f"{kept}"
    )


def no_dog(home: Path) -> StoreError:
    """Return the error for a home in which no dog lives."""
    begin = "To begin, run “pottyboard setup”."
    if home.exists():
        return StoreError(f"No dog in {home!s:.200} yet. {begin}")
    return StoreError(
        f"No dog yet: there is no folder {home!s:.200}. {begin} If your log should be there: is "
        f"the name right, and its disk connected?"
    )
