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
