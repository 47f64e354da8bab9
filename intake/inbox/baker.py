"""Is this sender the baker? Her names, addresses and numbers as the house rules list them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

_ADDRESS = re.compile(r"[^\s<>\"(),;:@]{1,64}@[^\s<>\"(),;:@]{1,255}")  # lengths: RFC 5321 section 4.5.3.1
_NUMBER = re.compile(r"(?:tel:)?[+(]?\d[\d\s().+\-/]*")


def folded(name: str) -> str:
    """`name` for comparing: case, spacing and the slant of apostrophes don't count."""
    name = unicodedata.normalize("NFC", name).replace("\u2019", "'").casefold()
    return " ".join(name.split())


def address_in(text: str) -> str:
    """The first e-mail address in `text`, in lower case, or an empty text."""
    found = _ADDRESS.search(text)
    return found[0].casefold().strip(".'") if found else ""


def number_in(text: str) -> str:
    """The digits of `text` where all of it is a telephone number of seven digits or more; the last ten, so that
    a number is the same with and without its country code."""
    digits = re.sub(r"\D", "", text)
    return digits[-10:] if len(digits) >= 7 and _NUMBER.fullmatch(text.strip()) else ""


@dataclass(frozen=True, slots=True)
class Baker:
    """Everything the baker goes by in exports; empty sets where the house rules name nobody."""

    names: frozenset[str] = frozenset()
    addresses: frozenset[str] = frozenset()
    numbers: frozenset[str] = frozenset()

    @classmethod
    def of(cls, senders: Iterable[str]) -> Baker:
        names, addresses, numbers = set(), set(), set()
        for sender in senders:
            if address := address_in(sender):
                addresses.add(address)
            elif number := number_in(sender):
                numbers.add(number)
            elif name := folded(sender):
                names.add(name)
        return cls(frozenset(names), frozenset(addresses), frozenset(numbers))

    @property
    def known(self) -> bool:
        return bool(self.names or self.addresses or self.numbers)

    def is_(self, *called: str) -> bool:
        """True where any of the names, addresses or numbers is one of hers."""
        return any(
            folded(c) in self.names or address_in(c) in self.addresses or number_in(c) in self.numbers
            for c in called
            if c.strip()
        )

    def mails_as(self, name: str, address: str) -> bool:
        """True where a mail from `name` <`address`> is hers; `address` is in lower case. Where any address of hers is
        known, only addresses count: a customer may share her first name, and a mail taken for the baker's own would
        never be read."""
        return address in self.addresses if self.addresses and address else self.is_(name, address)
