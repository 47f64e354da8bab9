"""An order as steps of work with waits between them, from the house rules.

Minutes of work grow with the count, the level, the colours and the lettering; waits don't. An order goes through a
step whole before the next begins. Work by the cookie is put down and taken up again in half hours at most; a batch
of dough and an oven load are done in one go. Everything is rounded up to whole ticks of five minutes.

| step | work | uses | then waits |
| --- | --- | --- | --- |
| dough | mix, batch by batch | hands | chill |
| bake | roll and cut | hands | |
| bake | each load, `bake_minutes` + `turn_minutes` | oven; hands for the turn | cool |
| flood | mix and tint icing: any time before flooding | hands | |
| flood | flood; two passes but for plain cookies | hands | crust, then dry before detail |
| detail | detail and letter, where there is any | hands | dry before packing |
| pack | pack | hands | |

A parcel's way to the post office comes after all of these: it ends when the parcel is due, see `tasks.Row`.
The turn is put at the end of a load, for what is done has to come out at that minute, and the next slides in.
The baker is in the kitchen for all of a load, her hands free for other work until the turn.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from decimal import Decimal

from intake.house import House
from intake.kitchen.hours import DAY_TICKS, TICK, ticks
from intake.kitchen.jobs import Begun
from intake.model import STEPS, Job

# Long enough to get into the work, short enough to fill the rest of an evening.
_SITTING = 30


@dataclass(frozen=True, slots=True)
class Step:
    """Work of one kind. `parts` are the minutes of its stretches, done in this order, each in one go.

    `hands` are the minutes of hands at the end of each stretch, None for all of it; `oven` holds the oven throughout.
    `after` pairs the place of an earlier step with the minutes to wait after its end.
    """

    name: str
    label: str
    parts: tuple[int, ...]
    after: tuple[tuple[int, int], ...] = ()
    oven: bool = False
    hands: int | None = None


@dataclass
class _Card:
    """Steps as they are put down one after another; `last` is what the next waits for."""

    steps: list[Step] = field(default_factory=list)
    last: tuple[tuple[int, int], ...] = ()

    def put(self, step: Step, *, wait: int = 0) -> None:
        self.steps.append(step)
        self.last = ((len(self.steps) - 1, wait),)


def steps_of(job: Job, house: House) -> tuple[Step, ...]:
    """The steps that `job` has before it, in an order in which each comes after those it waits for. Minutes."""
    work, waits, oven = house.steps, house.waits, house.oven
    to_come = STEPS[STEPS.index(job.step) :] if isinstance(job, Begun) else STEPS
    card = _Card()
    if "dough" in to_come:
        batches = math.ceil(job.count / work.cookies_per_batch)
        card.put(Step("dough", "mix dough", (_whole(work.mix_dough_batch),) * batches), wait=waits.chill)
    if "bake" in to_come:
        card.put(Step("bake", "roll and cut", _sittings(work.cut_each * job.count), card.last))
        loads = math.ceil(job.count / (oven.trays * oven.cookies_per_tray))
        minutes = _whole(oven.bake_minutes + oven.turn_minutes)
        turn = ticks(oven.turn_minutes) * TICK
        card.put(Step("bake", "bake", (minutes,) * loads, card.last, oven=True, hands=turn), wait=waits.cool)
    if "flood" in to_come:
        _flood(card, job, house)
    fine = house.steps.detail_each.of(job.level) * job.count + work.letter_each * job.lettered
    if "detail" in to_come and fine:
        label = "detail and letter" if job.lettered else "detail"
        card.put(Step("detail", label, _sittings(fine), card.last))
    if card.last:
        card.last = ((card.last[0][0], waits.dry_before_pack),)
    card.put(Step("pack", "pack", _sittings(work.pack_each * job.count + work.pack_order), card.last))
    return tuple(card.steps)


def _flood(card: _Card, job: Job, house: House) -> None:
    work, waits = house.steps, house.waits
    baked = card.last
    icing = work.mix_icing + work.color_each * job.colors
    if icing:
        card.put(Step("flood", "mix and tint icing", _sittings(Decimal(icing))))
        baked = (*baked, *card.last)
    each = work.flood_each.of(job.level)
    flood = each * job.count
    # Sections that touch are flooded in a second pass over the cookies in the same order. While the other cookies
    # get their first pass the first one crusts, so only what is left of the crusting time has to be waited for.
    crust = 0 if job.level == "plain" else max(0, math.ceil(waits.crust - each / 2 * (job.count - 1)))
    if crust:
        card.put(Step("flood", "flood", _sittings(flood / 2), baked), wait=crust)
        touching = Step("flood", "flood touching sections", _sittings(flood / 2), card.last)
        card.put(touching, wait=waits.dry_before_detail)
    else:
        card.put(Step("flood", "flood", _sittings(flood), baked), wait=waits.dry_before_detail)


def _whole(minutes: int) -> int:
    # Even work that the house rules give no minutes happens at some moment, and the waits hang on that.
    return max(1, ticks(minutes)) * TICK


def _sittings(minutes: Decimal) -> tuple[int, ...]:
    whole, rest = divmod(max(1, ticks(minutes)) * TICK, _SITTING)
    return (_SITTING,) * whole + ((rest,) if rest else ())


def bake_from(job: Job, house: House) -> datetime:
    """The moment before which no cookie of `job` goes in the oven: `fresh_days` before it leaves the baker's hands.

    A parcel leaves them at the post office. Counted to its arrival instead, one that rests over a weekend on the road
    would have to be baked and sent in the same two evenings.
    """
    return job.due - timedelta(days=house.keeping.fresh_days)


def dough_ticks(house: House) -> int:
    """Longest time, in ticks, from the start of the first mixing to the last load. No days means half a day."""
    return house.keeping.dough_days * DAY_TICKS or DAY_TICKS // 2
