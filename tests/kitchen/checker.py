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
    trips = [(w.start, w.end) for w in plan.works if w.label == "post office"]
    for work in plan.works:
        if work.end <= work.start or (work.start < now and work.uses):
            found.append(f"{work.label} at {work.start}")
        if work.uses and not _in_hours(work, house):
            found.append(f"{work.label} outside the hours, {work.start} to {work.end}")
        if work.uses and any(work.start < end and start < work.end for start, end in trips):
            found.append(f"{work.label} while at the post office")
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
    return all(
        any(opens <= local.time() < closes or local.time() == closes == time(23, 59)
            for opens, closes in house.hours.on(local.date()))
        for local in (moment.astimezone(house.zone) for moment in minutes)
    )


def _of_one(job, plan, house):
    mine = [work for work in plan.works if work.order_id == job.order_id]
    steps, waits, oven = house.steps, house.waits, house.oven
    mix = [w for w in mine if w.label.startswith("mix dough")]
    cut = [w for w in mine if w.label == "roll and cut"]
    loads = [w for w in mine if w.label.startswith("bake")]
    turns = [w for w in mine if w.label.startswith("turn")]
    icing = [w for w in mine if w.label == "mix and tint icing"]
    flood = [w for w in mine if w.label.startswith("flood")]
    detail = [w for w in mine if w.label.startswith("detail")]
    pack = [w for w in mine if w.label == "pack"]
    trip = [w for w in mine if w.label == "post office"]
    needed = {
        "mixing": (mix, ceil(job.count / steps.cookies_per_batch) * steps.mix_dough_batch),
        "cutting": (cut, steps.cut_each * job.count),
        "icing": (icing, steps.mix_icing + steps.color_each * job.colors),
        "flooding": (flood, getattr(steps.flood_each, job.level) * job.count),
        "detail": (detail, getattr(steps.detail_each, job.level) * job.count + steps.letter_each * job.lettered),
        "packing": (pack, steps.pack_each * job.count + steps.pack_order),
    }
    for name, (works, minutes) in needed.items():
        had = sum((work.end - work.start).total_seconds() / 60 for work in works)
        if had < minutes or had > float(minutes) + 15 + (5 * len(mix) if name == "mixing" else 0):
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
        (icing, flood, 0, "icing before flooding"),
        (flood, detail, waits.dry_before_detail, "dry before detail"),
        (detail or flood, pack, waits.dry_before_pack, "dry before packing"),
        (pack, trip, 0, "packed before it is sent"),
    ):
        if first and then and min(w.start for w in then) - max(w.end for w in first) < timedelta(minutes=wait):
            yield name
    if job.level != "plain":
        yield from _crust(job, flood, house)
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
    if bool(trip) != (job.handover == "ship" and steps.post_office > 0):
        yield "post office"


def _crust(job, flood, house):
    """Floods cookie after cookie, half of the sections in each pass, and looks at how long each first half dries."""
    half = float(getattr(house.steps.flood_each, job.level)) / 2
    worked = [w.start + timedelta(seconds=s) for w in sorted(flood, key=lambda w: w.start)
              for s in range(0, int((w.end - w.start).total_seconds()), 30)]
    passes = [[w for w in worked if any(f.start <= w < f.end and ("touching" in f.label) is late for f in flood)]
              for late in (False, True)]
    first, second = passes if passes[1] else (worked, worked[round(job.count * half * 2):])
    for cookie in range(job.count):
        ended = first[min(len(first), ceil((cookie + 1) * half * 2)) - 1] + timedelta(seconds=30)
        begun = second[min(len(second) - 1, int(cookie * half * 2))]
        if begun - ended < timedelta(minutes=house.waits.crust - 1):
            yield f"crust of cookie {cookie}"
            return
