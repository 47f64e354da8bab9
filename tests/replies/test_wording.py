"""Replies as the customer gets them, and what the baker's own wording can and can't do."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.clean import clean
from intake.house import default_house
from intake.model import Cell, Clash, Due, OrdertinError, State
from intake.replies.fields import fields_of, first_name
from intake.replies.wording import KINDS, check, write
from tests.replies.orders import PRICE, order

HOUSE = default_house()
CLASH = Clash((7,), 7, "4 hours are lacking for Secret Person's set", date(2026, 6, 27))


def text_of(kind: str, language: str = "en", templates: Path | None = None, **values: Any) -> str:
    return write(kind, order(**values), HOUSE, templates=templates, verdict=CLASH, language=language).text


def test_a_confirmation_in_full() -> None:
    text = text_of("confirm")
    for words in (
        "Hi Gwen,",
        "36 cookies",
        "Theme: mail carrier",
        "Designs: mail trucks (24), envelopes (12)",
        "Colors: navy, cream",
        "Flavor: lemon",
        "Lettering: “Happy Trails Dale”, “31 years”",
        "Packaging: gift box",
        "Pick-up: Friday, June 19, 2026 at 2:30 pm",
        f"Pick up at: {HOUSE.house.place}",
        "36 cookies, detailed: $144.00",
        "Total: $154.00",
        "Deposit: $77.00, by Monday, June 8, 2026",
        "Balance: $77.00, by Tuesday, June 16, 2026",
        HOUSE.reply.allergens,
        "You asked for: nut-free. I can't promise a kitchen free of nuts.",
    ):
        assert words in text
    assert "note for the baker" not in text


SPANISH = [
    ("ask", ("Hola Gwen,", "¿", "Gracias,")),
    ("quote", ("36 galletas, detalladas: $144.00", "Este precio vale hasta el lunes 8 de junio de 2026", "3 cajas")),
    ("confirm", ("Recogida: viernes 19 de junio de 2026 a las 2:30 p. m.", "Anticipo: $77.00", "frutos secos")),
    ("no room", ("sábado 27 de junio de 2026",)),
    ("remind", ("El anticipo", "$77.00", "lunes 8 de junio de 2026")),
]


@pytest.mark.parametrize(("kind", "words"), SPANISH, ids=[c[0] for c in SPANISH])
def test_spanish(kind: str, words: tuple[str, ...]) -> None:
    text = text_of(kind, "es", **({"count": Cell()} if kind == "ask" else {}))
    assert all(word in text for word in words)


def test_the_house_language_is_the_default() -> None:
    house = HOUSE.model_copy(update={"house": HOUSE.house.model_copy(update={"language": "es"})})
    assert write("confirm", order(), house, templates=None).text.startswith("Hola")


def test_words_the_baker_has_set_are_not_translated() -> None:
    reply = HOUSE.reply.model_copy(update={"allergens": "Everything here meets peanuts.", "greeting": "Dear {name}!"})
    text = write("confirm", order(), HOUSE.model_copy(update={"reply": reply}), templates=None, language="es").text
    assert "Everything here meets peanuts." in text
    assert text.startswith("Dear Gwen!")


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("values", [{"dietary": None}, {"quote": None}, {"only": {}}], ids=["no diet", "no price", "-"])
def test_a_confirmation_always_names_the_allergens(language: str, values: dict[str, Any]) -> None:
    expected = HOUSE.reply.allergens if language == "en" else "trigo, leche y huevo"
    assert expected in text_of("confirm", language, **values)


@pytest.mark.parametrize(
    ("values", "there", "not_there"),
    [
        ({"handover": "ship", "address": "12 Alder Ct"}, ("Ship to: 12 Alder Ct", "estimate"), ("Pick",)),
        ({"handover": "ship", "due_is": "arrival"}, ("Shipping, to arrive by: Friday",), ("Ship to",)),
        ({"handover": "deliver", "address": "12 Alder Ct"}, ("Deliver to: 12 Alder Ct", "Delivery: Friday"), ("Pick",)),
        ({"due_is": "event"}, ("Your event: Friday", "when before it"), ("Pick-up: ",)),
        ({"dietary": ("kosher",)}, ("a kitchen that meets what this calls for: kosher",), ("free of",)),
        ({"quote": None}, (), ("Price", "Deposit", "$")),
        # of a total of 154.00, half of it down
        ({"paid": Decimal("0")}, ("Deposit: $77.00", "Balance: $77.00"), ("Received",)),
        ({"paid": Decimal("50")}, ("Received: $50.00", "Deposit: $27.00", "Balance: $77.00"), ()),
        ({"paid": Decimal("77")}, ("Received: $77.00", "Balance: $77.00"), ("Deposit",)),
        ({"paid": Decimal("154")}, ("Received: $154.00",), ("Deposit", "Balance")),
    ],
)
def test_the_confirmation_follows_the_order(
    values: dict[str, Any], there: tuple[str, ...], not_there: tuple[str, ...]
) -> None:
    text = text_of("confirm", **values)
    assert all(word in text for word in there)
    assert not any(word in text for word in not_there)


@pytest.mark.parametrize(
    ("values", "there", "not_there"),
    [
        ({}, ("The deposit for your cookies for Friday, June 19", "$77.00, due by Monday, June 8"), ("So far",)),
        ({"paid": Decimal("77")}, ("The balance", "$77.00", "I have $77.00 of $154.00"), ("deposit",)),
        ({"paid": Decimal("154")}, ("paid for",), ("balance", "deposit", "sent it already")),
        ({"state": State.QUOTED}, ("$154.00, holds until Monday, June 8, 2026", "deposit of $77.00"), ("due by",)),
    ],
    ids=["deposit", "balance", "paid", "price ends"],
)
def test_a_reminder_says_what_is_due_and_no_more(
    values: dict[str, Any], there: tuple[str, ...], not_there: tuple[str, ...]
) -> None:
    text = text_of("remind", **values)
    assert all(word in text for word in there)
    assert not any(word in text for word in not_there)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("paid", ["0", "50", "77", "154"])
@pytest.mark.parametrize("handover", ["pickup", "ship", "deliver"])
@pytest.mark.parametrize("tone", ["brief", "warm"])
def test_every_answer_reads_as_whole_sentences(kind: str, language: str, paid: str, handover: str, tone: str) -> None:
    house = HOUSE.model_copy(update={"reply": HOUSE.reply.model_copy(update={"tone": tone})})
    made = order(paid=Decimal(paid), handover=handover, address="12 Alder Ct")
    text = write(kind, made, house, templates=None, verdict=CLASH, language=language).text
    assert not re.search(r"\.\.|,,| ,| \.|  |\( *\)|None|: *\.", text), text
    left = Decimal(154) - Decimal(paid)
    if kind in ("ready", "thanks"):
        assert (f"${left:.2f}" in text) is bool(left)


@pytest.mark.parametrize(
    ("kind", "tone", "words"),
    [
        ("deposit", "warm", "thank you very much"),
        ("ready", "warm", "Good news"),
        ("thanks", "warm", "hope the retirement was a happy one"),
        ("cancelled", "warm", "glad to bake for you another time"),
    ],
)
def test_the_tone_is_the_houses(kind: str, tone: str, words: str) -> None:
    house = HOUSE.model_copy(update={"reply": HOUSE.reply.model_copy(update={"tone": tone})})
    made = order(paid=Decimal(77))
    assert words in write(kind, made, house, templates=None).text
    assert words not in write(kind, made, HOUSE, templates=None).text


def test_no_room_names_the_first_day_and_no_one_else() -> None:
    text = text_of("no room")
    assert "Saturday, June 27, 2026" in text
    assert "Secret Person" not in text


NAMES = [
    ("Gwen Ashdown", "Gwen"),
    ("Ms. Vander", "Ms. Vander"),
    ("Dr Vander", "Dr Vander"),
    ("bkessler61", "bkessler61"),
    ("Ann and Bo Lee", "Ann and Bo Lee"),
    ("", ""),
]


@pytest.mark.parametrize(("name", "expected"), NAMES)
def test_first_names(name: str, expected: str) -> None:
    assert first_name(name) == expected


def test_a_greeting_without_a_name() -> None:
    assert text_of("confirm", customer=None).startswith("Hi,\n")


@pytest.mark.parametrize(
    ("kind", "values", "expected"),
    [
        ("confirm", {}, ()),
        ("confirm", {"only": {}, "quote": None}, ("count", "due", "handover", "theme", "quote")),
        ("confirm", {"handover": "ship"}, ("address",)),
        ("quote", {"only": {}, "quote": None}, ("count", "due", "quote")),
        ("ask", {"only": {}, "quote": None}, ()),
        ("no room", {"only": {}}, ("due",)),
        ("remind", {"only": {}}, ()),
        ("remind", {"quote": None}, ("quote",)),
    ],
)
def test_missing(kind: str, values: dict[str, Any], expected: tuple[str, ...]) -> None:
    assert write(kind, order(**values), HOUSE, templates=None).missing == expected


@pytest.mark.parametrize(
    ("values", "expected"),
    [({"email": "gwen@example.org"}, "gwen@example.org"), ({}, "555-0163"), ({"phone": None}, "Gwen Ashdown")],
)
def test_to(values: dict[str, Any], expected: str) -> None:
    assert write("ask", order(**values), HOUSE, templates=None).to == expected


def test_an_address_cannot_add_a_header() -> None:
    to = write("ask", order(email="gwen@example.org\nBcc: all@example.net"), HOUSE, templates=None).to
    assert "\n" not in to


@pytest.mark.parametrize("kind", ["", "praise"])
def test_an_unknown_kind(kind: str) -> None:
    with pytest.raises(OrdertinError, match="reply"):
        write(kind, order(), HOUSE, templates=None)


FIGURE = re.compile(r"\d[\d,.:]*\d|\d")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("language", ["en", "es"])
@settings(max_examples=50)
@given(
    count=st.integers(1, 500),
    day=st.dates(date(2026, 1, 1), date(2030, 12, 31)),
    shares=st.integers(1, 99),
    age=st.integers(1, 99),
)
def test_every_figure_of_an_answer_is_one_of_the_order(
    kind: str, language: str, count: int, day: date, shares: int, age: int
) -> None:
    made = order(count=count, due=Due.on(day), age=age, lettering=(f"Happy {shares}th",))
    text = write(kind, made, HOUSE, templates=None, verdict=CLASH, language=language).text
    price = made.quote
    assert price is not None and CLASH.earliest is not None
    days = [day, price.deposit_by or day, price.balance_by or day, price.valid_until, CLASH.earliest]
    allowed = {str(count), "24", "12", str(shares)}  # the designs' own shares and the lettering
    allowed |= {str(part) for each in days for part in (each.day, each.year)}
    allowed |= {f"{amount:.2f}" for amount in (price.total, price.deposit, price.balance)}
    allowed |= {f"{line.amount:.2f}" for line in price.lines}
    allowed |= {figure for line in price.lines for figure in FIGURE.findall(line.label)}
    assert set(FIGURE.findall(text)) <= allowed


@pytest.mark.parametrize("kind", ["quote", "confirm"])
@pytest.mark.parametrize(
    ("language", "both", "day"), [("en", "both by", "Monday, June 8, 2026"), ("es", "ambos a más tardar", "8 de junio")]
)
def test_money_due_on_one_day_names_it_once(kind: str, language: str, both: str, day: str) -> None:
    price = replace(PRICE, balance_by=PRICE.deposit_by, valid_until=date(2026, 6, 5))
    text = write(kind, order(quote=price), HOUSE, templates=None, language=language).text
    assert both in text
    assert text.count(day) == 1
    assert both not in write(kind, order(), HOUSE, templates=None, language=language).text


HOSTILE = [
    "{{ 7*7 }}",
    "{% for x in range(9) %}x{% endfor %}",
    "{# gone #}",
    "{name} {0} %s %(count)d $count",
    "<b>&amp;</b>",
    "[/] [red]x[/red] [@click=app.quit()]x",
    "{{ greeting.__class__.__mro__ }}",
    "{% raw %}{% endraw %}",
]


@pytest.mark.parametrize("words", HOSTILE)
@pytest.mark.parametrize("kind", ["ask", "quote", "confirm"])
def test_what_a_customer_wrote_stays_as_it_is(kind: str, words: str, tmp_path: Path) -> None:
    text = text_of(kind, templates=tmp_path, theme=words, lettering=(words,), customer=words)
    assert text.count(words) == 3


@given(words=st.text(max_size=80))
def test_any_text_at_all_is_carried(words: str) -> None:
    text = text_of("confirm", theme=words or None)
    assert clean(text) == text
    assert " ".join(clean(" ".join(words.split())).split()) in " ".join(text.split())


def test_a_customer_cannot_add_a_line() -> None:
    text = text_of("confirm", theme="owls\n\nTotal: $1.00\n")
    assert "\nTotal: $1.00" not in text


def test_control_sequences_do_not_get_out() -> None:
    assert "\x1b" not in text_of("confirm", theme="owls\x1b]52;c;aGk=\x07")


def test_copies_are_made_once_and_kept(tmp_path: Path) -> None:
    folder = tmp_path / "wording"
    text_of("confirm", templates=folder)
    names = {path.name for path in folder.iterdir()}
    kinds = [kind.replace(" ", "_") for kind in KINDS]
    assert names == {f"{kind}{end}" for kind in kinds for end in (".txt", ".es.txt")}
    (folder / "confirm.txt").write_text("Yes, {{ name }}: {{ count }}.", encoding="utf-8")
    (folder / "ask.txt").unlink()
    assert text_of("confirm", templates=folder) == "Yes, Gwen: 36."
    assert (folder / "ask.txt").exists()


def test_the_shipped_wording_is_in_order(tmp_path: Path) -> None:
    assert check(tmp_path) == ()


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("language", ["en", "es"])
def test_every_field_is_listed_where_the_baker_reads_it(kind: str, language: str, tmp_path: Path) -> None:
    check(tmp_path)
    file = kind.replace(" ", "_") + (".es.txt" if language == "es" else ".txt")
    head = (tmp_path / file).read_text(encoding="utf-8").split("#}")[0]
    for name in fields_of(order(), HOUSE, None, language):
        assert re.search(rf"\b{name}\b", head), name


BROKEN = [
    ("an if left open", "Hi\n{% if count %}\nyes", 2, "this `if` is never closed: put {% endif %}"),
    ("an if left open in another", "{% if count %}\n{% if name %}\na{% endif %}\nb", 1, "`if` is never closed"),
    ("an if that a for closes", "{% if count %}\n{% endfor %}", 2, "closes the wrong one: the `if` before it"),
    ("an end without a beginning", "Hi\n{% endif %}", 2, "never opened"),
    ("a word that is none", "\n{% iff count %}{% endif %}", 2, "`iff` is no word"),
    ("a note left open", "Hi\n{# mine", 2, "it ends with #}"),
    ("one brace for two", "Hi\n{{ name }", 2, "in pairs"),
    ("two names side by side", "Hi\n{{ na me }}", 2, "`me` is too much"),
    ("nothing in the braces", "Hi\n{{ }}", 2, "nothing between"),
    ("a strange sign", "Hi {{ name; }}", 1, "`;`"),
    ("a brace left open", "Hi\n\n{{ name", 3, "not closed"),
    ("a misspelt field", "Hi\n{{ cuont }}", 2, "cuont"),
    ("a misspelt field that is rarely reached", "Hi\n{% if not count and count %}{{ cuont }}{% endif %}", 2, "cuont"),
    ("a misspelt part", "Hi\n\n{% for line in price_lines %}{{ line.sum }}{% endfor %}", 3, "sum"),
    ("an attribute of a text", "\n{{ name.upper }}", 2, "upper"),
    ("an attribute out of reach", "{{ name.__class__ }}", 1, "__class__"),
    ("an attribute of a number", "{{ count.real }}", 1, "real"),
    ("a method of a list", "{{ designs.append }}", 1, "append"),
    ("a way out of a loop", "{% for line in known %}{{ loop.__init__ }}{% endfor %}", 1, "__init__"),
    ("an item", "{{ name['__class__'] }}", 1, "getitem"),
    ("a call", "{{ name.upper() }}", 1, "call"),
    ("a range", "\n{% for n in range(100000) %}{% endfor %}", 2, ""),
    ("a product", "{{ 'x' * 999999999 }}", 1, "mul"),
    ("a power", "{{ 9 ** 999999999 }}", 1, "pow"),
    ("a format", "{{ '%0999999999d' % count }}", 1, "mod"),
    ("an assignment", "{% set a = 1 %}", 1, "assign"),
    ("a macro", "{% macro m() %}{% endmacro %}", 1, "macro"),
    ("an include", "{% include 'ask.txt' %}", 1, "include"),
    ("a filter that can grow", "{{ name | center(999999999) }}", 1, "center"),
    ("an attribute by filter", "{{ name | attr('__class__') }}", 1, "attr"),
    ("an unknown test", "{{ name is pretty }}", 1, "pretty"),
    ("loops in loops", "{% for a in known %}" * 3 + "{% endfor %}" * 3, 1, "deep"),
    ("text and number compared", "Hi\n{{ 'yes' if name > 3 else 'no' }}", 2, "can't be compared"),
    ("too many braces", "{{ " + "(" * 9_000 + ")" * 9_000 + " }}", 0, ""),
    ("too long", "x" * 30_000, 0, "longer"),
    ("empty", "{# nothing #}", 0, "empty"),
]


@pytest.mark.parametrize(("source", "line", "words"), [c[1:] for c in BROKEN], ids=[c[0] for c in BROKEN])
def test_a_broken_copy_is_passed_over_and_named(source: str, line: int, words: str, tmp_path: Path) -> None:
    expected = text_of("confirm")
    (tmp_path / "confirm.txt").write_text(source, encoding="utf-8")
    assert text_of("confirm", templates=tmp_path) == expected
    (problem,) = check(tmp_path)
    assert "confirm.txt" in problem.where
    assert (f"line {line}" in problem.where) if line else ("line" not in problem.where)
    assert words in problem.what


@pytest.mark.parametrize("data", [b"\xff\xfe\x00bad", b"\xc3"], ids=["utf-16", "cut short"])
def test_a_copy_that_is_not_text(data: bytes, tmp_path: Path) -> None:
    (tmp_path / "quote.txt").write_bytes(data)
    (problem,) = check(tmp_path)
    assert "UTF-8" in problem.what
    assert text_of("quote", templates=tmp_path) == text_of("quote")


def test_a_folder_in_the_place_of_a_copy(tmp_path: Path) -> None:
    (tmp_path / "quote.txt").mkdir()
    assert [Path(problem.where).name for problem in check(tmp_path)] == ["quote.txt"]
    assert text_of("quote", templates=tmp_path) == text_of("quote")


def test_a_file_in_the_place_of_the_folder(tmp_path: Path) -> None:
    place = tmp_path / "wording"
    place.write_text("not a folder")
    (problem,) = check(place)
    assert str(place) == problem.where
    assert text_of("quote", templates=place) == text_of("quote")


def test_windows_line_ends_and_a_byte_order_mark_are_taken(tmp_path: Path) -> None:
    (tmp_path / "confirm.txt").write_bytes("\ufeffHi {{ name }}\r\n\r\nbye\r\n".encode())
    assert text_of("confirm", templates=tmp_path) == "Hi Gwen\n\nbye"


def test_an_order_too_long_to_write_says_so() -> None:
    names = tuple(f"{'n' * 250}{number}" for number in range(200))
    with pytest.raises(OrdertinError, match="longer than"):
        write("confirm", order(lettering=names), HOUSE, templates=None)


@pytest.mark.parametrize("state", list(State))
def test_every_state_can_be_written_about(state: State) -> None:
    assert all(write(kind, order(state=state), HOUSE, templates=None).text for kind in KINDS)
