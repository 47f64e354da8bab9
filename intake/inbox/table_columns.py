"""Which column of a table says what: by the words over the columns, else by the shape of what is in them."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from intake.inbox import numeric_dates, shapes, times
from intake.inbox.baker import address_in, folded, number_in
from intake.inbox.shapes import INWARD, OUTWARD, TALKS

#: Our words for what a column says, by which the house rules name columns.
ROLES = ("sender", "time", "date", "clock", "text", "to", "mine", "conversation", "subject")
SAMPLE = 400
MOST_COLUMNS = 200

_OTHER_WORDS = """
sender: remitente de autor nombrecompleto quien absender von expediteur auteur remetente mittente da afzender van
sender: sentby writtenby whofrom nombre nom nome naam
to: para destinatario destinataria an empfanger destinataire verzondenaan aan
text: mensaje texto contenido mensajes nachricht messaggio mensagem bericht texte testo inhalt
date: fecha datum data dia day jour tag
clock: hora uhrzeit zeit heure ora tijd clock
time: fechahora fechayhora fechadeenvio enviadoel sentdatetime datesentat messagedatetime dateandtime submittedat
mine: out direccion sentido richtung inout inorout sens direzione
conversation: conversacion conversazione conversa hilo gesprach unterhaltung
subject: subject asunto betreff objet oggetto assunto onderwerp
contact: client customer cliente kunde kontakt contacto numero telefono telefon
first: firstname first givenname vorname prenom
last: lastname last surname familyname apellido apellidos nachname cognome sobrenome
""".strip()
_OUT = OUTWARD | frozenset("saliente enviado enviada outbox yo mine from_me ausgehend gesendet envoye inviato".split())
_IN = INWARD | frozenset("entrante recibido recibida inbox them eingehend empfangen recu ricevuto".split())
_DIRECTIONS = ("direction", "type", "kind", "folder", "status", "messagetype", "box")
_TRUE, _FALSE = frozenset(("true", "yes", "1", "si", "y")), frozenset(("false", "no", "0", "n"))
_PLAUSIBLE = (1995, 2035)  # years in which a bare count of seconds is taken for a time and not for a number


def _table() -> dict[str, str]:
    """What each header word means, the shapes' own words first."""
    words: dict[str, str] = {}
    for role, known in (
        ("text", shapes.TEXTS), ("sender", shapes.SENDERS), ("to", shapes.RECIPIENTS), ("time", shapes.TIMES),
        ("mine", (*shapes.MINE, *_DIRECTIONS)), ("conversation", TALKS), ("contact", shapes.PARTNERS),
    ):  # fmt: skip
        for word in known:
            words.setdefault(word, role)
    for line in _OTHER_WORDS.splitlines():
        role, _, others = line.partition(": ")
        words |= dict.fromkeys(others.split(), role)
    return words | {"date": "date"}


_ROLE = _table()


@dataclass(frozen=True, slots=True)
class Layout:
    """`first` is the number of the first row of messages, `names` what stands over the columns (empty where nothing
    does), `at` the column of each role found, `keys` each column's key for shapes.entry_of (empty: not handed on),
    `missing` what the house rules name and the table lacks."""

    first: int
    names: tuple[str, ...]
    width: int
    at: Mapping[str, int]
    keys: tuple[str, ...]
    missing: tuple[str, ...] = ()

    @property
    def timed(self) -> bool:
        return "time" in self.at or "date" in self.at

    @property
    def whole(self) -> bool:
        """A sender, a time and a text are there."""
        return self.timed and "text" in self.at and not {"sender", "contact", "first", "mine"}.isdisjoint(self.at)


def plain(word: str) -> str:
    """A header word as it is compared: no accents, no signs, small letters."""
    bare = unicodedata.normalize("NFKD", word[:100])
    return re.sub(r"[^a-z0-9]", "", "".join(c for c in bare if not unicodedata.combining(c)).lower())


def word_of(name: str) -> str:
    """The word over a column without the one whose it is: "Your message" is a message."""
    word = plain(name)
    bare = re.sub(r"^(?:your|customer|client|guest)s?(?=[a-z]{2})", "", word)
    return bare if bare in _ROLE else word


def flag(value: str) -> bool | None:
    """What a cell says of whose message it is: True for the account holder's own."""
    word = plain(value)
    if word in _OUT or word in _TRUE:
        return True
    return False if word in _IN or word in _FALSE else None


def stamp(value: str) -> str:
    """`full`, `day` or `clock` by what a cell gives, else an empty text."""
    if kind := numeric_dates.kind_of(value):
        return kind
    at = times.of_any(value, ZoneInfo("UTC")) if any(c.isdigit() for c in value) else None
    return "full" if at and _PLAUSIBLE[0] <= at.year <= _PLAUSIBLE[1] else ""


def layout_of(rows: Sequence[Sequence[str]], columns: Mapping[str, str]) -> Layout:
    """How the first rows of a table are laid out. `columns` says it for some of the roles, and wins."""
    names, first = _header(rows, columns)
    body = [row[:MOST_COLUMNS] for row in rows[first : first + SAMPLE]]
    width = min(len(names) or _width(body), MOST_COLUMNS)
    at, missing = _told(names, width, columns)
    fixed = set(at)
    cells = [[row[n].strip() for row in body if n < len(row) and row[n].strip()] for n in range(width)]
    words = [_ROLE.get(word_of(name), "") for name in names[:width]] or [""] * width
    _find_times(at, names, words, cells)
    free = [n for n in range(width) if n not in at.values()]
    flags = [n for n in free if cells[n] and all(flag(value) is not None for value in cells[n])]
    named = [n for n in flags if words[n] == "mine"]
    if "mine" not in at and (named or not names):
        strict = [n for n in flags if {plain(value) for value in cells[n]} <= _OUT | _IN]
        if found := named or strict:
            at["mine"] = found[0]
    for role in ("text", "sender", "to", "conversation", "subject", "contact", "first", "last"):
        free = [n for n in range(width) if n not in at.values() and words[n] == role and cells[n]]
        if role not in at and free:
            at[role] = min(free, key=lambda n: _rank(role, word_of(names[n])))
    if "last" in at and "first" not in at and "sender" in at and word_of(names[at["sender"]]) == "nombre":
        at["first"] = at.pop("sender")
    if "first" in at and "sender" in at and word_of(names[at["sender"]]) in shapes.ADDRESSES and "sender" not in fixed:
        del at["sender"]
    _find_by_shape(at, words, cells, body)
    if {"sender", "mine"} <= set(at) and fixed.isdisjoint(("sender", "contact")) and _both_ways(at, body):
        at["contact"] = at.pop("sender")
    return Layout(first, tuple(names), width, at, _keys(names, words, at, fixed, width), missing)


def _rank(role: str, word: str) -> int:
    lists = {"sender": shapes.SENDERS, "text": shapes.TEXTS, "to": shapes.RECIPIENTS, "conversation": TALKS}
    known = lists.get(role, shapes.PARTNERS)
    return known.index(word) if word in known else 3  # words of other tongues come after the surest of ours


def _width(rows: Sequence[Sequence[str]]) -> int:
    return Counter(map(len, rows)).most_common(1)[0][0] if rows else 0


def _header(rows: Sequence[Sequence[str]], columns: Mapping[str, str]) -> tuple[list[str], int]:
    """What stands over the columns, and the number of the first row below."""
    wanted = {folded(name) for name in columns.values() if not name.strip().isdecimal()}
    width = _width(rows[:SAMPLE])
    for number, row in enumerate(rows[:12]):
        if wanted and wanted & {folded(cell) for cell in row}:
            return _names(row), number + 1
        roles = {_ROLE[word] for cell in row if len(cell) < 60 and (word := word_of(cell)) in _ROLE}
        if len(roles) > 1 and roles & {"text", "time", "date"} and not any(stamp(cell) for cell in row):
            return _names(row), number + 1
    for number, row in enumerate(rows[:4]):
        below = rows[number + 1 : number + 1 + SAMPLE]
        if len(row) != width or not below or not all(cell.strip() for cell in row) or any(map(stamp, row)):
            continue
        if any(stamp(r[n]) for r in below[:1] if len(r) == width for n in range(width)) and _labels(row):
            return _names(row), number + 1
    return [], 0


def _labels(row: Sequence[str]) -> bool:
    return len(set(row)) == len(row) and all(len(cell) < 40 and not address_in(cell) for cell in row)


def _names(row: Sequence[str]) -> list[str]:
    names = [" ".join(cell.split()) for cell in row]
    while names and not names[-1]:
        names.pop()
    return names


def _told(names: Sequence[str], width: int, columns: Mapping[str, str]) -> tuple[dict[str, int], tuple[str, ...]]:
    at: dict[str, int] = {}
    missing = []
    known = {folded(name): n for n, name in reversed(list(enumerate(names[:width])))}
    for role, name in columns.items():
        number = int(name) - 1 if name.strip().isdecimal() and len(name) < 6 else -1
        if role in ROLES and folded(name) in known:
            at[role] = known[folded(name)]
        elif role in ROLES and 0 <= number < width:
            at[role] = number
        else:
            missing.append(f"{role} = {name[:60]}")
    return at, tuple(missing)


def _find_times(at: dict[str, int], names: Sequence[str], words: Sequence[str], cells: Sequence[Sequence[str]]) -> None:
    """Sets `time`, or `date` and `clock` where they stand apart."""
    if "time" in at and "date" in at:
        at.setdefault("clock", at.pop("time"))
    if "time" in at or "clock" in at:
        return
    kinds = {n: _kind(column, words[n]) for n, column in enumerate(cells) if n not in at.values()}

    def ordered(kind: str) -> list[int]:
        """The columns of a kind: the named before the others, the surest word first."""
        found = [n for n in kinds if kinds[n] == kind]
        spot = {word: place for place, word in enumerate(shapes.TIMES)}
        named = {n: spot.get(word_of(names[n]), 4) for n in found if words[n] in ("time", "date", "clock")}
        return sorted(found, key=lambda n: named.get(n, 99))

    full, days, clocks = ordered("full"), ordered("day"), ordered("clock")
    if full and "date" not in at:
        at["time"] = full[0]
    elif days or "date" in at:
        at.setdefault("date", days[0] if days else -1)
        if clocks:
            at["clock"] = clocks[0]


def _kind(column: Sequence[str], word: str) -> str:
    """What most of a column's cells give, as `stamp` has it; a column that is called a time may hold more that can't
    be read."""
    counts = Counter(map(stamp, column[:100]))
    most, count = counts.most_common(1)[0] if counts else ("", 0)
    return most if count >= (0.5 if word in ("time", "date", "clock") else 0.8) * counts.total() else ""


def _find_by_shape(
    at: dict[str, int], words: Sequence[str], cells: Sequence[Sequence[str]], body: Sequence[Sequence[str]]
) -> None:
    """The longest varied words are the text, few short names or numbers the sender's."""
    free = [n for n in range(len(cells)) if n not in at.values() and not words[n] and cells[n]]
    if "text" not in at:
        varied = {n: sum(len(v) + 20 * v.count(" ") for v in set(cells[n])) for n in free if _is_text(cells[n])}
        if varied:
            at["text"] = max(varied, key=lambda n: varied[n])
    if {"sender", "contact", "first"}.isdisjoint(at):
        people = [n for n in free if n != at.get("text") and _is_people(cells[n], len(body))]
        told = [n for n in people if len(set(cells[n])) > 1] or people
        if told:
            at["sender"] = told[0]
        if not any(words) and len(told) > 1 and "to" not in at and set(cells[told[0]]) & set(cells[told[1]]):
            at["to"] = told[1]


def _is_text(column: Sequence[str]) -> bool:
    return any(" " in value for value in column) or all(value.isalpha() for value in column)


def _is_people(column: Sequence[str], rows: int) -> bool:
    """Short, mostly filled; names, addresses or telephone numbers, and not a count of the rows."""
    if len(column) < 0.6 * rows or max(map(len, column)) > 80 or any(map(stamp, column[:20])):
        return False
    named = [any(c.isalpha() for c in value) or bool(number_in(value)) for value in column]
    few = len(set(column)) <= max(3, 0.7 * len(column))
    return all(named) and few


def _both_ways(at: Mapping[str, int], body: Sequence[Sequence[str]]) -> bool:
    """True where one name stands in rows of both directions: then it is the other party's, whoever wrote."""
    said: dict[bool, set[str]] = {True: set(), False: set()}
    for row in body:
        if len(row) > max(at["sender"], at["mine"]) and (mine := flag(row[at["mine"]])) is not None:
            said[mine].add(folded(row[at["sender"]]))
    return bool((said[True] & said[False]) - {""})


_KEY = {
    "sender": "sendername", "text": "text", "to": "toname", "conversation": "conversationid", "subject": "subject",
    "contact": "contactname",
}  # fmt: skip


def _keys(
    names: Sequence[str], words: Sequence[str], at: Mapping[str, int], fixed: Iterable[str], width: int
) -> tuple[str, ...]:
    """Beside the columns of the roles, those of addresses, photos and second choices are handed on by their name."""
    role_of = {n: role for role, n in at.items()}
    apart = {*fixed, "mine", "time", "date", "clock", "first", "last"}
    if "contact" in at:
        apart.add("sender")
    keys = []
    for n in range(width):
        word = word_of(names[n]) if n < len(names) else ""
        if n in role_of:
            keys.append(_KEY.get(role_of[n], ""))
        elif word in shapes.MEDIA or word in shapes.ADDRESSES:
            keys.append(word)
        else:
            keys.append("" if words[n] in apart or word in ("", "type", "kind", "folder", "direction") else word)
    return tuple(keys)


def moment_of(said: str, order: str, zone: ZoneInfo) -> datetime | None:
    """The time that a cell gives; a date in figures is read by `order`."""
    return numeric_dates.at_of(said, order, zone) or times.of_any(said, zone)
