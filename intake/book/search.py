"""The word index over all messages (SQLite's FTS5): kept up by the journal, asked newest first.

An entry's number is its message's moment with the message's number behind it, so that the index itself is in the order
of time: the newest messages with a word are found without looking at the others. The index holds words only, the texts
are in `messages`.
"""

from __future__ import annotations

import re
from typing import Any

# Messages of one second are told apart by so many of their numbers.
_SECOND = 2_097_152
PLACE = f"m.moment * {_SECOND} + m.id % {_SECOND}"
BY_PLACE = f"moment * {_SECOND} + id % {_SECOND}"
MOST_WORDS = 12
_ROWS = (
    f"SELECT {PLACE} AS place, m.sender, m.text, t.subject FROM messages m JOIN threads t ON t.id = m.thread"
    " WHERE {} ORDER BY place"
)


def make(db: Any) -> None:
    """The index of a book that has none."""
    db.execute(f"CREATE INDEX messages_by_place ON messages ({BY_PLACE})")
    db.execute(
        "CREATE VIRTUAL TABLE message_words USING fts5"
        " (sender, text, subject, content='', tokenize='unicode61 remove_diacritics 2')"
    )
    db.execute(f"INSERT INTO message_words (rowid, sender, text, subject) {_ROWS.format('1')}")


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


def asked(words: str) -> tuple[str, str]:
    """What FTS5 is asked for `words`: all of them, and all with the last as the start of one; empty where there are
    no words. Each word is quoted: nothing that is typed is an operator of the index.
    """
    found = re.findall(r"[^\W_]+", words)[:MOST_WORDS]
    if not found:
        return "", ""
    quoted = " ".join(f'"{word}"' for word in found)
    return quoted, f"{quoted}*"
