"""For programs of your own: the answers of the set-up, read as settings."""

from pottyboard.core.model.questions import QUESTIONS, SettingsError, settings_from

__all__ = ["QUESTIONS", "SettingsError", "settings_from"]
