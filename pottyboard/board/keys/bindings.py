"""The keys as the toolkit binds them: one binding for each action."""

from __future__ import annotations

from textual.binding import Binding

from pottyboard.board.keys.actions import ACTIONS, Action


def bindings() -> list[Binding]:
    """Return a binding for every action that has a key, with the action's id."""
    return [binding(action) for action in ACTIONS if action.key]


def binding(action: Action) -> Binding:
    """Return the binding of an action that has a key, with the action's id for keymaps."""
    return Binding(action.key, action.call, action.words, show=False, id=action.id)
