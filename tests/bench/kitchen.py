"""How long the kitchen takes to decide, from five to sixty orders, beside the solver alone on the same weeks.

Median and longest of twelve weeks.
Seconds are of this process alone, so that a busy machine slows neither; the load of the machine is told beside them.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from os import getloadavg
from random import Random
from statistics import median
from time import process_time
from zoneinfo import ZoneInfo

from intake.house import House, default_house
from intake.kitchen.plan import decide, room_of, time_for
from intake.kitchen.room import Watch
from intake.kitchen.solver import solve
from intake.kitchen.steps import steps_of
from intake.kitchen.tasks import open_for
from intake.model import Clash, Fits, Job
from tests.bench.row import Row

SIZES = (5, 10, 20, 30, 45, 60)
#: The share of the baker's hours that the orders take, all in all.
LOADS = (0.5, 0.7, 0.9)
WEEKS_OF_A_KIND = 4
_HOURS_A_WEEK = 31


def plans() -> Iterator[Row]:
    plain = default_house()
    house = plain.model_copy(update={"house": plain.house.model_copy(update={"timezone": "America/Chicago"})})
    now = datetime(2026, 3, 11, 9, tzinfo=ZoneInfo("America/Chicago"))
    decide(week(3, 0.5, 0, house, now), house, now=now)
    for size in SIZES:
        whole, bare, alone = [], [], []
        words = {"fit": 0, "clash": 0, "open": 0}
        settled = 0
        for load in LOADS:
            for seed in range(WEEKS_OF_A_KIND):
                jobs = week(size, load, seed, house, now)
                begun = process_time()
                verdict = decide(jobs, house, now=now)
                whole.append(process_time() - begun)
                words["fit" if isinstance(verdict, Fits) else "clash" if isinstance(verdict, Clash) else "open"] += 1
                bare.append(seconds_to_say(jobs, house, now))
                begun = process_time()
                settled += solver_alone(jobs, house, now)
                alone.append(process_time() - begun)
        said = ", ".join(f"{count} {word}" for word, count in words.items() if count)
        beside = f"CP-SAT alone {median(alone):.3f}/{max(alone):.2f} s, {settled} settled"
        ratio = f"{median(alone) / median(bare):.1f}"
        yield Row(f"{size} orders, yes or no; load {getloadavg()[0]:.1f}", _figures(bare), beside, ratio)
        yield Row(f"   with plan or clash: {said}", _figures(whole))


def _figures(seconds: list[float]) -> str:
    return f"{median(seconds):.3f}/{max(seconds):.2f} s"


def seconds_to_say(jobs: list[Job], house: House, now: datetime) -> float:
    """How long the bare answer takes."""
    begun = process_time()
    room_of(jobs, house, now, Watch(time_for(len(jobs)))).fits(range(len(jobs)), share=0.6)
    return process_time() - begun


def solver_alone(jobs: list[Job], house: House, now: datetime) -> bool:
    """Whether the solver settles the bare question, without the quick plan and the count, in the same effort."""
    room = room_of(jobs, house, now, Watch(time_for(len(jobs))))
    effort = room.watch.effort * 0.6
    return solve(room.rows, open_for(room.rows, room.line), effort=effort, seconds=4 * effort).fits is not None


def week(size: int, load: float, seed: int, house: House, now: datetime) -> list[Job]:
    """Orders whose work is about `load` of the hours until the last of them is due."""
    pick = Random(seed * 1000 + size)
    asked = [
        Job(
            number, f"order {number}", pick.choice([12, 18, 24, 24, 36, 48]), now,
            pick.choice(["plain", "detailed", "detailed", "elaborate"]), pick.randint(2, 5),
            lettered=pick.choice([0, 0, 6]), handover=pick.choice(["pickup"] * 4 + ["ship"]), age=1,
        )
        for number in range(1, size + 1)
    ]  # fmt: skip
    hands = sum(
        sum(step.parts) if step.hands is None else step.hands * len(step.parts)
        for job in asked for step in steps_of(job, house)
    ) / 60  # fmt: skip
    days = max(7.0, hands / load / _HOURS_A_WEEK * 7)
    jobs = []
    for job in asked:
        due = (now + timedelta(days=pick.uniform(5, days + 1))).replace(hour=pick.choice([10, 14, 17]))
        values = {name: getattr(job, name) for name in Job.__dataclass_fields__}
        jobs.append(Job(**{**values, "due": due, "age": int(job.order_id < size)}))
    return jobs
