"""Recipes in grams, and the refusal of those that can't be true. The doughs and icings named are published ones."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from intake.house import House, default_house
from intake.house_recipes import IngredientPart, RecipePart
from intake.kitchen.recipes import Recipe, ingredient, recipe_for, recipes, weighed
from intake.model import Problem
from tests.kitchen.kit import house


def with_recipe(kind: str, *lines: str, **more: Any) -> House:
    part = RecipePart.model_validate({"kind": kind, "ingredients": lines, **more})
    return house().model_copy(update={"recipes": {"mine": part}})


def made(kind: str, *lines: str, **more: Any) -> Recipe | Problem:
    return recipe_for(with_recipe(kind, *lines, **more), kind)


# Each with its size and what was published for it; the weights of trade practice's tested recipes.
DECEMBER_1989 = ("2.5 cups flour", "1/4 tsp salt", "1 cup butter", "1 cup sugar", "1 egg", "1/2 tsp vanilla")
FORTY_TWO = (
    *("2.5 cups flour", "3/4 cup butter", "2/3 cup sugar", "2 tbsp milk", "1 tsp baking powder"),
    *("1 tsp vanilla extract", "1/2 tsp salt", "2 eggs"),
)
TEXTBOOK = (
    *("8 oz butter", "10 oz sugar", "2 oz egg", "2 oz milk", "20 oz flour"),
    *("1/2 tsp salt", "1 tsp vanilla", "1/2 tsp baking powder"),
)
SOUR_CREAM = ("4 cups flour", "2 cups sugar", "1 cup butter", "115 g sour cream", "2 eggs")
STANDARD_ICING = ("1 lb powdered sugar", "3 tbsp meringue powder", "6 tbsp water")


@pytest.mark.parametrize(
    ("lines", "weight"),
    [
        pytest.param(DECEMBER_1989, 793, id="US magazine, December 1989"),
        pytest.param(FORTY_TWO, 758, id="cooks.com g52zq333"),
        pytest.param(TEXTBOOK, 1200, id="Goodheart-Willcox textbook, recipe 129"),
        pytest.param(SOUR_CREAM, 1372, id="message board"),
    ],
)
def test_published_doughs_are_taken_at_their_published_weight(lines: tuple[str, ...], weight: int) -> None:
    recipe = made("dough", *lines)
    assert isinstance(recipe, Recipe), recipe
    assert recipe.grams == pytest.approx(weight, rel=0.025)


def test_a_pound_of_sugar_makes_the_published_icing() -> None:
    recipe = made("icing", *STANDARD_ICING)
    assert isinstance(recipe, Recipe)
    # 454 + 24 (to 30) + 89 g
    assert 566 - 1 <= recipe.grams <= 573


@pytest.mark.parametrize("kind", ["dough", "icing"])
def test_the_defaults_are_true(kind: str) -> None:
    found = recipes(default_house(), kind)
    assert found
    assert not [each for each in found if isinstance(each, Problem)]


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        pytest.param([*DECEMBER_1989[:1], "1 cup salt", *DECEMBER_1989[2:]], "is salt", id="a cup for a spoon of salt"),
        pytest.param(["2.5 tbsp flour", *DECEMBER_1989[1:]], "% of it is fat", id="flour by the spoon"),
        pytest.param([*DECEMBER_1989[:2], *DECEMBER_1989[3:]], "0% of it is fat", id="no fat"),
        pytest.param(["25 kg flour", "10 kg butter", "20 kg sugar"], "50 kg", id="a ton"),
        pytest.param(["2 cups flour", "a pinch of salt"], "an amount", id="no amount"),
        pytest.param(["2 cups flour", "1 cup sprinkles"], "isn't known", id="no weight"),
    ],
)
def test_a_dough_that_can_not_be_is_refused_with_the_reason(lines: list[str], says: str) -> None:
    refused = made("dough", *lines)
    assert isinstance(refused, Problem)
    assert says in str(refused)
    assert "house rules" in refused.todo


@pytest.mark.parametrize(
    ("count", "says"),
    [(21, None), (24, None), (30, "it can't make 30"), (100, "it can't make 100"), (6, "far more than 6")],
)
def test_a_yield_is_held_against_the_weight(count: int, says: str | None) -> None:
    """Published: about 21 of 3 in from 793 g, just under 1/4 in thick."""
    found = made("dough", *DECEMBER_1989, makes={"count": count, "across": "3 in", "thick": "1/4 in"})
    assert isinstance(found, Recipe) if says is None else isinstance(found, Problem) and says in found.what


@pytest.mark.parametrize(
    ("lines", "cups", "true"),
    [
        pytest.param(STANDARD_ICING, "3", True, id="stated"),
        pytest.param(STANDARD_ICING, "2", True, id="measured by bakers"),
        pytest.param(STANDARD_ICING, "1.6", False, id="less than it fills without air, 1.66"),
        pytest.param(
            ["3.5 cups sifted powdered sugar", "1/4 cup water", "2 tbsp meringue powder"],
            "1",
            False,
            id="reprint of 1994",
        ),
        pytest.param(
            ["3.5 cups powdered sugar", "2 egg whites", "30 g lemon juice"], "2", True, id="home cookbook, 2400702"
        ),
    ],
)
def test_a_volume_of_icing_is_held_against_what_its_parts_fill(lines: list[str], cups: str, true: bool) -> None:
    found = made("icing", *lines, makes={"cups": Decimal(cups)})
    assert isinstance(found, Recipe if true else Problem), found


def test_an_ingredient_that_nobody_knows_has_the_benefit_of_the_doubt() -> None:
    found = made("dough", "400 g my gluten-free mix", "227 g butter", "200 g sugar", "1 egg")
    assert isinstance(found, Recipe)


def test_the_recipe_of_a_flavor_else_the_first() -> None:
    rules = default_house()
    names = [recipe_for(rules, "dough", flavor) for flavor in ("", "Chocolate", "cocoa", "rhubarb")]
    assert [found.name for found in names if isinstance(found, Recipe)] == [
        "vanilla", "chocolate", "chocolate", "vanilla",
    ]  # fmt: skip


def test_without_a_recipe_it_is_said() -> None:
    found = recipe_for(house().model_copy(update={"recipes": {}}), "dough")
    assert isinstance(found, Problem)
    assert "no recipe for dough" in found.what


def test_the_parts_of_a_weight_sum_to_it() -> None:
    recipe = made("dough", *FORTY_TWO, "1 tbsp flour")
    assert isinstance(recipe, Recipe)
    assert sum(recipe.needs(500).values()) == pytest.approx(500)
    assert recipe.needs(recipe.grams)["flour"] == pytest.approx(312.5 + 125 / 16)


def test_what_the_baker_says_of_an_ingredient() -> None:
    part = IngredientPart.model_validate(
        {"label": "bread flour", "allergens": ["Wheat"], "cup": 120, "package": "10 cups", "price": 5}
    )
    rules = house().model_copy(update={"ingredients": {"flour": part}})
    assert weighed(rules, "1 cup all-purpose flour") == ("flour", 120)
    assert ingredient(rules, "flour").package_grams == 1200
    assert ingredient(rules, "flour").allergens == ("wheat",)
    assert ingredient(rules, "sprinkles").allergens is None
