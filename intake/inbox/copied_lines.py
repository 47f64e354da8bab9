"""What a single line can be in a conversation that was selected and copied: words, a time, a name or the furniture of
a page or a window. English and Spanish. What it is there is decided by all the lines together, in copied.py."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache

from intake.inbox.baker import folded, number_in
from intake.inbox.chat_times import CLOCK
from intake.inbox.copied_times import AGO, DAY, STAMP, Stamp, stamp_in

_LONGEST_LINE = 120  # characters; a longer one is words
_LONGEST_NAME = 40


known_as = lru_cache(maxsize=4096)(folded)  # the same few names are compared again and again


class Kind(Enum):
    BLANK = "blank"
    WORDS = "words"
    NAME = "a name"
    SENT = "who sent what follows"
    STAMP = "a time"
    DAY = "a day"
    FURNITURE = "furniture"
    PHOTO = "a photo"
    QUOTED = "a quotation follows"


HEADS = (Kind.NAME, Kind.SENT)


@dataclass(frozen=True, slots=True)
class Line:
    """`name`: who speaks from here on, or whom furniture names; `rest`: words on the same line as the name."""

    kind: Kind
    text: str
    name: str = ""
    stamp: Stamp | None = None
    rest: str = ""


_WHO = r"(?P<name>[^\s:\"“][^:\"“\n]{0,39}?)"
_OWN = frozenset(("you", "me", "tú", "usted"))
# Case counts throughout: "sent" is a customer's word, "Sent" is a page's.
_FURNITURE = re.compile(
    r"(?:Seen|Read|Delivered|Sent|Edited|Enter|Visto|Leído|Entregado|Enviado|Editado)(?: ·)?"
    rf"(?: (?:at |a las? )?{CLOCK}| just now| {AGO})?|{CLOCK} (?:Seen|Read|Delivered|Sent|Visto|Leído|Entregado)"
    rf"|(?:Seen|Read) by (?P<seen>{_WHO.replace('?P<name>', '?:')})|Visto por (?P<visto>\w[^:\n]{{0,39}})"
    r"|[Tt]yping ?(?:\.\.\.|…)?|Escribiendo ?(?:\.\.\.|…)?"
    r"|(?P<typing>\w[^:\n]{0,39}?) (?:is typing|está escribiendo) ?(?:\.\.\.|…)?"
    r"|Profile photo of (?P<of>\w[^:\n]{0,39})|(?P<whose>\w[^:\n]{0,39}?)['’]s profile photo"
    r"|Foto de perfil de (?P<de>\w[^:\n]{0,39})"
    r"|Active (?:now|today|yesterday)|Active [^\n]{1,20} ago|Online|Offline|En línea|Last seen [^\n]{1,40}"
    r"|(?:[^\n:]{1,40} )?[Rr]eacted (?:with )?[^\w\s][^\n]{0,80}|(?:[^\n:]{1,40} )?[Rr]eaccionó con [^\n]{1,80}"
    r"|(?:Liked|Loved) (?:a message|[\"“][^\n]{0,100})"
    r"|(?:Reply|React|Like|Forward|Forwarded|Add reaction|More options|View profile|Responder|Reenviar)"
    r"|(?:Type|Write) a message ?(?:\.\.\.|…)?|Load (?:earlier|more) messages|(?:New|Unread) messages?"
    r"|[^\n:]{1,40} unsent a message"
    r"|[^\n:]{1,40} (?:created|named|joined|left) (?:the|this) (?:group|chat|conversation)[^\n]{0,60}"
)
_SENT = re.compile(
    rf"(?:{_WHO} (?:sent(?P<photo> (?:an?|\d{{1,2}}) (?:photo|picture|image|attachment|GIF|sticker|video)s?\.?)?"
    r"|replied to (?P<to>[^:\n]{1,40})|forwarded a message|envió|te respondió))"
    r"|(?P<own>Enviaste|Has enviado|Respondiste a (?P<a>[^:\n]{1,40}))"
)
_PHOTO = re.compile(r"(?:(?:Open|View|Ver|Abrir) )?(?:[Pp]hoto|[Ii]mage|[Pp]icture|[Ff]oto|[Ii]magen)(?: attached)?")
_QUOTED = re.compile(r"(?:Original message|Replying to|Mensaje original) ?:?")
_HEAD = re.compile(rf"{_WHO}(?P<gap>(?:,| ?[-–—·•|])? {{1,4}}[(\[]?)(?P<when>{STAMP}|{AGO})[)\]]?(?P<rest>: ?.*)?")
_TIME_FIRST = re.compile(rf"\[?(?P<when>{STAMP})\]?(?: ?[-–|])? {{1,4}}{_WHO}: ?(?P<rest>.*)")
_TIMED = re.compile(r"\d|now|ago|mismo")
_DAY_LINE = re.compile(rf"(?:[-–—=*_.]{{1,20}} ?)?(?P<day>{DAY})(?: ?[-–—=*_.]{{1,20}})?")
_HANDLE = re.compile(r"@?[a-z0-9]{1,30}(?:[._][a-z0-9]{1,30}){1,4}|[a-z]{2,30}\d{1,6}")
_JOINING = frozenset("de del la van von da & y and".split())
# Words that begin lines with a capital as names do; no name begins with them.
_NO_NAMES = frozenset(
    "ok okay yes yep yeah yup no nope sure thanks thank thx ty hi hey hello great perfect awesome wonderful lovely "
    "sounds good please got done cool wow sorry bye hola gracias sí si claro perfecto vale bueno listo genial "
    "pickup pick delivery deliver order orders cookies cookie dozen total deposit date time name theme colors "
    "colours color colour flavor flavors shapes size qty count names party address phone email note notes monday "
    "tuesday wednesday thursday friday saturday sunday lunes martes miércoles jueves viernes sábado domingo january "
    "february march july september october november december morning afternoon evening noon today tomorrow "
    "yesterday dear love best regards cheers sincerely blue pink red green white gold yellow purple black silver "
    "vanilla chocolate lemon almond and or i it's happy birthday congrats congratulations welcome baby the a an my "
    "for with set ship shipping start end doors dinner lunch ceremony reception cake photos photo".split()
)


@lru_cache(maxsize=4096)
def line_of(text: str) -> Line:
    """What `text` (one line, with plain spaces) is by itself. Names on lines of their own are still words here."""
    text = text.strip()
    if not text:
        return Line(Kind.BLANK, "")
    if len(text) > _LONGEST_LINE:
        return _headed(text) or Line(Kind.WORDS, text)
    if found := _FURNITURE.fullmatch(text):
        told = (found[name] for name in ("seen", "visto", "typing", "of", "whose", "de"))
        return Line(Kind.FURNITURE, text, next(filter(None, told), ""))
    if (sent := _SENT.fullmatch(text)) and (sent["own"] or is_name(sent["name"]) or is_own(sent["name"])):
        who = "You" if sent["own"] else sent["name"]
        return Line(Kind.SENT, text, who, rest="photo" if sent["photo"] else "")
    if _PHOTO.fullmatch(text):
        return Line(Kind.PHOTO, text)
    if _QUOTED.fullmatch(text):
        return Line(Kind.QUOTED, text)
    if stamp := stamp_in(text):
        return Line(Kind.STAMP, text, stamp=stamp)
    if (day := _DAY_LINE.fullmatch(text)) and (stamp := stamp_in(day["day"], whole_day=True)):
        return Line(Kind.DAY, text, stamp=stamp)
    return _headed(text) or Line(Kind.WORDS, text)


def told_of(line: Line) -> list[str]:
    """The names that furniture and lines of who sent give away."""
    names = [line.name] if line.kind in (Kind.SENT, Kind.FURNITURE) and line.name else []
    if line.kind is Kind.SENT and (sent := _SENT.fullmatch(line.text)):
        names += [name for name in (sent["to"], sent["a"]) if name]
    return [name for listed in names for name in map(str.strip, listed.split(",")) if is_name(name)]


@lru_cache(maxsize=4096)
def is_own(name: str) -> bool:
    return known_as(name) in _OWN


@lru_cache(maxsize=4096)
def is_name(text: str) -> bool:
    """True where `text` is written as names are: capitals, a number, or a name as on pages ("bea.ortiz")."""
    if not 0 < len(text) <= _LONGEST_NAME:
        return False
    if number_in(text) or _HANDLE.fullmatch(text):
        return True
    words = [word for word in text.split() if any(map(str.isalnum, word))]
    if not 0 < len(words) <= 5 or any(map(str.isdigit, text)) or words[0].casefold() in _JOINING:
        return False
    if words[0].casefold().strip(".,!'’") in _NO_NAMES:
        return False
    if text[-1] in "!?,:;)" or (text.endswith(".") and len(words[-1]) > 3):
        return False
    return all(word in _JOINING or (word[0].isalpha() and not word[0].islower()) for word in words)


def is_reaction(text: str) -> bool:
    """A line of signs such as hearts, with or without their number."""
    signs = re.sub(r" ?\d{1,3}$", "", text.strip())
    return 0 < len(signs) <= 16 and all(
        c == " " or unicodedata.category(c) in ("So", "Sk", "Cf", "Mn") or c == "\u200d" for c in signs
    )


def _headed(text: str) -> Line | None:
    """A name and a time on one line, with or without words behind a colon."""
    start = text[:_LONGEST_LINE]
    if not _TIMED.search(start):
        return None
    for pattern in (_HEAD, _TIME_FIRST):
        found = pattern.match(text) if ":" in start else pattern.fullmatch(start) if len(text) == len(start) else None
        if not found or found.end() < len(text):
            continue
        name, stamp = found["name"].strip(), stamp_in(found["when"])
        if stamp and (is_name(name) or is_own(name)):
            return Line(Kind.NAME, text, name, stamp, (found["rest"] or "").removeprefix(":").strip())
    return None
