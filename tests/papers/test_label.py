"""What a label says, and what it names as missing."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from intake.house import House
from intake.house_recipes import IngredientPart, RecipePart
from intake.model import Order, Problem, Terms
from intake.papers.label import NOT_COMPLETE, Label, Labels, labels, lines_of, net_weight
from intake.papers.label_sheet import label_sheet
from tests.papers.kit import DAY, at, order, pages, sizes, told

WHITE = ("white",)


def made(of: Order, rules: House, **more: Any) -> Labels:
    found = labels(of, rules, made_on=DAY, **more)
    assert not isinstance(found, Problem), found
    return found


def only(of: Order, rules: House, **more: Any) -> Label:
    (label,) = made(of, rules, **more).labels
    return label


def test_a_whole_label() -> None:
    found = made(order(colors=("white", "red")), told(), net=340.19)
    assert found.missing == ()
    assert [text for _, text in lines_of(found.labels[0], whole=True)] == [
        "Decorated sugar cookies",
        "Ingredients: wheat flour (wheat, niacin), powdered sugar (sugar, cornstarch), butter (cream, salt), sugar, "
        "eggs, water. Contains 2% or less of: meringue powder (egg whites), vanilla extract (water, alcohol), "
        "baking powder (cornstarch), salt, Red 40.",
        "Contains: wheat, milk, eggs.",
        "These cookies are homemade.",
        "Dana Reyes, 3 Tansy Lane, Alder, MN 55999",
        "Made on March 14, 2026",
        "Net Wt 12 oz (340 g)",
    ]


def test_ingredients_stand_by_weight_and_none_above_two_per_cent_trails() -> None:
    """21 CFR 101.4(a)(1) and (2). The weights are worked out here from the recipes' own grams: 24 cookies of 3 in."""
    dough = {"flour": 416.67, "butter": 227, "sugar": 200, "egg": 50, "vanilla extract": 8.4, "baking powder": 4.6}
    icing = {"powdered sugar": 500, "meringue powder": 30, "water": 100, "vanilla extract": 4.2}
    on_tray, iced = 24 * 45.604 * 0.635 * 1.2, 24 * 45.604 * 0.2 * 1.3
    weights = {what: grams / (sum(dough.values()) + 3) * on_tray for what, grams in (dough | {"salt": 3}).items()}
    for what, grams in icing.items():
        weights[what] = weights.get(what, 0) + grams / sum(icing.values()) * iced
    names = {what: told().ingredients[what].label for what in weights}
    ranked = [names[what] for what in sorted(weights, key=lambda what: -weights[what])]
    whole = sum(weights.values())
    label = only(order(colors=WHITE), told())
    assert [text.partition(" (")[0] for text in (*label.ingredients, *label.trailing)] == ranked
    assert {text.partition(" (")[0] for text in label.trailing} == {
        names[what] for what, grams in weights.items() if grams <= 0.02 * whole
    }


def test_what_is_missing_is_named_and_nothing_is_made_up() -> None:
    bare = IngredientPart(label="butter")
    rules = told({"address": "", "made_by": "", "identity": "", "colors": {}}, butter=bare)
    found = made(order(colors=("white",)), rules)
    words = ("are called", "your name", "your address", "butter: its own ingredients and its allergens", "the white")
    for word in words:
        assert any(word in lack for lack in found.missing), word
    assert not any("sugar" in lack for lack in found.missing)
    assert found.labels[0].contains == ("wheat", "eggs")
    assert "butter" in found.labels[0].ingredients
    assert next(lines_of(found.labels[0], whole=not found.missing)) == ("contains", NOT_COMPLETE)


def test_colors_that_nobody_named_are_asked_for() -> None:
    assert any("the order names none" in lack for lack in made(order(), told()).missing)


def test_a_home_kitchen_line_is_not_everywhere_asked_for() -> None:
    found = made(order(colors=WHITE), told({"home_kitchen": ""}))
    assert found.missing == ()
    assert any("home-kitchen line" in note for note in found.notes)


def test_the_weight_is_weighed_and_not_worked_out() -> None:
    found = made(order(colors=WHITE), told())
    assert found.labels[0].net == ""
    assert dict(lines_of(found.labels[0], whole=True))["net"].startswith("Net Wt ____")
    # A finished 3 in cookie is 38 to 44 g: 34.8 g of dough less 7 to 16.5 %, and 9 to 12 g of icing.
    assert 12 * 38 <= found.labels[0].estimate <= 12 * 44
    assert any("Weigh a package of 12" in note and "g)" in note for note in found.notes)


@pytest.mark.parametrize(
    ("values", "packages"),
    [
        ({"count": 24}, [(12, 2)]),
        ({"count": 30}, [(12, 2), (6, 1)]),
        ({"count": 6}, [(6, 1)]),
        ({"count": 24, "packaging": ("individually bagged", "ribbon")}, [(1, 24)]),
        ({"count": 24, "packaging": ("gift box",)}, [(12, 2)]),
    ],
)
def test_one_label_a_package(values: dict[str, Any], packages: list[tuple[int, int]]) -> None:
    found = made(order(colors=WHITE, **values), told()).labels
    assert [(label.count, label.copies) for label in found] == packages


def test_a_last_package_with_fewer_is_weighed_on_its_own() -> None:
    full, last = made(order(count=30, colors=WHITE), told(), net=516).labels
    assert (full.net, last.net) == ("Net Wt 1 lb 2.2 oz (516 g)", "")
    assert last.estimate == pytest.approx(full.estimate / 2)


def test_a_size_that_the_baker_set_weighs_as_much_more() -> None:
    """4 in is 16/9 of the area of 3 in."""
    usual = order(colors=WHITE)
    jumbo = only(replace(usual, terms=Terms(size="jumbo")), told())
    assert jumbo.estimate / only(usual, told()).estimate == pytest.approx(16 / 9)


def test_each_dough_has_its_own_label() -> None:
    cocoa = IngredientPart(label="cocoa", parts=(), allergens=())
    found = made(order(colors=WHITE, flavors=("vanilla", "chocolate")), told(cocoa=cocoa))
    assert [label.identity for label in found.labels] == [
        "Decorated sugar cookies", "Decorated sugar cookies, chocolate",
    ]  # fmt: skip
    listed = [", ".join((*label.ingredients, *label.trailing)) for label in found.labels]
    assert ["cocoa" in text for text in listed] == [False, True]


@pytest.mark.parametrize(
    ("allergens", "contains", "asked"),
    [
        (("almond",), "tree nuts (almond)", False),
        (("almond", "pecan"), "tree nuts (almond), tree nuts (pecan)", False),
        (("peanuts",), "peanuts", False),
        (("Soybeans",), "soy", False),
        (("tree nuts",), "tree nuts", True),
    ],
)
def test_nuts_are_declared_by_kind(allergens: tuple[str, ...], contains: str, asked: bool) -> None:
    """21 USC 343(w): the kind of nut, fish or shellfish is named."""
    part = IngredientPart.model_validate({"label": "sugar", "parts": (), "allergens": allergens})
    found = made(order(colors=WHITE), told(sugar=part))
    assert ", ".join(found.labels[0].contains) == f"wheat, milk, {contains}, eggs"
    assert any("which kind of tree nuts" in lack for lack in found.missing) is asked


@pytest.mark.parametrize(("color", "says"), [("Red 3", "January 15, 2027"), ("titanium dioxide", "European Union")])
def test_colors_under_a_ban_are_noted(color: str, says: str) -> None:
    found = made(order(colors=WHITE), told({"colors": {"white": (color,)}}))
    assert any(says in note for note in found.notes)
    assert not any(says in note for note in made(order(colors=WHITE), told()).notes)


def test_raw_egg_white_is_noted() -> None:
    royal = RecipePart(kind="icing", ingredients=("1 lb powdered sugar", "3 egg whites"))
    white = IngredientPart(label="egg whites", parts=(), allergens=("egg",))
    rules = told(**{"egg white": white})
    rules = rules.model_copy(update={"recipes": {"vanilla": rules.recipes["vanilla"], "royal": royal}})
    assert any("Raw egg white" in note for note in made(order(colors=WHITE), rules).notes)


@pytest.mark.parametrize(
    ("grams", "shown"),
    [
        # 21 CFR 101.7's own manner, "Net Wt 3 oz (85 g)"; a state's sample prints 85.049 g for 3 oz.
        (85.05, "3 oz (85 g)"), (340.19, "12 oz (340 g)"), (453.59, "1 lb (454 g)"), (516, "1 lb 2.2 oz (516 g)"),
    ],
)  # fmt: skip
def test_net_weight(grams: float, shown: str) -> None:
    assert net_weight(grams) == shown


def test_a_wrong_recipe_makes_no_label() -> None:
    rules = told()
    salty = rules.recipes["vanilla"].model_copy(update={"ingredients": ("1 cup salt", "1 cup flour")})
    refused = labels(order(), rules.model_copy(update={"recipes": {"vanilla": salty}}), made_on=DAY)
    assert isinstance(refused, Problem)
    assert "is salt" in refused.what


class TestSheet:
    @pytest.mark.parametrize(("page", "side"), [("letter", (215.9, 279.4)), ("a4", (210.0, 297.0))])
    def test_eight_to_a_page(self, page: str, side: tuple[float, float]) -> None:
        rules = told()
        rules = rules.model_copy(update={"papers": rules.papers.model_copy(update={"page": page})})
        found = made(order(count=100, colors=WHITE), rules)
        sheet = label_sheet(found, rules, title="labels", made=at("2026-03-13T09:00"))
        assert isinstance(sheet, bytes)
        texts = pages(sheet)
        assert [len(re.findall("Net Wt", text)) for text in texts] == [8, 1]
        assert sizes(sheet) == {side}
        assert NOT_COMPLETE not in " ".join(texts)

    def test_an_incomplete_one_says_so_and_what_is_missing(self) -> None:
        rules = told({"address": ""})
        sheet = label_sheet(made(order(colors=WHITE), rules), rules, title="labels", made=at("2026-03-13T09:00"))
        assert isinstance(sheet, bytes)
        first, last = pages(sheet)
        assert first.count("NOT COMPLETE") == 2
        assert "your address" in last

    def test_long_parts_are_set_smaller_and_too_long_ones_refused(self) -> None:
        long = IngredientPart(label="butter", parts=("cream and more of it",) * 18, allergens=("milk",))
        rules = told(butter=long)
        smaller = label_sheet(made(order(colors=WHITE), rules), rules, title="", made=at("2026-03-13T09:00"))
        assert isinstance(smaller, bytes)
        rules = told(butter=long.model_copy(update={"parts": ("cream and more of it",) * 80}))
        refused = label_sheet(made(order(colors=WHITE), rules), rules, title="", made=at("2026-03-13T09:00"))
        assert isinstance(refused, Problem)
        assert "too long" in refused.what

    def test_any_letters_of_the_baker_are_drawn(self) -> None:
        rules = told({"made_by": "Zoë Łęcka, Жанна, 李", "address": "ul. Świętego 1"})
        sheet = label_sheet(made(order(colors=WHITE), rules), rules, title="李", made=at("2026-03-13T09:00"))
        assert isinstance(sheet, bytes)
        assert "Zoë Łęcka, Жанна, ‹Li›" in pages(sheet)[0]


def test_the_share_of_the_oven_is_the_recipes() -> None:
    rules = told()
    dry = rules.recipes["vanilla"].model_copy(update={"bake_loss": Decimal(0)})
    heavier = rules.model_copy(update={"recipes": rules.recipes | {"vanilla": dry}})
    light, heavy = (only(order(colors=WHITE), each).estimate for each in (rules, heavier))
    assert heavy - light == pytest.approx(12 * 34.75 * 0.12, abs=0.5)


def test_what_the_customer_can_not_eat_is_noted_and_claimed_nowhere() -> None:
    found = made(order(colors=WHITE, dietary=("nut-free",)), told())
    assert any("nut-free" in note and "local code" in note for note in found.notes)
    assert "nut" not in " ".join(text for _, text in lines_of(found.labels[0], whole=True)).casefold()


def test_a_parcel_brings_the_caution_on_state_lines() -> None:
    posted, fetched = (made(order(colors=WHITE, handover=way), told()).notes for way in ("ship", "pickup"))
    assert any("state line" in note for note in posted)
    assert not any("state line" in note for note in fetched)


@pytest.mark.parametrize(
    ("parts", "allergens", "asked"),
    [
        (None, None, "its own ingredients and its allergens, from the package (baking_powder,"),
        (None, (), "its own ingredients, from the package"),
        (("cornstarch",), None, "baking powder: its allergens, from the package"),
        ((), (), ""),
    ],
)
def test_each_ingredient_is_asked_for_once(parts: Any, allergens: Any, asked: str) -> None:
    part = IngredientPart(label="baking powder", parts=parts, allergens=allergens)
    missing = made(order(colors=WHITE), told(**{"baking powder": part})).missing
    assert len(missing) == (1 if asked else 0)
    assert all(asked in lack for lack in missing)
