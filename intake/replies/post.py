"""Handing a mail to a server (SMTP, RFC 5321) over an encrypted line (RFC 3207, RFC 8314). The one edge that sends.

What comes of it is a value that keeps apart what the baker must know: the server has it; the server said no, and to
what; it never left; or the line was cut after the text had begun to leave, and nobody here can know.
"""

from __future__ import annotations

import re
import smtplib
import socket
import ssl
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from threading import Timer

from intake.clean import clean
from intake.model import Fate, OrdertinError
from intake.replies.sending import Mail

STARTTLS, IMPLICIT, OPEN = "starttls", "implicit", "none"
PORTS = {STARTTLS: 587, IMPLICIT: 465, OPEN: 25}

_NOTHING_LEFT = "It has not gone; the answer is kept in the outbox"


@dataclass(frozen=True, slots=True)
class Server:
    """Where mail is handed in. `security` is `implicit` (encrypted from the first byte), `starttls`, or `none`, with
    which no password goes over the line. `seconds` is the longest wait for one answer, `whole` for all of it."""

    host: str
    port: int = 0
    security: str = IMPLICIT
    user: str = ""
    seconds: float = 30.0
    whole: float = 180.0


@dataclass(frozen=True, slots=True)
class Outcome:
    """`state` is accepted, refused, unreached or unknown; `what` happened and what is `todo`, for the baker."""

    state: Fate
    what: str
    todo: str = ""


class _Failed(Exception):
    def __init__(self, state: Fate, what: str, todo: str = "") -> None:
        super().__init__(what)
        self.outcome = Outcome(state, what, todo)


def post(mail: Mail, server: Server, password: str, *, leaving: Callable[[], None]) -> Outcome:
    """Hands `mail` to `server`. `leaving` is called once, when the server is ready for the text and before any of it
    leaves; where it raises, nothing leaves and the error goes on."""
    try:
        with _line(server, password) as smtp:
            _answered(smtp.mail(mail.sender), (250,), f"your address, {mail.sender}", "Look at `address` in [mail]")
            _answered(smtp.rcpt(mail.to), (250, 251), f"the recipient, {mail.to}", "Ask the customer for her address")
            _answered(smtp.docmd("DATA"), (354,), "the mail", "")
            leaving()
            return _hand_over(smtp, mail)
    except _Failed as failed:
        return failed.outcome


def try_login(server: Server, password: str) -> Outcome:
    """Reaches the server and logs in, and sends nothing."""
    try:
        with _line(server, password):
            return Outcome(Fate.ACCEPTED, f"{server.host} can be reached, and takes your login")
    except _Failed as failed:
        return failed.outcome


def _hand_over(smtp: smtplib.SMTP, mail: Mail) -> Outcome:
    """The text itself. A line that is cut from here on leaves it unknown whether the server took it."""
    data = re.sub(rb"(?m)^\.", b"..", mail.data)
    try:
        smtp.send(data + (b"" if data.endswith(b"\r\n") else b"\r\n") + b".\r\n")
        code, said = smtp.getreply()
    except (OSError, smtplib.SMTPException, ValueError, AttributeError) as error:
        silent = isinstance(_cause(error), TimeoutError)
        return _in_doubt("the server fell silent" if silent else "the line was cut")
    if code == 250:
        with suppress(OSError, smtplib.SMTPException, ValueError, AttributeError):
            smtp.quit()
        return Outcome(Fate.ACCEPTED, f"the server has taken it for {mail.to}")
    if not 400 <= code < 600:
        return _in_doubt("the server answered something strange")
    return _refusal(code, said, "the mail", "").outcome


def _in_doubt(what: str) -> Outcome:
    todo = "Look among the sent mails of your account, or ask the customer, before you send it again"
    return Outcome(Fate.UNKNOWN, f"{what} before it was said whether the mail has arrived there", todo)


def _answered(answer: tuple[int, bytes], wanted: tuple[int, ...], what: str, todo: str) -> None:
    """Raises _Failed where an answer is none of those wanted."""
    code, said = answer
    if code not in wanted:
        raise _refusal(code, said, what, todo)


def _refusal(code: int, said: bytes, what: str, todo: str) -> _Failed:
    """What the server did not take, by its own words: with a code below 500 it may take it in an hour."""
    if code < 0:
        return _Failed(Fate.UNREACHED, "the line was cut", f"{_NOTHING_LEFT}: try again")
    words = " ".join(clean(said.decode("utf-8", "replace")).split())[:160]
    told = f"({code} {words})" if words else f"({code})"
    if code < 500:
        return _Failed(Fate.REFUSED, f"the server does not take {what} just now {told}", f"{_NOTHING_LEFT}: try later")
    return _Failed(Fate.REFUSED, f"the server refuses {what} {told}", todo or _NOTHING_LEFT)


@contextmanager
def _line(server: Server, password: str) -> Iterator[smtplib.SMTP]:
    """A line to the server, encrypted and logged in. It is cut when `whole` seconds are over, whatever is going on."""
    if server.user and server.security == OPEN:
        what = "a password never goes over a line that is not encrypted"
        raise _Failed(Fate.UNREACHED, what, "Set `security` in [mail] to implicit or starttls")
    context = ssl.create_default_context()
    smtp: smtplib.SMTP
    if server.security == IMPLICIT:
        smtp = smtplib.SMTP_SSL(timeout=server.seconds, context=context, local_hostname="[127.0.0.1]")
    else:
        smtp = smtplib.SMTP(timeout=server.seconds, local_hostname="[127.0.0.1]")
    smtp._host = server.host  # type: ignore[attr-defined]  # the name that the certificate is checked against
    timer = Timer(server.whole, _cut, [smtp])
    timer.daemon = True
    timer.start()
    try:
        _reach(smtp, server, context)
        if server.user:
            _login(smtp, server, password)
        yield smtp
    except (_Failed, OrdertinError):
        raise
    except (OSError, smtplib.SMTPException, ValueError, AttributeError) as error:
        raise _unreached(error, server) from None
    finally:
        timer.cancel()
        smtp.close()


def _reach(smtp: smtplib.SMTP, server: Server, context: ssl.SSLContext) -> None:
    _answered(smtp.connect(server.host, server.port or PORTS[server.security]), (220,), "the call", "")
    _answered(smtp.ehlo(), (250,), "the call", "")
    if server.security != STARTTLS:
        return
    if not smtp.has_extn("starttls"):
        what = f"{server.host} does not offer an encrypted line"
        raise _Failed(Fate.UNREACHED, what, f"{_NOTHING_LEFT}. Look at `port` and `security` in [mail]")
    _answered(smtp.starttls(context=context), (220,), "an encrypted line", "")
    _answered(smtp.ehlo(), (250,), "the call", "")


def _login(smtp: smtplib.SMTP, server: Server, password: str) -> None:
    """One try, by one way: a wrong password that is tried by several may lock the account."""
    offered = smtp.esmtp_features.get("auth", "").upper().split()
    ways = {"PLAIN": smtp.auth_plain, "LOGIN": smtp.auth_login, "CRAM-MD5": smtp.auth_cram_md5}
    way = next((way for way in ways if way in offered), "")
    if not way:
        what = f"{server.host} offers no login by password"
        raise _Failed(Fate.UNREACHED, what, "Ask your mail provider how to log in")
    smtp.user, smtp.password = server.user, password
    try:
        smtp.auth(way, ways[way])  # type: ignore[arg-type]
    except smtplib.SMTPAuthenticationError as error:
        said = error.smtp_error if isinstance(error.smtp_error, bytes) else str(error.smtp_error).encode()
        todo = "Give the password anew: ordertin outbox --password"
        raise _refusal(error.smtp_code, said, f"the login of {server.user}", todo) from None
    except UnicodeEncodeError:
        raise _Failed(
            Fate.UNREACHED, "the password or the user has letters that this login can't carry", "Use another password"
        ) from None


def _unreached(error: Exception, server: Server) -> _Failed:
    """Why the server was not reached, or fell silent before anything was handed over."""
    port = server.port or PORTS[server.security]
    where = f"{server.host}, port {port}"
    error = _cause(error)
    match error:
        case ssl.SSLCertVerificationError():
            what = f"{where} can't show that it is {server.host}: {error.verify_message}"
            todo = f"{_NOTHING_LEFT}. Check `server` in [mail]; on a strange network, wait"
        case ssl.SSLError():
            what, todo = f"{where} speaks no such encryption", "Try the other `security` in [mail], or another `port`"
        case socket.gaierror():
            what, todo = f"no server is called {server.host}", "Check `server` in [mail], and whether you are online"
        case ConnectionRefusedError():
            what, todo = f"nobody answers at {where}", "Check `server` and `port` in [mail]"
        case TimeoutError():
            what, todo = f"{where} does not answer", f"{_NOTHING_LEFT}: try again later"
        case _:
            what, todo = f"the line to {where} was cut", f"{_NOTHING_LEFT}: try again"
    return _Failed(Fate.UNREACHED, what, todo)


def _cause(error: Exception) -> Exception:
    """What is behind an error of the library: it calls a line closed on which the server fell silent."""
    behind = error.__context__
    return behind if isinstance(error, smtplib.SMTPServerDisconnected) and isinstance(behind, TimeoutError) else error


def _cut(smtp: smtplib.SMTP) -> None:
    """Ends a line from another thread, so that what waits on it gives up."""
    if smtp.sock is not None:
        with suppress(OSError):
            socket.socket.shutdown(smtp.sock, socket.SHUT_RDWR)
