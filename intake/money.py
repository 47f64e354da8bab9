"""Amounts of money: which currencies there are, how many decimals each has, how an amount is written.

Amounts are `Decimal` in the currency's main unit, and whole numbers of its minor unit in the book. The one file that
imports babel, whose tables (CLDR) give the marks and separators of each locale; how many decimals there are is
ISO 4217's to say, from which CLDR departs for some currencies.
"""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache
from typing import Any

# ISO 4217, List One: every code that people pay with, and the two accounting units of Chile and Uruguay.
CURRENCIES = frozenset(
    "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CLF CLP"
    " CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL HTG HUF"
    " IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD"
    " MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB"
    " RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX USD"
    " UYU UYW UZS VED VES VND VUV WST XAF XCD XCG XOF XPF YER ZAR ZMW ZWG".split()
)
# The currencies whose minor unit is not a hundredth. Every other code has two decimals.
_DECIMALS = {
    **dict.fromkeys(("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI"), 0),
    **dict.fromkeys(("VND", "VUV", "XAF", "XOF", "XPF"), 0),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
    **dict.fromkeys(("CLF", "UYW"), 4),
}
HOME = "en_US"


def decimals(currency: str) -> int:
    """How many decimals amounts in `currency` (a code of ISO 4217) have: 2 unless the standard says otherwise."""
    return _DECIMALS.get(currency, 2)


def minor(amount: Decimal, currency: str) -> int:
    """`amount` as a whole number of minor units. Raises ValueError where it is finer than the currency."""
    units = amount.scaleb(decimals(currency))
    if units != units.to_integral_value():
        raise ValueError(f"{amount} is finer than the smallest amount of {currency}")
    return int(units)


def of_minor(units: int, currency: str) -> Decimal:
    """The amount that `minor` made `units` from, with all the decimals of its currency."""
    return Decimal(int(units)).scaleb(-decimals(currency))


def known_locale(name: str) -> bool:
    """Whether CLDR knows the locale `name`, such as `en_US`."""
    try:
        _pattern(name)
    except (ValueError, LookupError):
        return False
    return True


def in_language(locale: str, language: str) -> str:
    """`locale` for a text in `language`: the language's own way in the same country, where CLDR knows one."""
    country = locale.partition("_")[2].rpartition("_")[2]
    wanted = f"{language}_{country}" if country else language
    return wanted if locale.partition("_")[0] != language and known_locale(wanted) else locale


@lru_cache(maxsize=4096)
def shown(amount: Decimal, currency: str, locale: str = HOME) -> str:
    """`$84.00`, `-€1,250.50`, `¥84`: `amount` as `locale` writes it. A rate finer than that keeps its decimals.

    Raises ValueError or LookupError for an unknown locale.
    """
    exponent = amount.normalize().as_tuple().exponent
    places = max(decimals(currency), -exponent if isinstance(exponent, int) else 0)
    text = _with_places(locale, places).apply(
        amount, locale, currency=currency, currency_digits=False, decimal_quantization=False
    )
    # A space keeps letters and digits apart (UTS 35, currency spacing).
    return re.sub(r"(?<=[^\W\d_])(?=\d)|(?<=\d)(?=[^\W\d_])", "\N{NO-BREAK SPACE}", text)


@lru_cache(maxsize=64)
def _with_places(locale: str, places: int) -> Any:
    from babel.numbers import parse_pattern

    pattern = parse_pattern(_pattern(locale))
    pattern.frac_prec = (places, places)
    return pattern


def _pattern(locale: str) -> str:
    from babel.core import Locale, UnknownLocaleError

    try:
        found: str = Locale.parse(locale).currency_formats["standard"].pattern
    except UnknownLocaleError as error:
        raise LookupError(str(error)) from None
    return found
