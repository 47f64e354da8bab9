"""An export of any kind that the program reads, as threads: one file, a folder of them, or a zip archive."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import BinaryIO
from zoneinfo import ZoneInfo

from intake.inbox import kinds, mbox
from intake.inbox.baker import Baker, folded
from intake.inbox.chat_files import LARGEST_TEXT, Habits, conversations_of
from intake.inbox.keys import one_line
from intake.inbox.mail import Mail, mail_of
from intake.inbox.mail_spool import LazyThreads, MailSpool
from intake.inbox.sources import Source, sources_of, unreadable
from intake.inbox.talks import NAMELESS, Talk, repaired, threads_of_talks
from intake.model import OrdertinError, Problem, Thread

MOST_PROBLEMS = 200
# A mailbox of more conversations than this is put together piece by piece, each time it is gone through.
MOST_AT_ONCE = 2_000
_TOLD_EVERY = 256


@dataclass(frozen=True, slots=True)
class Export:
    """What an export holds. `parties` are the names of all senders, the most frequent first.

    `unknown` names who may be the baker, the likeliest first, where nobody in the export is known to be her. `latest`
    gives for each thread when its last message was written, in seconds since 1970 UTC.
    """

    threads: Sequence[Thread]
    problems: tuple[Problem, ...] = ()
    parties: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    latest: Sequence[float] = field(default=(), repr=False)


def open_export(
    path: Path,
    *,
    senders: Sequence[str],
    zone: ZoneInfo,
    now: datetime | None = None,
    habits: Habits | None = None,
    told: Callable[[int], None] | None = None,
) -> Export:
    """The threads in `path`: those of mails, then those of chats, each with the oldest first message first.

    `senders` are the baker's own names, addresses and numbers. `now` (aware; else the time each file was saved) is
    what far-future dates are judged by. `told` is called now and then with the number of files and mails read.
    Raises OrdertinError where the file can't be read or is of no kind known.
    """
    gathered = _Gathered(Baker.of(senders), zone, now, habits or Habits(), told or (lambda count: None))
    alone = not _is_folder(path)
    refused: list[Problem] = []
    try:
        with closing(sources_of(path, zone)) as sources:
            for source in sources:
                if isinstance(source, Problem):
                    if not kinds.lies_beside(source.where):
                        gathered.problems.add(source)
                    refused.append(source)
                else:
                    gathered.take(source, alone=alone and not source.inside)
        if refused and not gathered.count:
            raise OrdertinError(refused[0].what, where=refused[0].where, todo=refused[0].todo)
        return gathered.export(path)
    except OSError as error:
        raise unreadable(str(path), error) from None
    except MemoryError:
        raise OrdertinError(
            "this file is too large for this machine's memory", where=path.name, todo="Export a shorter time"
        ) from None


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False


class _Problems:
    """The first MOST_PROBLEMS problems, and how many more there were."""

    def __init__(self) -> None:
        self._first: list[Problem] = []
        self._more = 0

    def __len__(self) -> int:
        return len(self._first)

    def add(self, *problems: Problem) -> None:
        room = MOST_PROBLEMS - len(self._first)
        self._first.extend(problems[:room])
        self._more += len(problems[room:])

    def all(self, where: str) -> tuple[Problem, ...]:
        if not self._more:
            return tuple(self._first)
        more = f"{self._more:,} more problem{'s' if self._more > 1 else ''} of the kinds above"
        return (*self._first, Problem(where, more))


class _Gathered:
    """What has been read so far of one export."""

    def __init__(
        self, baker: Baker, zone: ZoneInfo, now: datetime | None, habits: Habits, told: Callable[[int], None]
    ) -> None:
        self.baker, self.zone, self.now, self.habits, self.told = baker, zone, now, habits, told
        self.problems = _Problems()
        self.mails = MailSpool(zone)
        self.talks: list[Talk] = []
        self.threads: list[Thread] = []
        self.latest: datetime | None = now
        self.count = 0
        self.senders: Counter[str] = Counter()
        self.wrote: Counter[tuple[str, str]] = Counter()
        self.got: Counter[tuple[str, str]] = Counter()
        self.hers = False

    def take(self, source: Source, *, alone: bool) -> None:
        """Reads one file. Raises OrdertinError where it is all there is and can't be read."""
        latest = self.now or source.saved
        self.latest = max(self.latest or latest, latest)
        try:
            with source.open() as file:
                self._file(file, source, latest)
        except OSError as error:
            if alone:
                raise
            self.problems.add(unreadable(source.name, error).problem)
        except OrdertinError as error:
            if alone:
                raise
            # Photos and the like lie beside the messages of an export; they are no loss.
            if not kinds.lies_beside(source.name):
                self.problems.add(error.problem)
        self._tell()

    def _file(self, file: BinaryIO, source: Source, latest: datetime) -> None:
        kind = kinds.kind_of(file.read(kinds.HEAD))
        file.seek(0)
        if isinstance(kind, kinds.Other):
            raise OrdertinError(kind.what, where=source.name, todo=kind.todo)
        if kind == "mailbox":
            for mail in _mailbox(file, source.name, self.baker, self.zone, latest):
                self._add(mail)
        elif kind == "mail":
            self._add(_one_mail(file.read(mbox.LONGEST_MAIL), source.name, self.baker, self.zone, latest))
        else:
            data = file.read(LARGEST_TEXT + 1)
            found = conversations_of(kind, data, source.name, source.size, self.zone, latest, self.habits)
            self.talks += [replace(talk, where=source.name) for talk in found.talks]
            self.threads += found.threads
            self.problems.add(*found.problems)

    def _add(self, mail: Mail) -> None:
        self.problems.add(*mail.problems)
        self.hers = self.hers or mail.hers
        if not self.hers:
            self.wrote[mail.people[0]] += 1
            self.got.update(dict.fromkeys(mail.people[1:], 1))
        if mail.message.sender:
            self.senders[mail.message.sender] += 1
        self.mails.add(mail)
        self._tell()

    def _tell(self) -> None:
        self.count += 1
        if self.count % _TOLD_EVERY == 0:
            self.told(self.count)

    def export(self, path: Path) -> Export:
        """All of it put together. What several files tell of one conversation is one thread."""
        chats = self.threads
        if self.talks and self.latest:
            talked, missed = threads_of_talks(self.talks, baker=self.baker, latest=self.latest)
            self.problems.add(*missed)
            chats = sorted([*talked, *chats], key=lambda t: t.messages[0].at) if chats else talked
        for thread in chats:
            self.senders.update(m.sender for m in thread.messages if m.sender not in ("", NAMELESS))
        mails, groups = self.mails, self.mails.groups()
        where = path.name or str(path)
        unknown = self._unknown(any(message.mine for thread in chats for message in thread.messages))
        problems = self.problems.all(where)
        if unknown:
            names = ", ".join(unknown[:4]) + (", ..." if len(unknown) > 4 else "")
            todo = "Take it again with --mine NAME, or put your name into `senders` of the house rules"
            problems = (Problem(where, f"none of the senders is known to be you: {names}", todo), *problems)
        parties = tuple(name for name, _ in self.senders.most_common())
        moments = [mails.moment(group[-1]) for group in groups]
        moments += [thread.messages[-1].at.timestamp() for thread in chats]

        def nth(number: int) -> Thread:
            return mails.thread(groups[number]) if number < len(groups) else chats[number - len(groups)]

        threads: Sequence[Thread] = LazyThreads(len(groups) + len(chats), nth)
        threads = threads if len(groups) > MOST_AT_ONCE else tuple(threads)
        return Export(threads, problems, parties, unknown, moments)

    def _unknown(self, seen: bool) -> tuple[str, ...]:
        """Who may be the baker, the one in most conversations first; nobody where it doesn't matter, since she is known
        or only customers write."""
        if self.hers or seen:
            return ()
        asked = Counter(_both(self.wrote, self.got))
        pairs = False
        for talk in self.talks:
            talks: dict[str, dict[str, int]] = {}
            for entry in talk.entries:
                if entry.mine is None and entry.sender and entry.text:
                    talks.setdefault(entry.talk, {})[one_line(repaired(entry.sender))] = 1
            for names in talks.values():
                asked.update(names)
                pairs = pairs or len(names) > 1
        return tuple(name for name, _ in asked.most_common()) if pairs or len(asked) > 1 else ()


def _both(wrote: Counter[tuple[str, str]], got: Counter[tuple[str, str]]) -> dict[str, int]:
    """Who has written mails and got some from others, with how many in all, by what they are called."""
    counts: list[Counter[str]] = []
    called: dict[str, str] = {}
    for people in (wrote, got):
        counts.append(Counter())
        for (name, address), count in people.items():
            key = address or folded(name)
            counts[-1][key] += count
            called.setdefault(key, f"{name} <{address}>" if name and address else name or address)
    one, other = counts
    return {called[key]: one[key] + other[key] for key in one if key and key in other}


def _mailbox(
    file: BinaryIO, name: str, baker: Baker, zone: ZoneInfo, latest: datetime
) -> Iterator[Mail]:
    before = latest
    for piece in mbox.pieces(file):
        where = f"{name}, mail {piece.number}"
        mail = mail_of(
            piece.data, baker=baker, zone=zone, where=where, before=before, latest=latest, envelope=piece.date
        )
        before = mail.message.at
        if piece.cut:
            problem = Problem(where, "this mail is very large: only its first part was read")
            mail = replace(mail, problems=(problem, *mail.problems))
        yield mail


def _one_mail(data: bytes, name: str, baker: Baker, zone: ZoneInfo, latest: datetime) -> Mail:
    data = data.removeprefix(b"\xef\xbb\xbf").lstrip(b" \t\r\n")
    if data.startswith((b"From ", b">From ")):
        data = data.partition(b"\n")[2]
    return mail_of(data, baker=baker, zone=zone, where=name, before=latest, latest=latest)
