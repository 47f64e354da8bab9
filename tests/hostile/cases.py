"""What a hostile customer may write, each as a few words to stand in a message, a name, a subject or a lettering.

`{MARK}` stands in each, so that what comes out can be put down to its case.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

ZONE = ZoneInfo("America/Chicago")
NOW = datetime(2026, 11, 25, 10, 0, tzinfo=ZONE)

CASES: dict[str, str] = {
    "a title by OSC": "\x1b]0;{MARK} taken\x07",
    "the clipboard by OSC 52": "\x1b]52;c;{MARK}cm0gLXJm\x07",
    "a link by OSC 8": "\x1b]8;;file:///etc/passwd\x1b\\{MARK}\x1b]8;;\x1b\\",
    "an unended OSC": "{MARK}\x1b]0;evil",
    "colours and a cleared screen": "\x1b[31m{MARK}\x1b[2J\x1b[H",
    "C1 controls": "\x9b2J{MARK}\x9d0;x\x9c\x90q\x9c",
    "a lone escape": "{MARK}\x1b",
    "backspaces and a bell": "{MARK}\b\b\b\x07\x0c\x0b",
    "a carriage return": "36 {MARK}\r99 dozen",
    "NULs": "{MARK}\x00\x00quit",
    "bidi overrides": "\u202e{MARK}\u202c \u2067x\u2069 \u200f",
    "zero width and joiners": "\u200b{MARK}\u2060\u00ad\ufeff",
    "half a character": "{MARK}\ud83c",
    "markup": "[bold red on blue]{MARK}[/] [/] [/bold",
    "a click": "[@click=app.quit()]{MARK}[/] [@click='app.bell']x[/]",
    "a link in markup": "[link='file:///etc/passwd']{MARK}[/link]",
    "a formula": "=HYPERLINK(\"http://x\",\"{MARK}\")",
    "a formula with a plus": "+1+cmd|' /C calc'!{MARK}",
    "a formula with a tab": "\t=1+1{MARK}",
    "a full-width formula": "＝1＋1{MARK}",
    "a head in the subject": "{MARK}\r\nBcc: all@example.org\r\n\r\nfree cookies",
    "a head by line separators": "{MARK}\u2028Bcc: all@example.org\u0085X-Evil: 1",
    "an encoded word": "=?utf-8?b?Cg0KQmNjOiBhbGxAZXhhbXBsZS5vcmc=?= {MARK}",
    "Jinja": "{{ 7191 * 7 }} {% for x in range(9) %}{MARK}{% endfor %} {{ self.__class__ }}",
    "format strings": "{0} {name!r} %s %n {MARK} ${HOME} $(id)",
    "a path": "../../../../tmp/{MARK}.toml",
    "an absolute path": "/etc/cron.d/{MARK}",
    "a calendar line": "{MARK}\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:evil",
    "a calendar value": "{MARK};VALUE=URI:x,\\n\\;ATTACH:file:///etc/passwd",
    "SQL": "'); DROP TABLE orders; --{MARK}",
    "words for the index": "\"{MARK}\" OR NEAR(* ^ AND",
    "PDF operators": "{MARK}) Tj ET /OpenAction << /S /JavaScript /JS (app.alert(1)) >> (",
    "HTML": "<script>{MARK}</script><img src=x onerror=alert(1)><!--",
    "a fork in the shell": ":(){ :|:& };: `{MARK}`",
    "regex bait": "{MARK}" + "a" * 200 + "!" * 200 + " 2 2 2 2 dozen dozen of of of",
    "long without a space": "{MARK}" + "w" * 3_000,
    "combining marks": "{MARK}" + "e\u0301\u0302\u0303" * 150,
}  # fmt: skip


def mark(number: int) -> str:
    return f"zq{number:03}k"


def payload(case: str) -> str:
    """The words of one case, with its own mark."""
    return CASES[case].replace("{MARK}", mark(list(CASES).index(case)))


def message(case: str) -> str:
    """An order with the words of a case wherever a customer's own words end up."""
    said = payload(case)
    return (
        f'Hi! 2 dozen unicorn cookies please, pickup on December 12 at 2pm. They should say "{said}". '
        f"No nuts please.\n\nMy theme is {said} and I paid the deposit.\n\nThanks,\nDana"
    )


def sender(case: str) -> str:
    """A name of one line with the words of a case in it."""
    return f"Dana {payload(case)[:60]}".replace("\r", " ").replace("\n", " ")


def at(number: int) -> datetime:
    return NOW - timedelta(days=2) + timedelta(minutes=7 * number)
