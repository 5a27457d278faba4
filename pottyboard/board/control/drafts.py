"""What was typed into a dialog that closed by itself, until the same one opens again."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol, cast, runtime_checkable


@runtime_checkable
class Drafted(Protocol):
    """A dialog whose answers outlive it: under ``draft_name``, what :meth:`draft` returns."""

    @property
    def draft_name(self) -> str: ...

    def draft(self) -> Mapping[str, str]: ...


class Drafts:
    """Holds the texts of dialogs by name."""

    def __init__(self) -> None:
        """Begin without any."""
        self._texts: dict[str, Mapping[str, str]] = {}

    def keep(self, screen: object) -> bool:
        """Keep what was typed, if this is a dialog and something was; return whether it was."""
        texts = screen.draft() if isinstance(screen, Drafted) else {}
        if isinstance(screen, Drafted) and texts:
            self._texts[screen.draft_name] = texts
        return bool(texts)

    def holds(self, name: str) -> bool:
        """Whether something that was typed under a name is kept."""
        return name in self._texts

    def take(self, name: str) -> dict[str, str]:
        """Return what was typed under a name, once; nothing if nothing was."""
        return dict(self._texts.pop(name, {}))


class WithDrafts(Protocol):
    """An app that holds drafts."""

    @property
    def drafts(self) -> Drafts: ...


def draft_for(app: object, dialog: Drafted) -> dict[str, str]:
    """Return what was typed into an earlier dialog of this name, once."""
    return cast("WithDrafts", app).drafts.take(dialog.draft_name)


def keep_draft(app: object, dialog: Drafted) -> bool:
    """Keep what was typed into a dialog that is left; return whether anything was."""
    return cast("WithDrafts", app).drafts.keep(dialog)
