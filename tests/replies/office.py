"""A real mail server on loopback, with TLS and a login, that can also refuse, keep silent and cut the line."""

from __future__ import annotations

import asyncio
import logging
import ssl
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from email import message_from_bytes, policy
from email.message import EmailMessage
from pathlib import Path
from threading import Thread
from typing import Any

import trustme
from aiosmtpd.smtp import SMTP, AuthResult, Envelope, LoginPassword, Session

# The server says at every login that its interface will change.
logging.getLogger("mail.log").setLevel(logging.ERROR)

USER, PASSWORD = "nell", "oven-glove-7"


@dataclass
class PostOffice:
    """What the server holds, and what it does wrong: `fault` is one of those below, `at` its port. `seen` is told
    how far a mail has come: sender, recipient, text, kept.

    recipient, later, sender, text, text later: refused. silent, cut: no answer once the text is there, which it keeps.
    dropped: the line is cut once the text is there, which it does not keep. cut before: the line is cut at RCPT.
    strange: an answer that is none, with the text kept. Each answer to RCPT and to the text takes `delay` seconds.
    """

    fault: str = ""
    at: int = 0
    mails: list[bytes] = field(default_factory=list)
    envelopes: list[tuple[str, list[str]]] = field(default_factory=list)
    logins: int = 0
    delay: float = 0
    seen: Callable[[str], None] = lambda what: None

    def parsed(self) -> list[EmailMessage]:
        return [message_from_bytes(data, policy=policy.default) for data in self.mails]  # type: ignore[misc]

    # aiosmtpd calls these

    async def handle_MAIL(
        self, server: SMTP, session: Session, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        self.seen("sender")
        if self.fault == "sender":
            return "550 5.7.1 not your address"
        envelope.mail_from = address
        return "250 OK"

    async def handle_RCPT(
        self, server: SMTP, session: Session, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        self.seen("recipient")
        await asyncio.sleep(self.delay)
        match self.fault:
            case "recipient":
                return "550 5.1.1 no such mailbox"
            case "later":
                return "451 4.7.1 greylisted, come back"
            case "cut before":
                _abort(server)
        envelope.rcpt_tos.append(address)
        return "250 OK"

    async def handle_DATA(self, server: SMTP, session: Session, envelope: Envelope) -> str:
        self.seen("text")
        await asyncio.sleep(self.delay)
        if self.fault == "text":
            return "552 5.3.4 too large"
        if self.fault == "text later":
            return "452 4.3.1 no room"
        if self.fault == "dropped":
            _abort(server)
            return "250 OK"
        content = envelope.content
        assert isinstance(content, bytes)
        self.mails.append(content)
        self.envelopes.append((envelope.mail_from or "", list(envelope.rcpt_tos)))
        self.seen("kept")
        match self.fault:
            case "cut":
                _abort(server)
            case "silent":
                await asyncio.Event().wait()
            case "strange":
                return "hello there"
        return "250 2.0.0 kept"

    def login(self, server: SMTP, session: Session, envelope: Envelope, mechanism: str, data: Any) -> AuthResult:
        self.logins += 1
        right = isinstance(data, LoginPassword) and data == LoginPassword(USER.encode(), PASSWORD.encode())
        return AuthResult(success=right, handled=False)


def _abort(server: SMTP) -> None:
    assert server.transport is not None
    server.transport.abort()


@dataclass(frozen=True)
class Papers:
    """A certificate for this machine's loopback, and the file of who signed it."""

    server: ssl.SSLContext
    authority: Path


def papers(folder: Path) -> Papers:
    authority = trustme.CA()
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    authority.issue_cert("localhost", "127.0.0.1").configure_cert(context)
    path = folder / "authority.pem"
    authority.cert_pem.write_to_path(str(path))
    return Papers(context, path)


@contextmanager
def post_office(
    fault: str = "", *, security: str = "starttls", certificate: ssl.SSLContext, delay: float = 0
) -> Iterator[PostOffice]:
    """The server while it is open. `security` is starttls, implicit or none; with the first two it knows logins."""
    office = PostOffice(fault, delay=delay)
    match security:
        case "starttls":
            options: dict[str, Any] = {
                "tls_context": certificate,
                "require_starttls": True,
                "authenticator": office.login,
                "auth_required": True,
            }
        case "implicit":
            # The line is encrypted below the server, which does not know it and offers a login all the same.
            options = {"authenticator": office.login, "auth_require_tls": False}
        case _:
            options = {}
    loop = asyncio.new_event_loop()
    implicit = certificate if security == "implicit" else None
    opening = loop.create_server(lambda: SMTP(office, loop=loop, **options), "127.0.0.1", 0, ssl=implicit)
    server = loop.run_until_complete(opening)
    office.at = server.sockets[0].getsockname()[1]
    thread = Thread(target=loop.run_forever)
    thread.start()
    try:
        yield office
    finally:
        asyncio.run_coroutine_threadsafe(_close(server), loop).result()
        loop.call_soon_threadsafe(loop.stop)
        thread.join()
        loop.close()


async def _close(server: asyncio.Server) -> None:
    server.close()
    others = asyncio.all_tasks() - {asyncio.current_task()}
    for task in others:
        task.cancel()
    await asyncio.gather(*others, return_exceptions=True)
