"""Weights and money, as people write them, in the unit that they wrote."""

from __future__ import annotations

import re
from typing import Final, Literal

from msgspec import Struct

from pottyboard.core.written.text import WrittenError, quoted, tidy

_ANY: Final = re.IGNORECASE | re.ASCII
OUNCES_PER_POUND: Final = 16
"""Ounces in an avoirdupois pound (international yard and pound agreement, 1959)."""

_NUMBER: Final = r"\d{1,6}(?:[.,]\d{1,3})?"
_LB: Final = r"(?:lbs?\.?|pounds?|#)"
_POUNDS: Final = re.compile(
    rf"({_NUMBER})\s*{_LB}(?:\s*(?:,|and)?\s*({_NUMBER})\s*(?:oz\.?|ounces?))?", _ANY
)
_KILOS: Final = re.compile(rf"({_NUMBER})\s*(?:kgs?|kilos?|kilograms?|kilogrammes?)?\.?", _ANY)
_GRAMS: Final = re.compile(r"(\d{3,6})\s*(?:g|grams?|grammes?)", _ANY)

_SIGNS: Final = {
    "eur": "€", "euro": "€", "euros": "€", "usd": "$", "dollar": "$", "dollars": "$",
    "gbp": "£", "pound": "£", "pounds": "£",
}  # fmt: skip
_CODES: Final = (
    "eur|usd|gbp|chf|nok|sek|dkk|isk|pln|czk|huf|ron|bgn|try|cad|aud|nzd|zar|inr|jpy|sgd|hkd|mxn"
    "|brl"
)
"""Codes of currencies (ISO 4217)."""
_CURRENCY: Final = rf"(?:[€$£]|(?:{_CODES}|euros?|dollars?|pounds?)(?![a-z]))"
MONEY: Final = rf"(?:{_CURRENCY}\s?{_NUMBER}|{_NUMBER}(?:\s?{_CURRENCY})?)"
"""A pattern for where a sum of money may stand; :func:`read_money` says whether it is one."""
_BEFORE: Final = re.compile(rf"({_CURRENCY})\s?({_NUMBER})", _ANY)
_AFTER: Final = re.compile(rf"({_NUMBER})\s?({_CURRENCY})?", _ANY)


SIGNS: Final = ("€", "$", "£")
"""The signs of currencies, which stand before a sum; a code stands behind it."""


class Weight(Struct, frozen=True):
    """An amount in kilograms or pounds, and ``written`` as it reads in the unit of its writer."""

    amount: float
    unit: Literal["kg", "lb"]
    written: str


class Money(Struct, frozen=True):
    """A sum, with the sign or code of its currency where one was written."""

    amount: float
    currency: str = ""

    def __str__(self) -> str:
        """Return the text that :func:`read_money` reads back: ``€12.50``, ``12.5``, ``12 NOK``."""
        if self.currency in SIGNS:
            return f"{self.currency}{self.amount:.2f}".removesuffix(".00")
        return f"{self.amount:g} {self.currency}".rstrip()


def read_weight(text: str) -> Weight:
    """Read a weight: ``8,3 kg``, ``8 kilos``, ``18.5lb``, ``18 lb 6 oz``; ``8`` is in kilograms.

    Raises :class:`WrittenError`.
    """
    said = tidy(text)
    if pounds := _POUNDS.fullmatch(said):
        whole, ounces = _value(pounds[1]), _value(pounds[2] or "0")
        if ounces >= OUNCES_PER_POUND or (pounds[2] and whole % 1):
            raise WrittenError(f"{quoted(text)}: 16 oz make a pound. Write such as 18 lb 6 oz.")
        written = f"{whole:g} lb" + (f" {ounces:g} oz" if pounds[2] else "")
        return Weight(whole + ounces / OUNCES_PER_POUND, "lb", written)
    if kilos := _KILOS.fullmatch(said):
        value = _value(kilos[1])
        return Weight(value, "kg", f"{value:g} kg")
    if grams := _GRAMS.fullmatch(said):
        value = int(grams[1]) / 1000
        return Weight(value, "kg", f"{value:g} kg")
    raise WrittenError("Write the weight as a number, such as 8, 8.5 kg, 18 lb or 18 lb 6 oz.")


def read_money(text: str) -> Money:
    """Read a sum of money: ``€12.50``, ``12,50``, ``12.50 EUR``, ``$8``, ``8``.

    Raises :class:`WrittenError`.
    """
    said = tidy(text)
    if before := _BEFORE.fullmatch(said):
        return _money(before[2], before[1], text)
    if after := _AFTER.fullmatch(said):
        return _money(after[1], after[2] or "", text)
    raise WrittenError(f"{quoted(text)} is not a sum of money: write 12.50, €12.50 or 12.50 EUR")


def _money(number: str, currency: str, text: str) -> Money:
    if re.search(r"[.,]\d{3}", number):
        raise WrittenError(
            f"{quoted(text)} could be two sums: write {re.sub('[.,]', '', number)} or "
            f"{float(number.replace(',', '.')):.2f}"
        )
    sign = _SIGNS.get(currency.lower(), currency.upper())
    return Money(float(number.replace(",", ".")), sign)


def _value(number: str) -> float:
    return float(number.replace(",", "."))
