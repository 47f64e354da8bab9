"""What programs write where no words were: a photo left out, "edited", "deleted". English and Spanish."""

from __future__ import annotations

import re

from intake.inbox.keys import one_line

# Only texts with one of these are looked at more closely.
_HINT = re.compile(
    r"omit|attach|adjunt|delet|elimin|borra|edit|missed|perdid|protect|encrypt|\bcall\b|llamada|waiting", re.IGNORECASE
)
_NO_WORDS = re.compile(
    r"[<\[(]?(?:"
    r"(?:this|your) message (?:was|has been) (?:deleted|removed)|(?:you|\w{1,30}) deleted (?:this|a) message"
    r"|(?:message|mensaje) (?:deleted|removed|eliminado|borrado)|(?:deleted|removed) message"
    r"|(?:se )?(?:eliminó|borró|eliminaste|borraste) (?:este|un) mensaje"
    r"|este mensaje (?:fue|ha sido) (?:eliminado|borrado)"
    r"|(?:missed|declined|cancelled|unanswered) (?:group )?(?:voice |video |audio )?call(?: at [^\n]{1,20})?"
    r"|(?:outgoing|incoming) (?:voice |video )?call|(?:voice|video) call(?:, [^\n]{1,30}| \([^()\n]{1,30}\))?"
    r"|(?:video)?llamada(?: de (?:voz|video|grupo))? perdida|llamada de (?:voz|video)"
    r"|waiting for this message|messages (?:and calls )?are (?:protected|encrypted)[^\n]{0,300}"
    r"|los mensajes (?:y las llamadas )?están (?:protegidos|cifrados)[^\n]{0,300}"
    r")\.?[>\])]?",
    re.IGNORECASE,
)
_EDITED = re.compile(
    r"\s*(?:<(?:this message (?:was|has been) edited|edited|(?:se editó )?este mensaje(?: fue editado)?|"
    r"se editó este mensaje|editado)\.?>|[(\[](?:edited|editado)[)\]])\Z",
    re.IGNORECASE,
)
_KIND = (
    r"media|image|photo|picture|gif|sticker|video(?: note)?|audio|voice (?:message|note)|document|file|contact card|"
    r"multimedia|imagen|foto|nota de (?:voz|video)|mensaje de voz|documento|archivo|tarjeta de contacto"
)
_NAME = r"[^\s<>:/\\][^<>:/\\\n]{0,150}?\.\w{2,5}"
_MEDIA = re.compile(
    rf"[<\[](?:attached|attachment|adjunto|archivo adjunto): ?(?P<inside>[^<>\[\]\n]{{1,200}})[>\]]"
    rf"|^(?P<before>{_NAME}) ?\((?:file attached|attached|archivo adjunto|adjunto)\)"
    rf"|[<\[](?:{_KIND}) (?:omitted|omitid[oa])[>\]]"
    rf"|^(?:(?P<listed>{_NAME}) ?•[^\n]{{0,60}}?)?(?P<bare>{_KIND}) (?:omitted|omitid[oa])$",
    re.IGNORECASE | re.MULTILINE,
)
_STAND_INS = (
    ("[photo]", re.compile(r"\.(?:jpe?g|png|heic|webp|gif)\b", re.IGNORECASE)),
    ("[video]", re.compile(r"\.(?:mp4|mov|3gp|webm)\b", re.IGNORECASE)),
    ("[voice message]", re.compile(r"\.(?:opus|ogg|m4a|mp3|aac|amr|wav)\b", re.IGNORECASE)),
    ("[photo]", re.compile(r"photo|image|picture|gif|sticker|foto|imagen", re.IGNORECASE)),
    ("[voice message]", re.compile(r"audio|voice|voz", re.IGNORECASE)),
    ("[photo]", re.compile(r"\b(?:multi)?media\b", re.IGNORECASE)),
    ("[video]", re.compile(r"video", re.IGNORECASE)),
    ("[file]", re.compile(r"")),
)


def words_of(text: str) -> tuple[str, tuple[str, ...]]:
    """What was said in `text`, and the names of files sent with it. Where there are no words beside a photo or a
    file, "[photo]", "[video]", "[voice message]" or "[file]" stands for it; of a deleted message nothing is left."""
    text = text.strip()
    if not _HINT.search(text):
        return text, ()
    text = _EDITED.sub("", text)
    if _NO_WORDS.fullmatch(text):
        return "", ()
    notes = list(_MEDIA.finditer(text))
    if not notes:
        return text, ()
    told = [note["inside"] or note["before"] or note["listed"] or "" for note in notes]
    names = tuple(one_line(re.split(r"[/\\]", name)[-1]) for name in told if name)
    left = _MEDIA.sub("", text).strip()
    return left or stand_in(notes[0][0]), names


def stand_in(told: str) -> str:
    """What stands for a photo or a file that is `told` of by its kind or its name."""
    return next(words for words, sign in _STAND_INS if sign.search(told))
