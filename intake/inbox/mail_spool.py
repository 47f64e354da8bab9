"""Mails set down in a passing file while a mailbox is walked, and given back a conversation at a time: a mailbox of ten
years need not fit in memory."""

from __future__ import annotations

import marshal
import tempfile
import weakref
from collections.abc import Callable, Sequence
from datetime import datetime
from typing import overload
from zoneinfo import ZoneInfo

from intake.inbox.mail import Mail
from intake.inbox.mail_threads import MailGroups, thread_of_mails
from intake.model import Message, Thread

_IN_MEMORY = 16 * 1024 * 1024


class MailSpool:
    """Add mails, then ask for their `groups` and each one's thread. Raises OSError where the file can't be written."""

    def __init__(self, zone: ZoneInfo) -> None:
        self._zone = zone
        self._file = tempfile.SpooledTemporaryFile(_IN_MEMORY)  # noqa: SIM115 closed when the last reader is gone
        weakref.finalize(self, self._file.close)
        self._places: list[int] = []
        self._end = 0
        self._groups = MailGroups()

    def __len__(self) -> int:
        return len(self._places)

    def add(self, mail: Mail) -> None:
        self._groups.add(mail)
        m = mail.message
        told = (
            (m.id, m.sender, m.mine, m.at.timestamp(), m.text, m.raw, m.address, m.attachments, m.answers),
            (mail.message_id, mail.references[:1], mail.subject, mail.party),
        )
        data = marshal.dumps(told)
        self._places.append(self._end)
        self._file.write(len(data).to_bytes(8, "little") + data)
        self._end += 8 + len(data)

    def groups(self) -> list[list[int]]:
        """The conversations by their first mail, each as the numbers of its mails in the order of time."""
        return self._groups.groups()

    def thread(self, group: Sequence[int]) -> Thread:
        """One of the `groups` as a conversation."""
        return thread_of_mails([self.mail(number) for number in group])

    def mail(self, index: int) -> Mail:
        """The mail that was added as number `index`, from 0; of its references only the oldest is kept."""
        self._file.seek(self._places[index])
        size = int.from_bytes(self._file.read(8), "little")
        (key, sender, mine, at, text, raw, address, names, answers), rest = marshal.loads(self._file.read(size))
        moment = datetime.fromtimestamp(at, self._zone)
        return Mail(Message(key, sender, mine, moment, text, raw, address, names, rest[0], answers), *rest)

    def moment(self, index: int) -> float:
        return self._groups.moment(index)


class LazyThreads(Sequence[Thread]):
    """`count` conversations that are put together by `get` each time one is asked for."""

    def __init__(self, count: int, get: Callable[[int], Thread]) -> None:
        self._all, self._get = range(count), get

    def __len__(self) -> int:
        return len(self._all)

    @overload
    def __getitem__(self, index: int) -> Thread: ...
    @overload
    def __getitem__(self, index: slice) -> Sequence[Thread]: ...
    def __getitem__(self, index: int | slice) -> Thread | Sequence[Thread]:
        found = self._all[index]
        return self._get(found) if isinstance(found, int) else [self._get(each) for each in found]
