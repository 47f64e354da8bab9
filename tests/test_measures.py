"""Amounts as a baker types them, against published weights: USDA SR28 household weights, NIST SP 811, NIST SP 430."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.measures import grams, measure, millimetres, same


@pytest.mark.parametrize(
    ("typed", "weight"),
    [
        # USDA SR28: 20081, 19335, 19336, 19334, 01001, 01123, 01124, 02050, 19350, 18369, 02047, 14429, 19165
        ("2 1/2 cups flour", "312.5"),
        ("2½ cups all-purpose flour", "312.5"),
        ("1 cup sugar", "200"),
        ("1 tsp granulated sugar", "4.2"),
        ("4 cups powdered sugar", "480"),
        ("1 cup sifted powdered sugar", "100"),
        ("1 cup packed brown sugar", "220"),
        ("1 cup unpacked brown sugar", "145"),
        ("2 sticks butter", "226"),
        ("1 cup unsalted butter", "227"),
        ("3 tbsp butter", "42.6"),
        ("2 large eggs", "100"),
        ("1 egg", "50"),
        ("1 small egg", "38"),
        ("1 extra large egg", "56"),
        ("3 egg whites", "99"),
        ("3 tsp vanilla", "12.6"),
        ("1 tbsp vanilla extract", "13"),
        ("2 tbsp light corn syrup", "44"),
        ("1 tsp baking powder", "4.6"),
        ("1/4 tsp salt", "1.5"),
        ("1 cup cocoa", "86"),
        # From a larger measure of the same row, by 1 cup = 16 tbsp = 48 tsp (NIST SP 430, 2004)
        ("1/4 cup butter", "56.75"),
        ("2 tbsp milk", "30.5"),
        ("6 tbsp water", "88.8"),
        ("48 tsp flour", "125"),
        # Weights are weights (NIST SP 811: 1 oz = 28.349523125 g)
        ("12 oz flour", "340.1942775"),
        ("1 lb powdered sugar", "453.59237"),
        ("250 g sprinkles", "250"),
        ("0.5kg glitter", "500"),
    ],
)
def test_weights(typed: str, weight: str) -> None:
    assert grams(measure(typed)) == Fraction(weight)


def test_meringue_powder_lies_in_the_range_that_recipes_give() -> None:
    assert 24 <= grams(measure("3 tbsp meringue powder")) <= Fraction("32.4")


def test_what_was_typed_is_kept() -> None:
    assert measure("  2 1/2  cups flour ").typed == "2 1/2 cups flour"


def test_the_bakers_own_cup_comes_first_and_its_spoons_with_it() -> None:
    own = {"cup": Fraction(120)}
    assert [grams(measure(typed), own) for typed in ("1 cup flour", "16 tbsp flour")] == [120, 120]
    assert grams(measure("1 lb flour"), own) == grams(measure("1 lb flour"))


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "an amount"),
        ("flour", "an amount"),
        ("-2 cups flour", "an amount"),
        ("0 cups flour", "above 0"),
        ("1/0 cup flour", "divided by 0"),
        ("2 cups", "doesn't say of what"),
        ("2 flour", "with its measure"),
        ("1 cup sprinkles", "how much that weighs by the cup isn't known"),
        ("1 stick salt", "by the stick"),
        ("1.2.3 cups flour", "an amount"),
        ("9999999 kg flour", "above 0"),
    ],
)
def test_what_is_no_amount_is_said(typed: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        grams(measure(typed))


@given(st.text(max_size=200))
def test_any_text_is_an_amount_or_a_plain_refusal(text: str) -> None:
    try:
        assert grams(measure(text)) > 0
    except ValueError as error:
        assert str(error)


@pytest.mark.parametrize(
    ("typed", "length"),
    [("1/4 in", "6.35"), ("3 inches", "76.2"), ('3.5"', "88.9"), ("7.5 cm", "75"), ("6mm", "6"), ("1 1/2 in", "38.1")],
)
def test_lengths(typed: str, length: str) -> None:
    assert millimetres(typed) == Fraction(length)


@pytest.mark.parametrize("typed", ["", "3", "in", "three inches", "3 ft", "0 mm"])
def test_what_is_no_length_is_said(typed: str) -> None:
    with pytest.raises(ValueError, match="a length such as"):
        millimetres(typed)


def test_one_ingredient_has_one_name() -> None:
    assert {same(said) for said in ("Confectioners’ sugar", "icing  sugar", "powdered sugar")} == {"powdered sugar"}
    assert same("Brown sugar") != same("sugar")
