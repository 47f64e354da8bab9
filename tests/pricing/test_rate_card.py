"""What the rate card can say beyond a price a dozen, each worked out by hand, and beside it where it says nothing."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from intake.house import House, default_text, parse
from intake.model import Design, Due, OrdertinError, Problem, QuoteLine
from intake.pricing.quote import quote

from .test_quote import FAR, TODAY, D, draft, house, priced, shapes

SIZES = [{"name": "mini", "percent": 60}, {"name": "large", "percent": 140}]
BANDS = [{"up_to": 5, "price": 8}, {"up_to": 15, "price": 12}]
POUNDS = [{"up_to": 2, "price": 9}, {"up_to": 6, "price": 15}, {"up_to": 8, "price": 21}]
COURTESY = QuoteLine("Courtesy", D("-5.00"), "set by you", "edit")
Lines = list[tuple[str, str]]
Set = dict[str, Any]

CARDS: list[tuple[str, dict[str, Any], dict[str, Any], dict[str, Any], Lines, str]] = [
    # name, rates, draft, terms, lines, total
    # 24 x 36.00 x 60% / 12 = 43.20
    ("minis by theme", {"sizes": SIZES}, {"theme": "mini donuts"}, {}, [("24 mini cookies, plain", "43.20")], "43.20"),
    # 12 x 36.00 / 12 = 36.00; 12 x 36.00 x 140% / 12 = 50.40
    (
        "some large",
        {"sizes": SIZES},
        {"designs": (Design("large hives", 12), Design("bees", 12))},
        {},
        [("12 large cookies, plain", "50.40"), ("12 cookies, plain", "36.00")],
        "86.40",
    ),
    ("no size for it", {"sizes": []}, {"theme": "mini donuts"}, {}, [("24 cookies, plain", "72.00")], "72.00"),
    ("no size in the word", {"sizes": SIZES}, {"theme": "minivans"}, {}, [("24 cookies, plain", "72.00")], "72.00"),
    (
        "size by hand",
        {"sizes": SIZES},
        {"theme": "x"},
        {"size": "large"},
        [("24 large cookies, plain", "100.80")],
        "100.80",
    ),
    # 24 x 60.00 / 12
    ("level by hand", {}, {}, {"level": "elaborate"}, [("24 cookies, elaborate", "120.00")], "120.00"),
    # 4 x 0.50, and 4 of 24 are under a quarter
    (
        "one text on four",
        {},
        {"lettering": ("PIPER",)},
        {"lettered": 4},
        [("24 cookies, plain", "72.00"), ("Lettering on 4 cookies", "2.00")],
        "74.00",
    ),
    # 80.00 - 72.00
    ("minimum", {"minimum_total": 80}, {}, {}, [("24 cookies, plain", "72.00"), ("Minimum order", "8.00")], "80.00"),
    ("minimum met", {"minimum_total": 72}, {}, {}, [("24 cookies, plain", "72.00")], "72.00"),
    # 48 x 3.00 = 144.00, less 10%; at 24 nothing
    (
        "discount",
        {"discounts": [{"from_count": 36, "percent": 5}, {"from_count": 48, "percent": 10}]},
        {"count": 48},
        {},
        [("48 cookies, plain", "144.00"), ("Discount", "-14.40")],
        "129.60",
    ),
    (
        "no discount",
        {"discounts": [{"from_count": 25, "percent": 5}]},
        {},
        {},
        [("24 cookies, plain", "72.00")],
        "72.00",
    ),
    # the steepest that applies: 2 days are under 3 and under 7: 72.00 x 50%
    (
        "steeper rush",
        {"rush": [{"under_days": 7, "percent": 25}, {"under_days": 3, "percent": 50}]},
        {"due": Due.on(date(2026, 3, 4))},
        {},
        [("24 cookies, plain", "72.00"), ("Rush", "36.00")],
        "108.00",
    ),
    (
        "flat rush",
        {"rush": [{"under_days": 14, "flat": 25}]},
        {"due": Due.on(date(2026, 3, 12))},
        {},
        [("24 cookies, plain", "72.00"), ("Rush", "25.00")],
        "97.00",
    ),
    (
        "near",
        {"delivery": BANDS},
        {"handover": "deliver"},
        {"distance": D("5")},
        [("24 cookies, plain", "72.00"), ("Delivery", "8.00")],
        "80.00",
    ),
    (
        "farther",
        {"delivery": BANDS},
        {"handover": "deliver"},
        {"distance": D("5.1")},
        [("24 cookies, plain", "72.00"), ("Delivery", "12.00")],
        "84.00",
    ),
    # 24 x 42 g + 350 g = 1358 g = 2.99 lb, so 3; the box of 12 x 10 x 6 = 720 in3 is under 1728: 3 lb are 15.00
    (
        "by weight",
        {"shipping_pounds": POUNDS},
        {"handover": "ship"},
        {},
        [("24 cookies, plain", "72.00"), ("Shipping, 1 parcel", "15.00")],
        "87.00",
    ),
    # 48 cookies in two boxes of 24: 2 x 15.00
    (
        "two boxes",
        {"shipping_pounds": POUNDS},
        {"handover": "ship", "count": 48},
        {},
        [("48 cookies, plain", "144.00"), ("Shipping, 2 parcels", "30.00")],
        "174.00",
    ),
    # 25 cookies: 3 lb as above, and 1 x 42 + 350 = 392 g, 1 lb at 9.00
    (
        "a box and a bit",
        {"shipping_pounds": POUNDS},
        {"handover": "ship", "count": 25},
        {},
        [("25 cookies, plain", "75.00"), ("Shipping, 2 parcels", "24.00")],
        "99.00",
    ),
    # 6 lb are still in the band up to 6
    (
        "at the edge of a band",
        {"shipping_pounds": POUNDS},
        {"handover": "ship"},
        {"pounds": D("6")},
        [("24 cookies, plain", "72.00"), ("Shipping, 1 parcel", "15.00")],
        "87.00",
    ),
    # 4 large and 4 usual are 4 short of a dozen, which are charged once: 8 x 36.00 x 140% / 12 and 4 x 36.00 / 12
    (
        "two sizes under the minimum",
        {"sizes": SIZES},
        {"count": 8, "designs": (Design("large hives", 4), Design("bees", 4))},
        {},
        [("4 large cookies, plain", "33.60"), ("4 cookies, plain", "12.00")],
        "45.60",
    ),
    # a cutter without a price of its own costs as the usual one does, in one line with it
    (
        "a size without a price",
        {"sizes": SIZES},
        {"designs": (Design("jumbo hives", 12), Design("bees", 12))},
        {},
        [("24 cookies, plain", "72.00")],
        "72.00",
    ),
    (
        "weighed",
        {"shipping_pounds": POUNDS},
        {"handover": "ship"},
        {"pounds": D("6.2")},
        [("24 cookies, plain", "72.00"), ("Shipping, 1 parcel", "21.00")],
        "93.00",
    ),
    ("courtesy", {}, {}, {"edits": (COURTESY,)}, [("24 cookies, plain", "72.00"), ("Courtesy", "-5.00")], "67.00"),
    # 13 x 3.00 = 39.00, to whole fives 40.00; then 8% of 40.00
    (
        "rounded, then taxed",
        {"round_to": 5, "tax_percent": 8},
        {"count": 13},
        {},
        [("13 cookies, plain", "39.00"), ("Rounding", "1.00"), ("Sales tax", "3.20")],
        "43.20",
    ),
    # 8.25% of 72.00 = 5.94; with the way, 8.25% of 84.00 = 6.93
    (
        "tax without the way",
        {"tax_percent": D("8.25")},
        {"handover": "deliver"},
        {},
        [("24 cookies, plain", "72.00"), ("Delivery", "12.00"), ("Sales tax", "5.94")],
        "89.94",
    ),
    (
        "tax with the way",
        {"tax_percent": D("8.25"), "tax_on_the_way": True},
        {"handover": "deliver"},
        {},
        [("24 cookies, plain", "72.00"), ("Delivery", "12.00"), ("Sales tax", "6.93")],
        "90.93",
    ),
]


@pytest.mark.parametrize(
    ("rates", "values", "terms", "lines", "total"), [c[1:] for c in CARDS], ids=[c[0] for c in CARDS]
)
def test_by_hand(rates: Set, values: Set, terms: Set, lines: Lines, total: str) -> None:
    made = priced(draft(**values), house(**rates), **terms)
    assert [(line.label, line.amount) for line in made.lines] == [(label, D(amount)) for label, amount in lines]
    assert made.total == D(total)
    assert all(line.why for line in made.lines)


@pytest.mark.parametrize(
    ("sent", "charged"),
    [
        # 14 x 12 x 11 = 1848 in3; / 166 = 11.13 and / 139 = 13.29. Sent on a Tuesday before and after 12 July 2026.
        (date(2026, 7, 7), "12 lb, by the size of its box, at 1 lb for each 166 in3"),
        (date(2026, 7, 14), "14 lb, by the size of its box, at 1 lb for each 139 in3"),
    ],
)
def test_a_large_box_is_charged_by_the_rule_of_the_day_it_is_sent(sent: date, charged: str) -> None:
    rules = house(shipping_pounds=[{"up_to": 20, "price": 30}])
    due = Due.on(date.fromordinal(sent.toordinal() + 3))
    made = priced(draft(handover="ship", due=due), rules, date(2026, 6, 20), box=(D(14), D(12), D(11)))
    assert made.lines[1].why.startswith(charged)
    assert made.lines[1].why.endswith(f"sent by {sent}")


@pytest.mark.parametrize(
    ("rates", "values", "terms", "says"),
    [
        (
            {"delivery": BANDS},
            {"handover": "deliver"},
            {"distance": D("16")},
            "16 miles is farther than you deliver (15)",
        ),
        ({"shipping_pounds": POUNDS}, {"handover": "ship"}, {"pounds": D("9")}, "charged at 9 lb is heavier than you"),
        ({}, {}, {"edits": (QuoteLine("Gift", D("-72.01"), "", "edit"),)}, "come to -$0.01, less than nothing"),
    ],
    ids=["too far", "too heavy", "less than nothing"],
)
def test_what_the_rates_have_no_price_for(
    rates: dict[str, Any], values: dict[str, Any], terms: dict[str, Any], says: str
) -> None:
    from intake.model import Terms

    problem = quote(draft(**values), house(**rates), today=TODAY, terms=Terms(**terms))
    assert isinstance(problem, Problem)
    assert says in problem.what
    assert problem.todo


@pytest.mark.parametrize(
    ("rates", "values", "terms", "words"),
    [
        ({"sizes": SIZES}, {"theme": "mini donuts"}, {}, "Priced as mini"),
        ({"delivery": BANDS}, {"handover": "deliver"}, {}, "How far is it? Delivery is priced for up to 5 miles."),
        ({"tax_percent": 8}, {}, {}, "is for your tax office to say"),
    ],
)
def test_notes(rates: dict[str, Any], values: dict[str, Any], terms: dict[str, Any], words: str) -> None:
    assert any(words in note for note in priced(draft(**values), house(**rates), **terms).notes)


@pytest.mark.parametrize(
    ("rates", "values", "terms"),
    [
        ({"sizes": SIZES}, {"theme": "mini donuts"}, {"size": "mini"}),
        ({"delivery": BANDS}, {"handover": "deliver"}, {"distance": D("3")}),
        ({}, {"lettering": ("PIPER",)}, {"lettered": 4}),
        ({"tax_percent": 0}, {}, {}),
    ],
)
def test_nothing_to_note_once_it_is_settled(rates: Set, values: Set, terms: Set) -> None:
    assert priced(draft(**values), house(**rates), **terms).notes == ()


def test_a_level_set_by_hand_says_what_it_would_have_been() -> None:
    made = priced(draft(designs=shapes("a", "b", "c")), house(), level="plain")
    assert made.level == "plain"
    assert "set by you; by its 3 designs, no colors named it would be detailed" in made.lines[0].why


LATER = """
[[rates_later]]
starts = 2026-03-10
per_dozen = { plain = 40, detailed = 50, elaborate = 65 }

[[rates_later]]
starts = 2026-04-01
lettering_each = 1.00
"""


@pytest.mark.parametrize(
    ("today", "plain", "lettering"),
    [
        (date(2026, 3, 9), "36.00", "0.50"),
        (date(2026, 3, 10), "40", "0.50"),
        (date(2026, 4, 1), "40", "1.00"),
    ],
)
def test_the_rates_of_the_day(today: date, plain: str, lettering: str) -> None:
    rates = parse(default_text() + LATER).rates_on(today)
    assert (rates.per_dozen.plain, rates.lettering_each) == (D(plain), D(lettering))


def test_a_quote_goes_by_the_rates_given_over_those_of_the_day() -> None:
    rules: House = parse(default_text() + LATER)
    made = quote(draft(), rules, today=date(2026, 4, 2), rates=rules.rates_on(TODAY))
    assert not isinstance(made, Problem)
    assert made.total == Decimal("72.00")


def test_notice_counts_from_the_day_it_was_asked() -> None:
    late = date(2026, 4, 15)
    made = quote(draft(due=FAR), house(), today=late, asked_on=TODAY)
    rushed = quote(draft(due=FAR), house(), today=late)
    assert not isinstance(made, Problem) and not isinstance(rushed, Problem)
    assert [line.label for line in made.lines] == ["24 cookies, plain"]
    assert [line.label for line in rushed.lines] == ["24 cookies, plain", "Rush"]


def card(**changes: str) -> tuple[str, int]:
    """The default house rules with lines replaced, and the number of the last that was."""
    lines, number = default_text().split("\n"), 0
    for name, becomes in changes.items():
        number = next(n for n, line in enumerate(lines) if line.startswith(f"{name} = "))
        lines[number] = becomes
    return "\n".join(lines), number + 1


@pytest.mark.parametrize(
    ("name", "becomes", "says"),
    [
        ("per_dozen", "per_dozen = { plain = 0, detailed = 48, elaborate = 62 }", "gives plain cookies away"),
        ("per_dozen", "per_dozen = { plain = 52, detailed = 48, elaborate = 62 }", "must rise with the work"),
        ("per_dozen", "per_dozen = { plain = 3600, detailed = 4800, elaborate = 6200 }", "is the point in its place?"),
        ("per_dozen", "per_dozen = { plain = 0.36, detailed = 0.48, elaborate = 0.62 }", "for a whole dozen"),
        ("lettering_each", "lettering_each = 70", "for one cookie, more than a dozen of the most elaborate"),
        ("extra_design", "extra_design = 4000", "more than ten dozen"),
        ("shipping", "shipping = 1400", "`rates.shipping` is 1400, more than ten dozen"),
        ("delivery", "delivery = [{ up_to = 5, price = 800 }]", "`rates.delivery` is 800, more than ten dozen"),
        ("minimum_count", "minimum_count = 5000", "turns away every order under 5000"),
        ("round_to", "round_to = 50", "more than a whole dozen costs"),
        ("round_to", "round_to = 0.015", "the smallest amount of USD is 0.01"),
        ("rush", "rush = [{ under_days = 7, percent = 5 }, { under_days = 7, percent = 9 }]", "sets two things"),
        ("sizes", 'sizes = [{ name = "mini", percent = 60 }, { name = "Mini", percent = 70 }]', "name one size twice"),
        ("delivery", "delivery = [{ up_to = 9, price = 8 }, { up_to = 5, price = 9 }]", "bands whose `up_to` rises"),
        ("currency", 'currency = "USX"', "a currency of ISO 4217"),
        ("locale", 'locale = "tlh_XX"', "a language and country"),
    ],
)
def test_a_rate_that_can_not_be_meant_is_refused_with_its_line(name: str, becomes: str, says: str) -> None:
    text, line = card(**{name: becomes})
    with pytest.raises(OrdertinError) as error:
        parse(text, where="house.toml")
    assert says in error.value.problem.what
    assert error.value.problem.where == f"house.toml, line {line}"


@pytest.mark.parametrize(
    ("currency", "becomes"),
    [
        ("VND", "per_dozen = { plain = 900000, detailed = 1200000, elaborate = 1500000 }"),
        ("KWD", "per_dozen = { plain = 11.250, detailed = 14.750, elaborate = 19 }"),
        ("USD", "per_dozen = { plain = 120, detailed = 150, elaborate = 220 }"),
    ],
)
def test_what_is_absurd_in_one_currency_is_not_in_another(currency: str, becomes: str) -> None:
    text, _ = card(per_dozen=becomes, currency=f'currency = "{currency}"', round_to="round_to = 1")
    assert parse(text).house.currency == currency


@pytest.mark.parametrize(
    ("added", "says"),
    [
        ("starts = 2026-05-01\nlettering_each = -1", "`rates_later.lettering_each` must be greater than or equal to 0"),
        ("starts = 2026-05-01\nletering_each = 1", "`rates_later.letering_each` is not a house rule"),
        ("starts = 2026-05-01\nlettering_each = 90", "`rates_later.lettering_each` is 90 for one cookie"),
        ("starts = 2026-02-01\nlettering_each = 1", "`rates_later.starts` is 2026-02-01, not after 2026-03-01"),
        ("lettering_each = 1", "`rates_later.starts` is missing"),
    ],
)
def test_a_change_of_rates_is_checked_like_the_rates(added: str, says: str) -> None:
    text = f"{default_text()}\n[[rates_later]]\nstarts = 2026-03-01\n\n[[rates_later]]\n{added}\n"
    with pytest.raises(OrdertinError) as error:
        parse(text, where="house.toml")
    assert says in error.value.problem.what
    assert int(error.value.problem.where.rpartition(" ")[2]) > len(default_text().split("\n")) + 2
