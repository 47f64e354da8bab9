"""The word index over all messages (SQLite's FTS5): kept up by the journal, asked newest first.

An entry's number is its message's moment with the message's number behind it, so that the index itself is in the order
of time: the newest messages with a word are found without looking at the others. The index holds words only, the texts
are in `messages`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Sequence
from typing import Any

# Messages of one second are told apart by so many of their numbers.
_SECOND = 2_097_152
PLACE = f"m.moment * {_SECOND} + m.id % {_SECOND}"
BY_PLACE = f"moment * {_SECOND} + id % {_SECOND}"
MOST_WORDS = 12
MOST_BEGUN = 40
_ROWS = (
    f"SELECT {PLACE} AS place, m.sender, m.text, t.subject FROM messages m JOIN threads t ON t.id = m.thread"
    " WHERE {} ORDER BY place"
)


def make(db: Any) -> None:
    """The index of a book that has none."""
    # With the conversation, so that a search reads no message that it doesn't show.
    db.execute(f"CREATE INDEX messages_by_place ON messages ({BY_PLACE}, thread)")
    db.execute(
        "CREATE VIRTUAL TABLE message_words USING fts5"
        " (sender, text, subject, content='', tokenize='unicode61 remove_diacritics 2')"
    )
    db.execute("CREATE VIRTUAL TABLE message_word_places USING fts5vocab (message_words, instance)")
    fill(db)


def fill(db: Any) -> None:
    """Puts every message into an index that holds none."""
    db.execute(f"INSERT INTO message_words (rowid, sender, text, subject) {_ROWS.format('1')}")


def forget_threads(db: Any, threads: str) -> None:
    """Takes the messages of conversations out again, while they are still there; not a trace of their words stays.
    `threads` are their numbers as JSON."""
    where = "m.thread IN (SELECT value FROM json_each(?))"
    db.execute(
        "INSERT INTO message_words (message_words, rowid, sender, text, subject)"
        f" SELECT 'delete', * FROM ({_ROWS.format(where)})",
        (threads,),
    )
    # What is taken out stays in the index, marked as gone, until its parts are made one.
    db.execute("INSERT INTO message_words (message_words) VALUES ('optimize')")


def note(db: Any, change: int) -> None:
    """Puts the messages that a change has added into the index, all in the order of time: FTS5 is slow otherwise."""
    where = "m.made_by = ?"
    db.execute(f"INSERT INTO message_words (rowid, sender, text, subject) {_ROWS.format(where)}", (change,))


def forget(db: Any, change: int) -> None:
    """Takes them out again, while they are still there."""
    where = "m.made_by = ?"
    db.execute(
        "INSERT INTO message_words (message_words, rowid, sender, text, subject)"
        f" SELECT 'delete', * FROM ({_ROWS.format(where)})",
        (change,),
    )


def asked(words: str) -> list[str]:
    """The words to look for in what was typed, as the index knows them: letters without case and accents."""
    split = unicodedata.normalize("NFD", words)
    plain = "".join(c for c in split if not unicodedata.combining(c)).lower()
    return re.findall(r"[^\W_]+", plain)[:MOST_WORDS]


def each_of(words: Sequence[Sequence[str]]) -> str:
    """What FTS5 is asked for messages with one of each of `words`. Each is quoted: nothing typed is an operator."""
    return " AND ".join("(" + " OR ".join(f'"{word}"' for word in either) + ")" for either in words)


def begun(rows: Callable[[str, Sequence[Any]], list[dict[str, Any]]], start: str) -> list[str]:
    """Up to MOST_BEGUN words of the index that begin with `start`, itself first. `rows` runs a SELECT.

    Each is looked up behind the one before: FTS5's own search for a beginning first gathers every place of each such
    word, which takes a hundred times as long where one of them is frequent.
    """
    found: list[str] = []
    low = start
    while len(found) < MOST_BEGUN:
        next_one = rows(
            "SELECT term FROM message_word_places WHERE term >= ? AND term < ? LIMIT 1", (low, start + "\U0010ffff")
        )
        if not next_one:
            break
        found.append(next_one[0]["term"])
        low = found[-1] + "\0"
    return found
