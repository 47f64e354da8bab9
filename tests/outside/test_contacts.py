"""Telephone numbers against the examples of the phonenumbers library, e-mail addresses against those of RFC 5322."""

from __future__ import annotations

import phonenumbers
import pytest
from phonenumbers import PhoneNumberFormat

from tests.reading.kit import draft_of

REGIONS = ("US", "CA", "GB", "IE", "AU", "NZ", "MX", "ES", "DE", "FR")


def digits(text: str | None) -> str:
    return "".join(c for c in text or "" if c.isdigit())


@pytest.mark.parametrize("region", REGIONS)
def test_the_librarys_example_number_of_a_region(region: str) -> None:
    example = phonenumbers.example_number(region)
    forms = [PhoneNumberFormat.INTERNATIONAL, PhoneNumberFormat.E164]
    if region in ("US", "CA", "GB", "MX"):
        forms.append(PhoneNumberFormat.NATIONAL)
    for form in (phonenumbers.format_number(example, form) for form in forms):
        draft = draft_of(f"Hi! 2 dozen owl cookies for May 3 please, I'll pick up. Call me at {form} with questions")
        assert digits(draft.phone.value) == digits(form)
        assert draft.count.value == 24


@pytest.mark.parametrize(
    "address",
    [
        # RFC 5322, appendix A.1.1 to A.1.3 and A.4.
        "jdoe@machine.example",
        "mary@example.net",
        "john.q.public@example.com",
        "mary@x.test",
        "jdoe@example.org",
        "one@y.test",
        "boss@nil.test",
        "sysservices@example.net",
        "ed@silly.example",
        "joe@where.test",
        "smith@home.example",
        # 3.2.3: every character that an atom may hold.
        "a!#$%&'*+-/=?^_`{|}~z@example.com",
    ],
)
def test_addresses_of_rfc_5322(address: str) -> None:
    draft = draft_of(f"Hi! 2 dozen owl cookies for May 3 please, I'll pick up. My mail is {address} thanks")
    assert draft.email.value == address


@pytest.mark.parametrize("text", ["two @ five", "@home", "me@", "meet @ 3.30", "a@b", "x @example.com"])
def test_what_is_no_address(text: str) -> None:
    assert draft_of(f"2 dozen owl cookies for May 3 please, pick up, {text}").email.value is None
