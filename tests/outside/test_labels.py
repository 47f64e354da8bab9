"""Allergen lists and icing batches against what is published; the source stands beside each."""

from __future__ import annotations

import pytest

from intake.house_recipes import ALLERGENS, TREE_NUTS, IngredientPart
from intake.kitchen.recipes import Recipe, recipe_for
from intake.model import Problem
from tests.kitchen.test_recipes import STANDARD_ICING, made, with_recipe


def test_the_nine_allergens_of_the_united_states() -> None:
    """21 USC 321(qq): FALCPA 2004 and the FASTER Act, in force 1 January 2023."""
    assert set(ALLERGENS) == {
        "milk", "egg", "fish", "crustacean shellfish", "tree nuts", "peanut", "wheat", "soy", "sesame",
    }  # fmt: skip
    assert len(ALLERGENS) == 9


def test_the_twelve_tree_nuts_of_the_united_states() -> None:
    """FDA, Questions and Answers Regarding Food Allergens, edition 5 (6 January 2025), table 1."""
    assert {nut.removesuffix(" nut").casefold() for nut in TREE_NUTS} == {
        *("almond", "black walnut", "brazil", "california walnut", "cashew", "hazelnut", "heartnut"),
        *("macadamia", "pecan", "pine", "pistachio", "walnut"),
    }
    assert len(TREE_NUTS) == 12


@pytest.mark.parametrize(
    "nut",
    [
        *("coconut", "beech nut", "butternut", "chestnut", "chinquapin", "cola nut", "ginkgo", "hickory", "palm nut"),
        *("pili nut", "shea nut", "gluten", "nuts", ""),
    ],
)
def test_what_is_no_allergen_by_that_list_is_refused(nut: str) -> None:
    """The same edition took coconut and ten others off."""
    with pytest.raises(ValueError, match="one of milk, egg, fish"):
        IngredientPart.model_validate({"allergens": [nut]})


def test_a_filbert_is_a_hazelnut() -> None:
    assert IngredientPart.model_validate({"allergens": ["Filbert"]}).allergens == ("hazelnut",)


@pytest.mark.parametrize(
    ("powder", "water", "least", "most"), [("24 g", "89 g", 566, 568), ("30 g", "118 g", 596, 604)]
)
def test_the_mass_of_an_icing_batch(powder: str, water: str, least: float, most: float) -> None:
    """A pound of sugar, 3 tbsp meringue powder, 6 tbsp to 1/2 cup of water: 566 to 596 g (TV-station recipe)."""
    recipe = made("icing", "1 lb powdered sugar", f"{powder} meringue powder", f"{water} water")
    assert isinstance(recipe, Recipe)
    assert least <= recipe.grams <= most


def test_an_icing_is_never_denser_than_its_parts() -> None:
    """393 mL, 1.66 cups, without any air (component densities, from memory): 1.65 cups are refused, 1.67 are not."""
    for cups, true in (("1.65", False), ("1.68", True)):
        found = recipe_for(with_recipe("icing", *STANDARD_ICING[:1], "24 g meringue powder", "89 g water",
                                       makes={"cups": cups}), "icing")  # fmt: skip
        assert isinstance(found, Recipe if true else Problem), cups
