from __future__ import annotations

import pytest

from intake.inbox.baker import Baker


@pytest.mark.parametrize(
    ("listed", "called", "hers"),
    [
        pytest.param("Nell", "nell", True, id="case"),
        pytest.param("Nell  Ames", " nell ames", True, id="spacing"),
        pytest.param("Nell's Tin", "Nell’s Tin", True, id="apostrophe"),
        pytest.param("Zoë", "Zoe\u0308", True, id="one letter or two code points"),
        pytest.param("nell@example.org", "Nell@Example.ORG", True, id="address"),
        pytest.param("Nell <nell@example.org>", "nell@example.org", True, id="address with a name"),
        pytest.param("nell@example.org", "Kitchen <nell@example.org>", True, id="address within a name"),
        pytest.param("+1 312 555 0100", "3125550100", True, id="number without country code"),
        pytest.param("(312) 555-0100", "tel:+13125550100", True, id="number with country code"),
        pytest.param("312-555-0100", "312-555-0101", False, id="another number"),
        pytest.param("555-0100", "312 555 0100", False, id="a short number is not the end of every number"),
        pytest.param("Nell", "Nelly", False, id="longer name"),
        pytest.param("Nell", "Nell Dorsey", False, id="same first name"),
        pytest.param("nell@example.org", "nell@example.org.example.com", False, id="longer address"),
        pytest.param("", "", False, id="nobody"),
        pytest.param("12", "12", True, id="a name of digits"),
    ],
)
def test_baker_goes_by(listed: str, called: str, hers: bool) -> None:
    assert Baker.of([listed]).is_(called) is hers


def test_nobody_is_the_baker_where_none_is_listed() -> None:
    assert not Baker.of([]).known
    assert not Baker.of([]).is_("Nell", "nell@example.org")


def test_customer_with_the_bakers_first_name_is_not_her_in_mail() -> None:
    baker = Baker.of(["Nell", "nell@example.org"])
    assert baker.mails_as("Anything", "nell@example.org")
    assert not baker.mails_as("Nell", "nell.pruitt@example.com")
    assert Baker.of(["Nell"]).mails_as("Nell", "nell.pruitt@example.com")
