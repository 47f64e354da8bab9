"""The house of these tests: Nell bakes in Chicago, and it is March 2026."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from intake.inbox.baker import Baker
from intake.inbox.mail import Mail, mail_of
from intake.inbox.open_export import Export, open_export

ZONE = ZoneInfo("America/Chicago")
NOW = datetime(2026, 3, 20, 12, 0, tzinfo=ZONE)
NELL = ("Nell", "nell@example.org", "+1 312 555 0100")


def read_mail(data: bytes, senders: Sequence[str] = NELL) -> Mail:
    return mail_of(data, baker=Baker.of(senders), zone=ZONE, where="a mail", before=NOW, latest=NOW)


@pytest.fixture
def take(tmp_path: Path) -> Callable[..., Export]:
    """Writes the given text or bytes to a file and opens it as an export."""

    def taken(content: str | bytes, senders: Sequence[str] = NELL, name: str = "export") -> Export:
        path = tmp_path / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return open_export(path, senders=senders, zone=ZONE, now=NOW)

    return taken
