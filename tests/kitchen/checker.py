"""What a plan must keep, checked from the house rules alone: minute by minute, without a word from the planner."""

from datetime import UTC, time, timedelta
from itertools import pairwise
from math import ceil


def faults(plan, jobs, house, now):
    """Every rule that `plan` breaks, in words."""
    found = []
    for place in ("hands", "oven"):
        stretches = sorted((work.start, work.end) for work in plan.works if place in work.uses)
        found += [f"{place} twice at {b[0]}" for a, b in pairwise(stretches) if b[0] < a[1]]
    trips = [(w.start, w.end) for w in plan.works if w.label in ("post office", "deliver")]
    for work in plan.works:
        if work.end <= work.start or (work.start < now and work.uses):
            found.append(f"{work.label} at {work.start}")
        if work.uses and not _in_hours(work, house):
            found.append(f"{work.label} outside the hours, {work.start} to {work.end}")
        if work.uses and any(work.start < end and start < work.end for start, end in trips):
            found.append(f"{work.label} while away")
    for job in jobs:
        found += [f"order {job.order_id}: {what}" for what in _of_one(job, plan, house)]
    if {work.order_id for work in plan.works} != {job.order_id for job in jobs} or set(plan.slack) != {
        job.order_id for job in jobs
    }:
        found.append("not the orders that were asked for")
    return found


def _in_hours(work, house):
    start, end = work.start.astimezone(UTC), work.end.astimezone(UTC)
    minutes = (start + timedelta(minutes=n) for n in range(int((end - start).total_seconds() // 60)))
    return all(_open(moment.astimezone(house.zone), house, "oven" in work.uses) for moment in minutes)


def _open(local, house, oven):
    """Whether she works in this minute, and the oven is not the household's."""
    day, clock, rules = local.date(), local.time(), house.kitchen
    within = lambda spans: any(a <= clock < b or clock == b == time(23, 59) for a, b in spans)  # noqa: E731
    away = any(first <= day <= last for first, last in rules.holidays)
    if not within(rules.extra_hours.get(day, ())) and (away or not within(house.hours.on(day))):
        return False
    if rules.sleep:
        falls, wakes = rules.sleep
        if (falls <= clock < wakes) if falls < wakes else (clock >= falls or clock < wakes):
            return False
    return not (oven and within(rules.supper))


def _of_one(job, plan, house):
    mine = [work for work in plan.works if work.order_id == job.order_id]
    steps, waits, oven = house.steps, house.waits, house.oven
    mix = [w for w in mine if w.label.startswith("mix dough")]
    cut = [w for w in mine if w.label == "roll and cut"]
    loads = [w for w in mine if w.label.startswith("bake")]
    turns = [w for w in mine if w.label.startswith("turn")]
    icing = [w for w in mine if w.label == "mix and tint icing"]
    flood = [w for w in mine if "flood" in w.label]
    detail = [w for w in mine if w.label.startswith("detail")]
    pack = [w for w in mine if w.label == "pack"]
    trip = [w for w in mine if w.label in ("post office", "deliver")]
    needed = {
        "mixing": (mix, ceil(job.count / steps.cookies_per_batch) * steps.mix_dough_batch),
        "cutting": (cut, steps.cut_each * job.count + house.kitchen.design_each * (job.designs - 1)),
        "icing": (icing, steps.mix_icing + steps.color_each * job.colors),
        "flooding": (flood, getattr(steps.flood_each, job.level) * job.count),
        "detail": (detail, getattr(steps.detail_each, job.level) * job.count + steps.letter_each * job.lettered),
        "packing": (pack, steps.pack_each * job.count + steps.pack_order),
    }
    for name, (works, minutes) in needed.items():
        had = sum((work.end - work.start).total_seconds() / 60 for work in works)
        if had < minutes or had > float(minutes) + 20 + (5 * len(mix) if name == "mixing" else 0):
            yield f"{had} minutes of {name} for {minutes}"
        if any("hands" not in work.uses for work in works):
            yield f"{name} without hands"
    if len(loads) != ceil(job.count / (oven.trays * oven.cookies_per_tray)):
        yield f"{len(loads)} loads for {job.count}"
    for load in loads:
        if (load.end - load.start) < timedelta(minutes=oven.bake_minutes + oven.turn_minutes):
            yield "a load too short"
        turned = [turn for turn in turns if turn.end == load.end]
        if oven.turn_minutes and not turned:
            yield "a load that nobody takes out"
        if turned and turned[0].end - turned[0].start < timedelta(minutes=oven.turn_minutes):
            yield "a turn too short"
    for first, then, wait, name in (
        (mix, cut, waits.chill, "chill"),
        (cut, loads, 0, "cut before baking"),
        (loads, flood, waits.cool, "cool"),
        (icing, flood, house.kitchen.color_rest, "icing before flooding"),
        (flood, detail, waits.dry_before_detail, "dry before detail"),
        (detail or flood, pack, waits.dry_before_pack, "dry before packing"),
        (pack, trip, 0, "packed before it is sent"),
    ):
        if first and then and min(w.start for w in then) - max(w.end for w in first) < timedelta(minutes=wait):
            yield name
    if job.colors > 1:
        yield from _crust(job, flood, house)
    if icing and max(w.start for w in detail or flood) - min(w.start for w in icing) > timedelta(
        days=house.kitchen.icing_days
    ):
        yield "icing too old"
    if any(work.end > job.due for work in mine):
        yield "late"
    if min(load.start for load in loads) < job.due - timedelta(days=house.keeping.fresh_days):
        yield "baked too soon"
    if max(load.start for load in loads) - min(m.start for m in mix) > timedelta(days=house.keeping.dough_days or 0.5):
        yield "dough too old"
    done = max(work.end for work in pack)
    spare = job.due - (trip[0].end - trip[0].start if trip else timedelta(0)) - done
    if abs(plan.slack[job.order_id] - spare.total_seconds() / 60) >= 5:
        yield "slack"
    way = {"ship": steps.post_office, "deliver": house.kitchen.delivery_way, "pickup": 0}[job.handover]
    if [(t.end, t.end - t.start) for t in trip] != [(job.due, timedelta(minutes=way))] * (way > 0):
        yield "the way"


def _crust(job, flood, house):
    """Floods cookie after cookie, a share of the sections in each pass, and looks at how long each share dries."""
    passes = min(getattr(house.kitchen.flood_passes, job.level), max(1, job.colors))
    share = float(getattr(house.steps.flood_each, job.level)) / passes
    by_label = {}
    for w in sorted(flood, key=lambda w: w.start):
        seconds = range(0, int((w.end - w.start).total_seconds()), 30)
        by_label.setdefault(w.label, []).extend(w.start + timedelta(seconds=s) for s in seconds)
    worked = list(by_label.values())
    if len(worked) == 1:
        worked = [worked[0][round(job.count * share * 2 * n):] for n in range(passes)]
    for first, second in pairwise(worked):
        for cookie in range(job.count):
            ended = first[min(len(first), ceil((cookie + 1) * share * 2)) - 1] + timedelta(seconds=30)
            begun = second[min(len(second) - 1, int(cookie * share * 2))]
            if begun - ended < timedelta(minutes=house.waits.crust - 1):
                yield f"crust of cookie {cookie}"
                return
