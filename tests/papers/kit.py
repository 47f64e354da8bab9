"""Orders, a house that tells all that a label needs, and PDF pages read back by another program's hand."""

from __future__ import annotations

import io
from datetime import date, datetime, time
from typing import Any

from pypdf import PdfReader

from intake.house import House
from intake.house_recipes import IngredientPart, LabelsPart
from intake.model import Cell, Draft, Due, Order, State
from tests.kitchen.kit import house

DAY = date(2026, 3, 14)
TOLD = {
    "flour": IngredientPart(label="wheat flour", parts=("wheat", "niacin"), allergens=("wheat",)),
    "butter": IngredientPart(label="butter", parts=("cream", "salt"), allergens=("milk",)),
    "sugar": IngredientPart(label="sugar", parts=(), allergens=()),
    "egg": IngredientPart(label="eggs", parts=(), allergens=("egg",)),
    "vanilla extract": IngredientPart(label="vanilla extract", parts=("water", "alcohol"), allergens=()),
    "salt": IngredientPart(label="salt", parts=(), allergens=()),
    "baking powder": IngredientPart(label="baking powder", parts=("cornstarch",), allergens=()),
    "powdered sugar": IngredientPart(label="powdered sugar", parts=("sugar", "cornstarch"), allergens=()),
    "meringue powder": IngredientPart(label="meringue powder", parts=("egg whites",), allergens=("egg",)),
    "water": IngredientPart(label="water", parts=(), allergens=()),
}
LABELS = LabelsPart(
    identity="Decorated sugar cookies",
    made_by="Dana Reyes",
    address="3 Tansy Lane, Alder, MN 55999",
    home_kitchen="These cookies are homemade.",
    colors={"white": (), "red": ("Red 40",)},
)


def told(labels: dict[str, Any] | None = None, **ingredients: IngredientPart) -> House:
    """A house that has told everything, with what is given put in its place."""
    return house().model_copy(
        update={"ingredients": TOLD | ingredients, "labels": LABELS.model_copy(update=labels or {})}
    )


def order(number: int = 1, *, step: str = "", note: str = "", **values: Any) -> Order:
    values = {"count": 24, "due": Due.on(DAY, time(14)), "handover": "pickup", **values}
    cells = {name: Cell(value, sure=True) for name, value in values.items() if value is not None}
    return Order(number, "t1", number, State.BOOKED, Draft(**cells), step=step, note=note)


def at(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=house().zone)


def pages(pdf: bytes) -> list[str]:
    """The words of each page."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages]


def texts_at(pdf: bytes) -> list[tuple[str, float, float]]:
    """Each text with its place in millimetres from the left and the foot of its page."""
    found: list[tuple[str, float, float]] = []

    def seen(text: str, _cm: Any, tm: list[float], _font: Any, _size: Any) -> None:
        if text.strip():
            found.append((text, tm[4] / 72 * 25.4, tm[5] / 72 * 25.4))

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=seen)
    return found


def sizes(pdf: bytes) -> set[tuple[float, float]]:
    """The pages' sides in millimetres."""
    boxes = [page.mediabox for page in PdfReader(io.BytesIO(pdf)).pages]
    return {(round(float(box.width) / 72 * 25.4, 1), round(float(box.height) / 72 * 25.4, 1)) for box in boxes}
