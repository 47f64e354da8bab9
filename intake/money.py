"""How an amount of money is written, and how many decimals its currency has."""

from __future__ import annotations

from decimal import Decimal

# ISO 4217, List One: the currencies whose minor unit is not a hundredth. Every other code has two decimals.
_DECIMALS = {
    **dict.fromkeys(("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI"), 0),
    **dict.fromkeys(("VND", "VUV", "XAF", "XOF", "XPF"), 0),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
    **dict.fromkeys(("CLF", "UYW"), 4),
}


def decimals(currency: str) -> int:
    """How many decimals amounts in `currency` (a code of ISO 4217) have: 2 unless the standard says otherwise."""
    return _DECIMALS.get(currency, 2)


def shown(amount: Decimal, currency: str) -> str:
    """`$84.00` for USD, `EUR 84.00` for the rest. A rate finer than the minor unit keeps all its decimals."""
    exponent = amount.normalize().as_tuple().exponent
    places = max(decimals(currency), -exponent if isinstance(exponent, int) else 0)
    sign = "-" if amount < 0 else ""
    mark = "$" if currency == "USD" else f"{currency} "
    return f"{sign}{mark}{abs(amount):,.{places}f}"
