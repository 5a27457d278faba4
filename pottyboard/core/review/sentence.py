"""A sentence that keeps the numbers it states beside it, so that each can be checked."""

from __future__ import annotations

from datetime import date, datetime

from msgspec import Struct

from pottyboard.core.model.localtime import Minutes, count_words, date_words, span_words


class Number(Struct, frozen=True):
    """One number of a sentence: what it counts, its value, and how it is written there.

    Lengths are minutes, dates their ordinals (``date.toordinal``), shares from 0 to 1.
    """

    name: str
    value: float
    words: str


class Sentence(Struct, frozen=True):
    """One sentence; ``topic`` tells what it is about. Every digit in it is one of ``numbers``."""

    topic: str
    words: str
    numbers: tuple[Number, ...]


def sentence(topic: str, form: str, *said: Number, **others: str) -> Sentence:
    """Return the sentence made from a ``form`` with the name of each number in braces.

    Numbers that the form does not name are left out. ``others`` are texts for it without a number
    of ours, such as the dog's name.
    """
    words = form.format(**{number.name: number.words for number in said}, **others)
    stated = tuple(number for number in said if f"{{{number.name}}}" in form)
    return Sentence(topic, words, stated)


def count(name: str, number: int, one: str, many: str = "") -> Number:
    """Return a count with its noun: ``3 outings``."""
    return Number(name, number, count_words(number, one, many))


def bare(name: str, number: int) -> Number:
    """Return a count without a noun."""
    return Number(name, number, str(number))


def length(name: str, minutes: Minutes) -> Number:
    """Return a length of time: ``2 h 30``."""
    return Number(name, minutes, span_words(minutes))


def share(name: str, value: float) -> Number:
    """Return a share as whole per cent: ``19 %``."""
    return Number(name, value, f"{value:.0%}")


def day(name: str, when: date | datetime) -> Number:
    """Return a date: ``Mon 2 Mar``."""
    on = when.date() if isinstance(when, datetime) else when
    return Number(name, on.toordinal(), date_words(on, on))
