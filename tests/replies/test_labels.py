"""The labels of price lines in Spanish; a label of the baker's own stays hers."""

from __future__ import annotations

import pytest

from intake.replies.words import label_words


@pytest.mark.parametrize(
    ("label", "expected"),
    [
        ("24 cookies, plain", "24 galletas, sencillas"),
        ("1 mini cookie, plain", "1 galleta mini, sencilla"),
        ("24 mini cookies, elaborate", "24 galletas mini, elaboradas"),
        ("12 large cookies, detailed", "12 galletas grandes, detalladas"),
        ("Discount", "Descuento"),
        ("Sales tax", "Impuesto sobre las ventas"),
        ("Shipping, 2 parcels", "Envío, 2 paquetes"),
        ("Courtesy, plain", "Courtesy, plain"),
    ],
)
def test_in_spanish(label: str, expected: str) -> None:
    assert label_words(label, "es") == expected
    assert label_words(label, "en") == label
