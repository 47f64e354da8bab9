"""An order as steps of work with waits between them, from the house rules.

Minutes of work grow with the count, the size, the level, the designs, the colours and the lettering; waits don't. An
order goes through a step whole before the next begins. Work by the cookie is put down and taken up again in half
hours at most; a batch of dough and an oven load are done in one go. Everything is rounded up to whole ticks of five
minutes.

| stage | work | uses | then waits |
| --- | --- | --- | --- |
| dough | mix, batch by batch; it keeps `dough_days` until the last load | hands | chill |
| bake | roll and cut; each further design a little longer | hands | |
| bake | each load, `bake_minutes` + `turn_minutes` | oven; hands for the turn | cool |
| flood | mix and tint icing: before flooding; it keeps `icing_days` until the last detail | hands | `color_rest` |
| flood | outline and flood, in passes where sections touch | hands | crust between passes, then dry before detail |
| detail | detail and letter, where there is any | hands | dry before packing |
| pack | pack | hands | |

The way to the post office or to the customer comes after all of these: it ends when the order is due, see
`tasks.Row`. The turn is put at the end of a load, for what is done has to come out at that minute, and the next slides
in. The baker is in the kitchen for all of a load, her hands free for other work until the turn.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from decimal import Decimal

from intake.house import House
from intake.kitchen.amounts import per_tray
from intake.kitchen.hours import DAY_TICKS, TICK, ticks
from intake.kitchen.jobs import Begun
from intake.model import STEPS, Job, Mark

# Long enough to get into the work, short enough to fill the rest of an evening.
SITTING = 30
MIX, CUT, BAKE, ICING, FLOOD, PACK = (
    *("mix dough", "roll and cut", "bake", "mix and tint icing", "outline and flood", "pack"),
)


@dataclass(frozen=True, slots=True)
class Step:
    """Work of one kind. `parts` are the minutes of its stretches, done in this order, each in one go.

    `hands` are the minutes of hands at the end of each stretch, None for all of it; `oven` holds the oven throughout.
    `after` pairs the place of an earlier step with the minutes to wait after its end. `keeps` is the place of the step
    that made what is used up here, and the ticks that it keeps, from that step's first start to this one's last.
    Of work that has begun, `gone` counts the stretches before those of `parts`; `ready` is when what was waited for
    is over, `by` until when what was made keeps; `begun` says since when the first of `parts` has been under way.
    """

    name: str
    label: str
    parts: tuple[int, ...]
    after: tuple[tuple[int, int], ...] = ()
    oven: bool = False
    hands: int | None = None
    keeps: tuple[int, int] | None = None
    gone: int = 0
    ready: datetime | None = None
    by: datetime | None = None
    begun: datetime | None = None


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
    work, waits, oven, rules = house.steps, house.waits, house.oven, house.kitchen
    card = _Card()
    batches = math.ceil(job.count * _area(job, house) / work.cookies_per_batch)
    card.put(Step("dough", MIX, (_whole(work.mix_dough_batch),) * batches), wait=waits.chill)
    cutting = work.cut_each * job.count + rules.design_each * (job.designs - 1)
    card.put(Step("bake", CUT, _sittings(cutting), card.last))
    loads = math.ceil(trays_of(job, house) / oven.trays)
    minutes = _whole(oven.bake_minutes + oven.turn_minutes)
    turn = ticks(oven.turn_minutes) * TICK
    baking = Step("bake", BAKE, (minutes,) * loads, card.last, oven=True, hands=turn, keeps=(0, dough_ticks(house)))
    card.put(baking, wait=waits.cool)
    _ice(card, job, house)
    card.last = ((card.last[0][0], waits.dry_before_pack),)
    card.put(Step("pack", PACK, _sittings(work.pack_each * job.count + work.pack_order), card.last))
    return _left(card.steps, job) if isinstance(job, Begun) else tuple(card.steps)


def _ice(card: _Card, job: Job, house: House) -> None:
    work, waits = house.steps, house.waits
    baked, mixed = card.last, None
    icing = work.mix_icing + work.color_each * job.colors
    if icing:
        card.put(Step("flood", ICING, _sittings(Decimal(icing))), wait=house.kitchen.color_rest)
        mixed = (len(card.steps) - 1, house.kitchen.icing_days * DAY_TICKS)
        baked = (*baked, *card.last)
    each = work.flood_each.of(job.level) * _area(job, house)
    passes = max(1, min(getattr(house.kitchen.flood_passes, job.level), job.colors))
    # Sections that touch are flooded in a later pass over the cookies in the same order. While the other cookies get
    # their first pass the first one crusts, so only what is left of the crusting time has to be waited for.
    crust = 0 if passes == 1 else max(0, math.ceil(waits.crust - each / passes * (job.count - 1)))
    if not crust:
        passes = 1
    for number in range(1, passes + 1):
        label = FLOOD if number == 1 else f"flood touching sections, pass {number} of {passes}"
        of_pass = Step("flood", label, _sittings(each * job.count / passes), baked)
        card.put(of_pass, wait=crust if number < passes else waits.dry_before_detail)
        baked = card.last
    fine = work.detail_each.of(job.level) * _area(job, house) * job.count + work.letter_each * job.lettered
    if fine:
        label = "detail and letter" if job.lettered else "detail"
        card.put(Step("detail", label, _sittings(fine), card.last))
    card.steps[-1] = replace(card.steps[-1], keeps=mixed)


def _area(job: Job, house: House) -> Decimal:
    """How much more cookie there is to roll and ice than on the usual cutter."""
    if not job.sizes:
        return Decimal(1)
    whole = math.fsum((across / float(house.cookies.across)) ** 2 * many for across, many in job.sizes)
    # Down to a millionth: a hair too much would cost five minutes where the sum comes out even.
    return Decimal(math.floor(whole / sum(many for _, many in job.sizes) * 1e6 + 1e-3)) / 10**6


def trays_of(job: Job, house: House) -> int:
    """Trays that the cookies of a job lie on, each size on its own."""
    if not job.sizes:
        return math.ceil(job.count / house.oven.cookies_per_tray)
    whole = sum(many for _, many in job.sizes)
    return sum(math.ceil(job.count * many / (whole * per_tray(across, house))) for across, many in job.sizes)


def _left(steps: Sequence[Step], job: Begun) -> tuple[Step, ...]:
    """What is left of `steps` once those of earlier stages, and what is marked, are taken off.

    Work on a later step shows that those it waits for are done, marked or not.
    """
    marks = {mark.step: mark for mark in job.marks}
    stage = STEPS.index(job.step)
    over = {
        place for place, step in enumerate(steps)
        if STEPS.index(step.name) < stage or (step.label in marks and marks[step.label].parts >= len(step.parts))
    }
    for place in reversed(range(len(steps))):
        if place in over or steps[place].label in marks:
            over |= {before for before, _ in steps[place].after}
    moved = {place: number for number, place in enumerate(p for p in range(len(steps)) if p not in over)}
    left = []
    for place, step in enumerate(steps):
        if place in over:
            continue
        mark = marks.get(step.label)
        ready = [at + timedelta(minutes=wait) for before, wait in step.after if (at := _done_at(steps[before], marks))]
        keeps, by = step.keeps, None
        if keeps and keeps[0] in over:
            made = _done_at(steps[keeps[0]], marks)
            by = made + timedelta(minutes=keeps[1] * TICK) if made else None
        left.append(replace(
            step,
            parts=step.parts[mark.parts :] if mark else step.parts,
            after=tuple((moved[before], wait) for before, wait in step.after if before in moved),
            keeps=(moved[keeps[0]], keeps[1]) if keeps and keeps[0] in moved else None,
            gone=mark.parts if mark else 0,
            ready=max(ready, default=None),
            by=by,
            begun=mark.begun if mark else None,
        ))  # fmt: skip
    return tuple(left)


def _done_at(step: Step, marks: dict[str, Mark]) -> datetime | None:
    mark = marks.get(step.label)
    return mark.at if mark and mark.parts >= len(step.parts) else None


def _whole(minutes: int) -> int:
    # Even work that the house rules give no minutes happens at some moment, and the waits hang on that.
    return max(1, ticks(minutes)) * TICK


def _sittings(minutes: Decimal) -> tuple[int, ...]:
    whole, rest = divmod(max(1, ticks(minutes)) * TICK, SITTING)
    return (SITTING,) * whole + ((rest,) if rest else ())


def bake_from(job: Job, house: House) -> datetime:
    """The moment before which no cookie of `job` goes in the oven: `fresh_days` before it leaves the baker's hands.

    A parcel leaves them at the post office. Counted to its arrival instead, one that rests over a weekend on the road
    would have to be baked and sent in the same two evenings.
    """
    return job.due - timedelta(days=house.keeping.fresh_days)


def dough_ticks(house: House) -> int:
    """Longest time, in ticks, from the start of the first mixing to the last load. No days means half a day."""
    return house.keeping.dough_days * DAY_TICKS or DAY_TICKS // 2


def way_minutes(job: Job, house: House) -> int:
    """Minutes on the way at the end: to the post office, or to the customer."""
    return {"ship": house.steps.post_office, "deliver": house.kitchen.delivery_way}.get(job.handover, 0)
