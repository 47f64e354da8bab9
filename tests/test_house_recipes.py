"""The house rules of the mixing bowl: older files, mistakes named by their line."""

from __future__ import annotations

import re

import pytest

from intake.house import default_house, default_text, parse
from intake.model import OrdertinError

SECTIONS = ("recipes", "ingredients", "cookies", "icing", "labels", "papers")


def without(*sections: str) -> str:
    """The defaults without some of their sections."""
    parts = re.split(r"(?m)^(?=\[)", default_text())
    return "".join(part for part in parts if not re.match(rf"\[({'|'.join(sections)})\b", part))


def test_an_older_file_has_the_defaults_of_what_it_lacks() -> None:
    older = without(*SECTIONS)
    assert "[recipes" not in older
    assert parse(older) == default_house()


@pytest.mark.parametrize("section", SECTIONS)
def test_a_section_of_the_file_is_its_own(section: str) -> None:
    house = parse(without(section))
    assert getattr(house, section) == getattr(default_house(), section)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("across =", 'across = "3"', "`cookies.across` must be a length such as"),
        ("across =", 'across = "3 ft"', "`cookies.across` must be a length such as"),
        ("across =", 'across = "3 m"', "`cookies.across` must be a length such as"),
        ("across =", "across = 3", "`cookies.across` must be a length such as"),
        ("across =", 'across = "40 in"', "`cookies.across` must be a length from 10 to 400 mm"),
        ("thick =", 'thick = "4 in"', "`cookies.thick` must be a length from 1 to 30 mm"),
        ("density = 1.20", "density = 12", "`cookies.density` must be less than or equal to 1.5"),
        ("density = 1.30", "density = 1.6", "`icing.density` must be less than or equal to 1.44"),
        ("waste =", "waste = 92", "`cookies.waste` must be less than or equal to 50"),
        ("least_bag", "least_bag = 0", "`icing.least_bag` must be greater than 0"),
        ("page =", 'page = "A5"', "`papers.page` must be 'letter' or 'a4'"),
        ("flour =", 'flour = { allergens = ["gluten"] }', "`ingredients.flour.allergens` must be one of milk, egg"),
        ("flour =", 'flour = { cup = 0 }', "`ingredients.flour.cup` must be greater than 0"),
        ("flour =", 'flour = { prize = 4 }', "`ingredients.flour.prize` is not a house rule"),
        ("[recipes.chocolate]", "[recipes.chocolate]\nmakse = {}", "`recipes.chocolate.makse` is not a house rule"),
    ],
)
def test_a_mistake_is_named_with_its_line(old: str, new: str, says: str) -> None:
    lines = default_text().split("\n")
    number = next(n for n, line in enumerate(lines, 1) if line.startswith(old))
    lines[number - 1] = new
    with pytest.raises(OrdertinError) as error:
        parse("\n".join(lines), where="house.toml")
    assert error.value.problem.what.startswith(says)
    at = int(error.value.problem.where.removeprefix("house.toml, line "))
    assert at in (number, number + 1)
