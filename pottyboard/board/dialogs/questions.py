"""Short questions with one-key answers: what to ask, and the answers so far. No terminal here."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from msgspec import Struct, field, structs

Answers = Mapping[str, str]


def _always(answers: Answers) -> bool:
    return True


class Choice(Struct, frozen=True):
    """One answer: the ``key`` that gives it, its ``value`` and its ``words``."""

    key: str
    value: str
    words: str


class Ask(Struct, frozen=True):
    """One question: its ``choices``, and which value Enter accepts.

    Where ``read`` is given, another answer can be typed; it returns the value or raises
    ``ValueError`` with a message. ``again`` are the keys that accept the default as Enter does:
    those that opened the question, since a tired hand presses them twice. ``when`` says whether
    the question is asked at all, after the answers so far.
    """

    name: str
    words: str
    choices: tuple[Choice, ...] = ()
    default: str = ""
    read: Callable[[str], str] | None = None
    again: tuple[str, ...] = ()
    when: Callable[[Answers], bool] = _always

    def words_of(self, value: str) -> str:
        """Return how an answer reads."""
        return next((choice.words for choice in self.choices if choice.value == value), value)


TYPE_KEY: Final = "t"
"""The key that opens a line for typing another answer."""


class Asking(Struct, frozen=True):
    """Questions under way: a value that each answer turns into the next one."""

    asks: tuple[Ask, ...]
    answers: dict[str, str] = field(default_factory=dict)

    @property
    def current(self) -> Ask | None:
        """The question to answer now; None when all are answered."""
        return next((ask for ask in self.asked if ask.name not in self.answers), None)

    @property
    def asked(self) -> tuple[Ask, ...]:
        """The questions that are asked, given the answers so far."""
        return tuple(ask for ask in self.asks if ask.when(self.answers))

    def give(self, value: str) -> Asking:
        """Return the questions with the current one answered."""
        assert self.current is not None
        return structs.replace(self, answers={**self.answers, self.current.name: value})

    def accept(self) -> Asking:
        """Return the questions with the current one answered by its default."""
        assert self.current is not None
        return self.give(self.current.default)

    def press(self, key: str) -> Asking | None:
        """Return the questions after a one-key answer; None if the key is no answer."""
        ask = self.current
        if ask is None:
            return None
        found = next((choice for choice in ask.choices if choice.key == key), None)
        return None if found is None else self.give(found.value)

    def type(self, text: str) -> Asking:
        """Return the questions with a typed answer; ``ValueError`` with a message if it is none."""
        ask = self.current
        assert ask is not None
        assert ask.read is not None
        return self.give(ask.read(text))

    def back(self) -> Asking:
        """Return the questions with the last answer taken back."""
        given = [ask.name for ask in self.asked if ask.name in self.answers]
        kept = {name: value for name, value in self.answers.items() if name in given[:-1]}
        return structs.replace(self, answers=kept)
