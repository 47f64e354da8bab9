"""An answer sent by mail from the Counter: the last look, and what the baker is told of each thing that goes wrong."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from textual.widgets import Button, TextArea

from intake.desk import Desk
from intake.home import Home
from intake.model import Fate
from tests.replies.office import PASSWORD, USER, PostOffice, papers, post_office
from tui.ask import Ask
from tui.last_look import LastLook
from tui.reply_sheet import ReplySheet

from .conftest import NOW, SIZES, SMALL, Opened, click, counter, press, settle
from .seen import notice, screen_text, text_of

MAIL = (
    "From: Dana Whitlock <dana@example.org>\r\nTo: nell@example.com\r\nSubject: Unicorns\r\n"
    "Message-ID: <1@example.org>\r\nDate: Mon, 23 Nov 2026 10:00:00 -0600\r\n\r\n"
    "2 dozen unicorn cookies please, pickup on Saturday, December 12 at 2pm.\r\n"
)


@pytest.fixture
def office(home: Home, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[PostOffice]:
    signed = papers(tmp_path)
    monkeypatch.setenv("SSL_CERT_FILE", str(signed.authority))
    monkeypatch.setenv("ORDERTIN_MAIL_PASSWORD", PASSWORD)
    with post_office(certificate=signed.server) as office:
        start, _, rest = home.rules.read_text(encoding="utf-8").partition("[mail]")
        account = f'server = "127.0.0.1"\nsecurity = "starttls"\nport = {office.at}\nuser = "{USER}"\n'
        own = f'[mail]\n{account}address = "nell@example.com"\nfrom_name = "Nell"\n\n'
        home.rules.write_text(start + own + rest[rest.index("[parcels]") :], encoding="utf-8")
        yield office


@pytest.fixture
def desk(office: PostOffice, home: Home, tmp_path: Path) -> Iterator[Desk]:
    """A desk with an account, and a mail from Dana."""
    (tmp_path / "dana.eml").write_text(MAIL, newline="")
    with Desk(home, now=lambda: NOW) as desk:
        desk.take([tmp_path / "dana.eml"])
        yield desk


@SIZES
async def test_an_answer_is_looked_over_and_sent(
    opened: Opened, desk: Desk, office: PostOffice, size: tuple[int, int]
) -> None:
    async with opened(size) as pilot:
        await press(pilot, "f3", "f7", "f5")
        assert isinstance(pilot.app.screen, LastLook)
        text = text_of(pilot.app.screen)
        for words in ("Nell <nell@example.com>", "dana@example.org", "Re: Unicorns", "Hi Dana,"):
            assert words in text
        assert "can't be called back" in screen_text(pilot.app)
        assert (office.mails, desk.outbox()) == ([], ())
        await press(pilot, "s")
        assert "the mail server has your answer to dana@example.org" in notice(pilot)
        (mail,) = office.parsed()
        assert mail["in-reply-to"] == "<1@example.org>"
        assert desk.case("t1").thread.messages[-1].mine


async def test_the_same_by_mouse(opened: Opened, desk: Desk, office: PostOffice) -> None:
    async with opened() as pilot:
        await press(pilot, "f3")
        await click(pilot, "#cap-reply")
        await click(pilot, "#mail")
        await click(pilot, "#answer-s")
        assert len(office.mails) == 1


@pytest.mark.parametrize(("key", "screen"), [("c", ReplySheet), ("escape", None)])
async def test_a_last_look_may_end_without_sending(
    opened: Opened, desk: Desk, office: PostOffice, key: str, screen: type | None
) -> None:
    async with opened() as pilot:
        await press(pilot, "f3", "f7")
        pilot.app.screen.query_one(TextArea).text = "Hi Dana, my own words."
        await press(pilot, "f5", key)
        if screen:
            assert isinstance(pilot.app.screen, screen)
            assert pilot.app.screen.query_one(TextArea).text == "Hi Dana, my own words."
        else:
            assert notice(pilot).startswith("Not sent.")
            assert "my own words" in text_of(counter(pilot).query_one("#part-reply"))
        assert (office.mails, desk.outbox()) == ([], ())


@pytest.mark.parametrize(
    ("fault", "told"),
    [
        ("recipient", "Not sent: the server refuses the recipient, dana@example.org (550 5.1.1 no such mailbox)"),
        ("text later", "Not sent: the server does not take the mail just now (452"),
        ("cut before", "was cut. It has not gone"),
    ],
)
async def test_what_has_not_gone_is_told_with_the_reason(
    opened: Opened, desk: Desk, office: PostOffice, fault: str, told: str
) -> None:
    office.fault = fault
    async with opened(SMALL) as pilot:
        await press(pilot, "f3", "f7", "f5", "s")
        assert told in notice(pilot)
        assert not desk.case("t1").thread.messages[-1].mine
        office.fault = ""
        await press(pilot, "f7", "f5", "s")
        assert notice(pilot).startswith("Sent:")
        assert len(office.mails) == 1


@pytest.mark.parametrize(("fault", "key"), [("cut", "w"), ("dropped", "n")])
async def test_what_may_have_gone_is_asked_about(
    opened: Opened, desk: Desk, office: PostOffice, fault: str, key: str
) -> None:
    office.fault = fault
    async with opened(SMALL) as pilot:
        await press(pilot, "f3", "f7", "f5", "s")
        assert isinstance(pilot.app.screen, Ask)
        assert "Did this go?" in screen_text(pilot.app)
        await press(pilot, "l")
        assert "asks again" in notice(pilot)
        # It is asked about before anything else goes to this order.
        await press(pilot, "f7", "f5")
        assert "Did this go?" in screen_text(pilot.app)
        await press(pilot, key)
        assert desk.case("t1").thread.messages[-1].mine is (key == "w")
        office.fault = ""
        await press(pilot, "f7", "f5")
        assert isinstance(pilot.app.screen, LastLook)
        again = "send it again" in screen_text(pilot.app)
        assert again is (key == "w")
        await press(pilot, "escape")


async def test_what_a_stopped_program_left_is_asked_at_the_start(
    opened: Opened, desk: Desk, office: PostOffice
) -> None:
    office.fault = "cut"
    assert desk.send(1, desk.reply(1)).state is Fate.UNKNOWN
    async with opened(SMALL) as pilot:
        await settle(pilot)
        assert "Did this go?" in screen_text(pilot.app)
        await press(pilot, "w")
        assert [letter.state for letter in desk.outbox()] == [Fate.ACCEPTED]


async def test_the_outbox_lists_what_went(opened: Opened, desk: Desk) -> None:
    desk.send(1, desk.reply(1))
    async with opened() as pilot:
        counter(pilot).action_outbox()
        await settle(pilot)
        assert "dana@example.org, quote, order 1" in " ".join(text_of(pilot.app.screen).split())


async def test_without_an_address_there_is_no_mail(opened: Opened, desk: Desk) -> None:
    order = desk.paste("24 owls please, pickup December 12 at 2pm. Leo", sender="Leo Ortiz").orders[0]
    async with opened() as pilot:
        counter(pilot).open(order.thread_id)
        await settle(pilot)
        await press(pilot, "f7")
        assert "mail" not in {button.id for button in pilot.app.screen.query(Button)}
        await press(pilot, "f5")
        assert isinstance(pilot.app.screen, ReplySheet)


async def test_a_file_is_a_mail_for_another_program(opened: Opened, desk: Desk, home: Home) -> None:
    async with opened() as pilot:
        await press(pilot, "f3", "f7", "f8")
        assert "Open it with your mail program" in notice(pilot)
    (path,) = (home.book.parent / "answers").iterdir()
    assert path.suffix == ".eml"
    assert b"In-Reply-To: <1@example.org>" in path.read_bytes()


async def test_what_differs_from_the_order_is_told_before_it_goes(
    opened: Opened, desk: Desk, office: PostOffice
) -> None:
    async with opened() as pilot:
        await press(pilot, "f3", "f7")
        pilot.app.screen.query_one(TextArea).text = "Hi Dana, your 36 cookies are $99.00."
        await press(pilot, "f5")
        text = text_of(pilot.app.screen)
        for words in ("It lacks: quote", "It says 36 cookies; the order is for 24.", "It says $99.00"):
            assert words in text
        assert "send it all the same" in screen_text(pilot.app)
        await press(pilot, "c")
        pilot.app.screen.query_one(TextArea).text = "Hi Dana, your 24 cookies."
        await press(pilot, "f5")
        assert "It says" not in text_of(pilot.app.screen)


@pytest.mark.parametrize(("key", "copies"), [("c", 0), ("a", 1)])
async def test_what_differs_is_told_before_it_is_copied(
    opened: Opened, desk: Desk, copied: list[str], key: str, copies: int
) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "f3", "f7")
        pilot.app.screen.query_one(TextArea).text = "Hi Dana, your 36 cookies."
        await press(pilot, "f7")
        assert "It says 36 cookies; the order is for 24." in text_of(pilot.app.screen)
        await press(pilot, key)
        assert len(copied) == copies
        assert isinstance(pilot.app.screen, ReplySheet) is (key == "c")
