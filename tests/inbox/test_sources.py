"""Folders, Maildirs and zip archives: what is taken of them, and what is refused by name."""

from __future__ import annotations

import io
import json
import mailbox
import os
import struct
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from intake.inbox import open_export as opening
from intake.inbox import sources
from intake.inbox.open_export import Export, open_export
from intake.model import OrdertinError
from tests.inbox.conftest import NELL, NOW, ZONE

CHAT = [{"from": "Dana Reyes", "at": "2026-03-11T14:05:10", "text": "2 dozen please"}]


def mail(number: int, text: str = "2 dozen please") -> bytes:
    return (
        f"From: Dana Reyes <dana@example.com>\nTo: nell@example.org\nSubject: Order {number}\n"
        f"Date: Wed, 11 Mar 2026 14:05:1{number} -0500\nMessage-ID: <{number}@machine.example>\n\n{text}\n"
    ).encode()


def opened(path: Path) -> Export:
    return open_export(path, senders=NELL, zone=ZONE, now=NOW)


def archive(path: Path, parts: dict[str, bytes]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        for name, data in parts.items():
            part = zipfile.ZipInfo(name)
            part.compress_type = zipfile.ZIP_DEFLATED
            with file.open(part, "w") as inside:
                inside.write(data)
    return path


def texts(export: Export) -> list[str]:
    return [message.text for thread in export.threads for message in thread.messages]


def test_a_maildir_is_read_as_the_stdlib_reads_it(tmp_path: Path) -> None:
    box = mailbox.Maildir(tmp_path / "box")
    for number in range(5):
        box.add(mail(number))
    inner = box.add_folder("Spring")
    inner.add(mail(7, "in a folder"))
    (tmp_path / "box" / "tmp" / "half").write_bytes(mail(9)[:40])
    export = opened(tmp_path / "box")
    held = [item.get_payload().strip() for each in (box, inner) for item in each]
    assert sorted(texts(export)) == sorted(held)
    assert not export.problems


def test_a_folder_gives_all_its_files_and_names_what_it_cannot_read(tmp_path: Path) -> None:
    (tmp_path / "deep" / "er").mkdir(parents=True)
    (tmp_path / "a.json").write_text(json.dumps(CHAT))
    (tmp_path / "deep" / "one.eml").write_bytes(mail(1))
    (tmp_path / "deep" / "er" / "photo.jpg").write_bytes(b"\xff\xd8\xff\xe0")
    (tmp_path / "broken.json").write_text('[{"from"')
    (tmp_path / "nothing.txt").write_text("")
    archive(tmp_path / "more.zip", {"two.eml": mail(2)})
    (tmp_path / "round").symlink_to(tmp_path)
    export = opened(tmp_path)
    assert len(export.threads) == 3
    assert sorted(str(problem)[:60] for problem in export.problems) == [
        f"{tmp_path.name}/broken.json: this is not whole JSON"[:60],
        f"{tmp_path.name}/nothing.txt: this file is empty. Export it again"[:60],
    ]


def test_what_two_files_tell_of_one_conversation_is_one_thread(tmp_path: Path) -> None:
    later = [CHAT[0] | {"at": "2026-03-12T09:00:00", "text": "make it 3"}]
    path = archive(tmp_path / "chat.zip", {"1.json": json.dumps(CHAT).encode(), "2.json": json.dumps(later).encode()})
    (thread,) = opened(path).threads
    assert [message.text for message in thread.messages] == ["2 dozen please", "make it 3"]


@pytest.mark.parametrize(
    ("name", "data", "says"),
    [
        ("../out.json", json.dumps(CHAT).encode(), "its name points outside the archive"),
        ("a/../../out.json", json.dumps(CHAT).encode(), "its name points outside the archive"),
        ("/etc/out.json", json.dumps(CHAT).encode(), "its name points outside the archive"),
        ("C:\\out.json", json.dumps(CHAT).encode(), "its name points outside the archive"),
        ("", mail(2), "it has no name"),
        ("inner.zip", b"PK\x03\x04", "it is an archive inside an archive"),
        ("inner.bin", b"PK\x03\x04", "an archive inside an archive"),
        ("zeros.txt", b"0" * 50 * 1024**2, "it would unpack to 50 MB"),
    ],
    ids=["up", "up later", "root", "drive", "no name", "nested", "nested under another name", "growing"],
)
def test_parts_that_are_refused_by_name(name: str, data: bytes, says: str, tmp_path: Path) -> None:
    export = opened(archive(tmp_path / "x.zip", {"good.eml": mail(1), name: data}))
    assert texts(export) == ["2 dozen please"]
    (problem,) = export.problems
    assert says in problem.what
    assert problem.where.startswith("x.zip: ")
    assert not (tmp_path.parent / "out.json").exists()


def test_an_archive_that_lies_about_its_sizes(tmp_path: Path) -> None:
    path = archive(tmp_path / "x.zip", {"a.json": json.dumps(CHAT * 2000).encode(), "good.eml": mail(1)})
    data = bytearray(path.read_bytes())
    # The central directory says 10 bytes of a.json (APPNOTE 4.3.12: uncompressed size at 24).
    at = data.index(b"PK\x01\x02")
    data[at + 24 : at + 28] = struct.pack("<I", 10)
    path.write_bytes(data)
    export = opened(path)
    assert texts(export) == ["2 dozen please"]
    assert "damaged" in export.problems[0].what


def test_a_locked_part_and_an_archive_of_too_many_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = archive(tmp_path / "x.zip", {"a.eml": mail(1), "b.eml": mail(2)})
    data = bytearray(path.read_bytes())
    # Bit 0 of the flags: encrypted (APPNOTE 4.4.4).
    data[data.index(b"PK\x01\x02") + 8] |= 1
    path.write_bytes(data)
    export = opened(path)
    assert len(export.threads) == 1
    assert "locked with a password" in export.problems[0].what
    monkeypatch.setattr(sources, "MOST_FILES", 1)
    assert "only the first 1 files" in str(opened(_with_three(tmp_path)).problems)
    with pytest.raises(OrdertinError, match="in 3 files, and was not opened"):
        opened(archive(tmp_path / "y.zip", {f"{n}.eml": mail(n) for n in range(3)}))


def _with_three(folder: Path) -> Path:
    inside = folder / "three"
    inside.mkdir()
    for number in range(3):
        (inside / f"{number}.eml").write_bytes(mail(number))
    return inside


def test_an_archive_is_listed_once_however_many_parts_it_has(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = archive(tmp_path / "many.zip", {f"{n}.eml": mail(n) for n in range(9)})
    opened_archives: list[object] = []
    made = zipfile.ZipFile.__init__

    def counted(self: zipfile.ZipFile, *rest: Any, **named: Any) -> None:
        opened_archives.append(self)
        made(self, *rest, **named)

    monkeypatch.setattr(zipfile.ZipFile, "__init__", counted)
    assert len(texts(opened(path))) == 9
    assert len(opened_archives) == 1
    # Each part can still be read on its own later.
    parts = [each for each in sources.sources_of(path, ZONE) if isinstance(each, sources.Source)]
    with parts[3].open() as file:
        assert file.read() == mail(3)


@pytest.mark.parametrize("cut", [30, 200, 400])
def test_half_an_archive(cut: int, tmp_path: Path) -> None:
    data = archive(tmp_path / "x.zip", {f"{n}.eml": mail(n) for n in range(3)}).read_bytes()
    (tmp_path / "half.zip").write_bytes(data[:cut])
    with pytest.raises(OrdertinError, match=r"half\.zip: this archive is damaged"):
        opened(tmp_path / "half.zip")


def test_names_that_are_no_text_do_not_stop_a_folder(tmp_path: Path) -> None:
    odd = os.fsencode(tmp_path) + b"/\xff\x1b[31m.eml"
    with open(odd, "wb") as file:
        file.write(mail(1, "hello"))
    with open(os.fsencode(tmp_path) + b"/\xfe.json", "wb") as file:
        file.write(b"{")
    export = opened(tmp_path)
    assert texts(export) == ["hello"]
    (problem,) = export.problems
    str(problem).encode("utf-8")
    assert "\x1b" not in str(problem)


def test_standard_input_is_set_down_and_read(tmp_path: Path) -> None:
    path = sources.copied_in(io.BytesIO(mail(3, "from a pipe")))
    try:
        assert texts(opened(path)) == ["from a pipe"]
        assert path.stat().st_mode & 0o077 == 0
    finally:
        path.unlink()


def test_a_large_mailbox_is_put_together_piece_by_piece(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, take: Callable[..., Export]
) -> None:
    mails = b"\n".join(b"From dana@example.com Wed Mar 11 19:05:10 2026\n" + mail(n) for n in range(9))
    path = tmp_path / "box"
    path.write_bytes(mails)
    at_once = opened(path)
    monkeypatch.setattr(opening, "MOST_AT_ONCE", 3)
    pieces = opened(path)
    assert len(pieces.threads) == len(at_once.threads) == 9
    assert list(pieces.threads) == list(at_once.threads)
    assert list(pieces.threads[2:5]) == list(at_once.threads[2:5])
    assert pieces.threads[-1] == at_once.threads[-1]
    assert list(pieces.latest) == [thread.messages[-1].at.timestamp() for thread in pieces.threads]


@pytest.mark.parametrize(
    ("senders", "asked"),
    [((), ("nell@example.org", "Dana Reyes <dana@example.com>")), (("nell@example.org",), ()), (("Nobody",), None)],
    ids=["nobody is known", "the baker is known", "the baker is not in it"],
)
def test_who_may_be_the_baker(senders: tuple[str, ...], asked: tuple[str, ...] | None, tmp_path: Path) -> None:
    answer = mail(4).replace(b"To: nell@example.org\n", b"").replace(b"From: ", b"From: nell@example.org\nTo: ")
    mails = [mail(1), mail(2), mail(3).replace(b"Dana Reyes <dana@", b"<bea@"), answer]
    path = tmp_path / "box"
    path.write_bytes(b"\n".join(b"From dana@example.com Wed Mar 11 19:05:10 2026\n" + each for each in mails))
    export = open_export(path, senders=senders, zone=ZONE, now=NOW)
    if asked is None:
        asked = ("nell@example.org", "Dana Reyes <dana@example.com>")
    assert export.unknown[:2] == asked
    assert bool(export.unknown) == ("none of the senders" in str(export.problems))
