"""What the baker should bear in mind about an order: shown on the screen, never sent."""

from __future__ import annotations

from intake.house import House
from intake.model import Order
from intake.replies.questions import plain
from intake.replies.words import joined


def cautions(order: Order, house: House) -> tuple[str, ...]:
    """The usual cautions that this order calls for, one sentence or two each. None of them says what is allowed."""
    draft = order.draft
    found = []
    needs = [plain(need) for need in draft.dietary.value or ()]
    if needs:
        said = joined(needs, "en")
        sure = "" if draft.dietary.sure else " (to check with the customer)"
        found.append(
            f"Asked for: {said}{sure}. Look over every ingredient's label, and don't promise what a shared kitchen "
            "can't keep. What may be claimed on a label is set by your local code."
        )
    elif draft.dietary.why:
        found.append(f"An allergy or a diet may be meant: {plain(draft.dietary.why)}. Ask before you bake.")
    if draft.handover.value == "ship":
        found += parcel_cautions(house)
    return tuple(found)


# Answers by which something is agreed or handed over.
_AGREES = ("ask", "quote", "confirm", "change", "ready", "sent")


def to_mind(kind: str, order: Order, house: House) -> tuple[str, ...]:
    """The cautions to look at before an answer of `kind` goes."""
    return cautions(order, house) if kind in _AGREES else ()


def parcel_cautions(house: House) -> tuple[str, ...]:
    """What to bear in mind of any parcel."""
    days = joined([day.capitalize() for day in house.shipping.send_on], "en")
    region = f" You sell in {house.house.sales_region}." if house.house.sales_region else ""
    return (
        f"Selling across a state line may not be allowed for a home kitchen.{region} "
        "Check your local rules, and ask the licensing office, before you promise a parcel.",
        f"An arrival date is the carrier's estimate, never a promise. You post on {days}, never on the eve of a "
        "carrier's holiday.",
    )
