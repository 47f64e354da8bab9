"""One object of a JSON export as a chat message, told by what its keys mean rather than by who wrote the file.

Keys are compared in lower case without signs ("sender_name" is "sendername"); the lists below go from the surest
word to the vaguest.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from intake.inbox import times
from intake.inbox.baker import address_in, number_in
from intake.inbox.keys import one_line


def _keys(words: str) -> tuple[str, ...]:
    return tuple(words.split())


SENDERS = _keys(
    "sendername fromname authorname senderdisplayname displayname from sender author user username nickname by who "
    "writer creator actor name fullname senderid fromid authorid userid email"
)
PARTNERS = _keys("contactname contact participant peername peer handle phonenumber phone number address")
RECIPIENTS = _keys("toname to recipientname recipient recipients receivername receiver")
ADDRESSES = _keys("email emailaddress fromemail senderemail phonenumber phone senderphone fromphone number address")
TIMES = _keys(
    "dateunixtime unixtime timestampms timestamp sentat senttime datesent sentdate createdat createtime createddate "
    "created datetime messagedate messagetime date time ts at when sent receivedat datereceived received posted "
    "postedat servertimestamp publishedat"
)
TEXTS = _keys("text messagetext content body message msg plaintext caption comment")
MINE = _keys("mine ismine isfromme fromme isoutgoing outgoing isself ismyself issender sentbyme")
OUTWARD = frozenset(_keys("out outgoing outbound sent me self"))
INWARD = frozenset(_keys("in incoming inbound received"))
TALKS = _keys(
    "conversationid conversation threadid thread chatid chat chatname roomid room dialogid dialog channelid groupid"
)
NAMES = _keys("displayname name fullname realname username nickname title email phonenumber phone number address id")
MEDIA = _keys(
    "photo photos image images picture pictures gif gifs sticker video videos audio audiofiles voice voicenote file "
    "files attachment attachments media mediatype document documents filename"
)

_PHOTO = re.compile(r"photo|image|picture|gif|sticker|\.(?:jpe?g|png|heic|webp)\b", re.IGNORECASE)
_KIND = re.compile(r"video|audio|voice|\.(?:mp4|mov|m4a|mp3|ogg|opus)\b", re.IGNORECASE)
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_CLOCK = re.compile(r"\d\d?:\d\d(?::\d\d)?")
_DEEPEST = 4
_LONGEST_NAME = 500


@dataclass(frozen=True, slots=True)
class Entry:
    """What one object says, as it stands: nothing cleaned, nothing repaired. `mine` is None where it doesn't say.

    `to` is who it was sent to and `talk` the conversation it belongs to, both empty where it doesn't say. `nth` tells
    apart (0, 1, ...) the same words of one sender at one time, where the format gives no seconds.
    """

    sender: str
    address: str
    at: datetime | None
    text: str
    mine: bool | None
    to: str
    talk: str
    subject: str
    attachments: tuple[str, ...]
    nth: int = 0


def plain_keys(thing: Mapping[str, Any]) -> dict[str, Any]:
    """`thing` by its keys as they are compared; where two become one, the first that says something."""
    plain: dict[str, Any] = {}
    for key, value in thing.items():
        name = re.sub(r"[^a-z0-9]", "", key.lower())
        if plain.get(name) in (None, ""):
            plain[name] = value
    return plain


def entry_of(thing: Mapping[str, Any], zone: ZoneInfo) -> Entry:
    said = plain_keys(thing)
    mine = _mine(said)
    sender, address = _who(said, SENDERS)
    to, _ = _who(said, RECIPIENTS)
    partner, partner_address = _who(said, PARTNERS)
    if mine:
        to = to or partner
    elif not sender:
        sender, address = partner, partner_address
    if not mine:
        address = address or next((str(said[k]) for k in ADDRESSES if _is_address(said.get(k))), "")
    text = next((words for key in TEXTS if (words := _words(said.get(key))).strip()), "")
    names: tuple[str, ...] = ()
    if media := {key: said[key] for key in MEDIA if said.get(key)}:
        names = tuple(_file_names(media.values()))
        text = text if text.strip() else _stand_in(media)
    subject = said.get("subject")
    return Entry(
        sender=sender,
        address=address,
        at=_when(said, zone),
        text=text,
        mine=mine,
        to=to,
        talk=_talk(said),
        subject=subject if isinstance(subject, str) else "",
        attachments=names,
    )


def is_message(entry: Entry) -> bool:
    """A sender, a time and a text: the shape by which a list of messages is known."""
    return bool((entry.sender or entry.mine) and entry.at and entry.text)


def _mine(said: Mapping[str, Any]) -> bool | None:
    for key in MINE:
        value = said.get(key)
        if isinstance(value, bool) or (isinstance(value, int) and value in (0, 1)):
            return bool(value)
        if isinstance(value, str) and value.lower() in ("true", "false", "yes", "no", "1", "0"):
            return value.lower() in ("true", "yes", "1")
    for key in ("direction", "type", "kind", "folder"):
        value = said.get(key)
        if isinstance(value, str) and value.lower() in OUTWARD | INWARD:
            return value.lower() in OUTWARD
    return None


def _who(said: Mapping[str, Any], keys: Iterable[str]) -> tuple[str, str]:
    """Name and address of the first of `keys` that names somebody."""
    for key in keys:
        name, address = _person(said.get(key))
        if name:
            return name, address
    return "", ""


def _person(value: Any) -> tuple[str, str]:
    if isinstance(value, list) and len(value) == 1:
        value = value[0]
    if isinstance(value, dict):
        inner = plain_keys(value)
        first, last = inner.get("firstname"), inner.get("lastname")
        whole = " ".join(part for part in (first, last) if isinstance(part, str) and part)
        name = next((n for key in NAMES if (n := _scalar(inner.get(key)))), "")
        address = next((str(inner[k]) for k in ADDRESSES if _is_address(inner.get(k))), "")
        return (whole or name), address
    name = _scalar(value)
    if address := address_in(name):
        shown = re.sub(r"<[^<>]*>", "", name).strip(" \"'")
        return shown or address, address
    return name, name if number_in(name) else ""


def _scalar(value: Any) -> str:
    if isinstance(value, str):
        return value[:_LONGEST_NAME].strip()
    return str(value)[:_LONGEST_NAME] if isinstance(value, int) and not isinstance(value, bool) else ""


def _is_address(value: Any) -> bool:
    return isinstance(value, str) and len(value) < _LONGEST_NAME and bool(address_in(value) or number_in(value))


def _talk(said: Mapping[str, Any]) -> str:
    for key in TALKS:
        value = said.get(key)
        if isinstance(value, dict):
            inner = plain_keys(value)
            value = next((inner[k] for k in ("id", "name", "title") if inner.get(k)), None)
        if name := _scalar(value):
            return name
    return ""


def _when(said: Mapping[str, Any], zone: ZoneInfo) -> datetime | None:
    day, clock = said.get("date"), said.get("time")
    if isinstance(day, str) and isinstance(clock, str) and _DAY.fullmatch(day) and _CLOCK.fullmatch(clock):
        return times.of_any(f"{day} {clock:0>5}" if clock.count(":") == 1 else f"{day} {clock:0>8}", zone)
    return next((at for key in TIMES if key in said and (at := times.of_any(said[key], zone))), None)


def _words(value: Any, depth: int = 0) -> str:
    """A text given whole, in parts, or wrapped in an object."""
    if isinstance(value, str):
        return value
    if depth > _DEEPEST:
        return ""
    if isinstance(value, dict):
        inner = plain_keys(value)
        keys = (*TEXTS, "value", "parts", "en")
        return next((words for key in keys if (words := _words(inner.get(key), depth + 1)).strip()), "")
    if not isinstance(value, list):
        return ""
    parts = [words for part in value if (words := _words(part, depth + 1))]
    # Runs of one text carry their own spaces or mix bare texts with objects; paragraphs do neither.
    runs = any(part != part.strip() for part in parts) or len({type(part) for part in value}) > 1
    return ("" if runs else "\n").join(parts)


def _file_names(values: Iterable[Any]) -> Iterable[str]:
    """The last part of every file name or address among `values`, at most 50 of them."""
    rest, found = list(values), 0
    while rest and found < 50:
        value = rest.pop(0)
        if isinstance(value, dict):
            keys = ("filename", "name", "uri", "url", "path", "file")
            inner = plain_keys(value)
            rest.extend(inner[k] for k in keys if isinstance(inner.get(k), str) and inner[k][:1])
        elif isinstance(value, list):
            rest.extend(value[:50])
        elif isinstance(value, str) and re.search(r"\.\w{2,5}(?:\?|$)", value):
            found += 1
            yield one_line(re.split(r"[/\\]", value.partition("?")[0])[-1])


def _stand_in(media: Mapping[str, Any]) -> str:
    told = str(media)[:2000]
    other = _KIND.search(told)
    if other and not _PHOTO.search(told):
        return "[video]" if other[0].lower() in ("video", ".mp4", ".mov") else "[voice message]"
    plain_file = not _PHOTO.search(told) and any(key.startswith(("file", "document")) for key in media)
    return "[file]" if plain_file else "[photo]"
