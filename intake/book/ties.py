"""What ties a conversation to a person: telephone numbers, e-mail addresses and names, folded so that each way of
writing one is the same key.

A shared `phone` or `email` makes two conversations one customer's. A `name` only proposes it; the `like` keys of a
name, two letters each of two of its words, bring together those worth comparing.
"""

from __future__ import annotations

import itertools
import json
import re
import unicodedata
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any

PHONE, EMAIL, NAME, LIKE = "phone", "email", "name", "like"
FIRM = (PHONE, EMAIL)
_DIGITS = 10  # without a country code; what is shorter is a number that many towns have
_MOST_WORDS = 5
_FEWEST_LETTERS = 5
_LONGEST = 200
_EMAIL = re.compile(r"[^\s<>@,;:]{1,64}@[^\s<>@,;:]{1,190}\.[a-z]{2,24}")
_NUMBER = re.compile(r"[+(]?\d[\d ().+/-]{8,30}")
# Addresses that many people's messages come from.
_NOBODY = re.compile(r"(?:no|do-?not)[._-]?reply|mailer-daemon|postmaster|notifications?\b|bounces?\b")
_TITLES = frozenset(("mr", "mrs", "ms", "miss", "dr", "the", "and"))

Key = tuple[str, str]


def keys(senders: Iterable[str], addresses: Iterable[str], drafts: Iterable[Mapping[str, Any]]) -> set[Key]:
    """The keys of a conversation by who writes in it, from where, and what its drafts (as plain values) hold.

    A draft's number or address counts where it is sure: one to check may be the school's.
    """
    found: set[Key] = set()
    for text in itertools.chain(senders, addresses):
        found |= _firm(text)
    names = list(senders)
    for draft in drafts:
        for field in FIRM:
            cell = draft.get(field, {})
            if cell.get("sure"):
                found |= _firm(str(cell.get("value") or ""))
        names.append(str(draft.get("customer", {}).get("value") or ""))
    for words in filter(None, map(name_words, names)):
        found.add((NAME, " ".join(words)))
        found |= {(LIKE, f"{one[:2]} {other[:2]}") for one, other in itertools.combinations(sorted(words), 2)}
    return found


def firm_keys(texts: Iterable[str]) -> set[Key]:
    """The numbers and addresses that any of `texts` is or holds."""
    return {key for text in texts for key in _firm(text)}


@lru_cache(maxsize=10_000)
def _firm(text: str) -> frozenset[Key]:
    """The number or the address that `text` is or holds."""
    text = text.strip()[:_LONGEST]
    if found := _EMAIL.search(text.casefold()):
        return frozenset() if _NOBODY.match(found[0]) else frozenset({(EMAIL, found[0])})
    digits = re.sub(r"[^0-9]", "", text)
    if len(digits) < _DIGITS or not _NUMBER.fullmatch(text) or len(set(digits[-_DIGITS:])) < 3:
        return frozenset()
    return frozenset({(PHONE, digits[-_DIGITS:])})


def name_words(name: str) -> tuple[str, ...]:
    """The words of a name of two words or more, folded; empty for a first name alone, which many people have."""
    plain = unicodedata.normalize("NFKD", name[:_LONGEST].casefold()).replace("'", "").replace("\u2019", "")
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    words = [word for word in re.findall(r"[^\W\d_]{2,}", plain) if word not in _TITLES][:_MOST_WORDS]
    whole = len(words) > 1 and sum(map(len, words)) >= _FEWEST_LETTERS and "@" not in name
    return tuple(words) if whole else ()


def make(db: Any) -> None:
    """The ties of a book that has none, and its customers by them."""
    for statement in (
        "ALTER TABLE threads ADD COLUMN customer INTEGER",
        "CREATE INDEX threads_of_customer ON threads (customer) WHERE customer IS NOT NULL",
        """CREATE TABLE ties (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            thread INTEGER NOT NULL REFERENCES threads (id),
            kind TEXT NOT NULL,
            key TEXT NOT NULL,
            made_by INTEGER NOT NULL,
            UNIQUE (thread, kind, key))""",
        "CREATE INDEX ties_by_key ON ties (kind, key)",
        "CREATE INDEX ties_by_change ON ties (made_by)",
        """CREATE TABLE apart (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            one INTEGER NOT NULL,
            other INTEGER NOT NULL,
            stands INTEGER NOT NULL DEFAULT 1,
            made_by INTEGER NOT NULL)""",
    ):
        db.execute(statement)
    first: dict[int, int] = {}
    by_key: dict[Key, int] = {}
    for (thread,) in db.execute("SELECT id FROM threads ORDER BY id").fetchall():
        first[thread] = thread
        for kind, key in sorted(keys_of(db, thread)):
            db.execute("INSERT INTO ties (thread, kind, key, made_by) VALUES (?, ?, ?, 0)", (thread, kind, key))
            if kind in FIRM:
                one, other = sorted((_root(first, by_key.setdefault((kind, key), thread)), _root(first, thread)))
                first[other] = one
    joined = [(_root(first, thread), thread) for thread in first]
    for root, thread in joined:
        if root != thread:
            db.execute("UPDATE threads SET customer = ? WHERE id = ?", (root, thread))


def keys_of(db: Any, thread: int) -> set[Key]:
    """The keys of a conversation of the book. What another program has spoilt of its orders gives none."""
    wrote = db.execute("SELECT DISTINCT sender, address FROM messages WHERE thread = ? AND NOT mine", (thread,))
    people = wrote.fetchall()
    drafts = []
    for (text,) in db.execute("SELECT draft FROM orders WHERE thread = ?", (thread,)).fetchall():
        try:
            draft = json.loads(text)
        except ValueError:
            continue
        if isinstance(draft, dict):
            drafts.append({field: cell for field, cell in draft.items() if isinstance(cell, dict)})
    return keys([sender for sender, _ in people], [address for _, address in people], drafts)


def _root(first: dict[int, int], thread: int) -> int:
    while first[thread] != thread:
        first[thread] = first[first[thread]]
        thread = first[thread]
    return thread
