"""A session in a baker's words: the same on the screen and on paper."""

from __future__ import annotations

from collections.abc import Iterator

from intake.counted import many
from intake.house import House
from intake.kitchen.amounts import per_tray
from intake.kitchen.pooling import SCRAP, DoughPool, Session
from intake.kitchen.recipes import ICING, recipes
from intake.measures import INCH, measure
from intake.model import Problem
from intake.papers.weights import both, grams

RAW_EGG = (
    "Raw egg white in icing is a known risk: pasteurised egg or meringue powder is the usual advice (USDA FSIS, FDA)."
)



def shown_recipe(name: str) -> str:
    return name.replace("_", " ")


def dough_head(pool: DoughPool) -> str:
    """`vanilla dough: 2 batches for 40 cookies`."""
    name = shown_recipe(pool.recipe.name)
    there = f", and first the {both(pool.from_left)} that is there" if pool.from_left >= 1 else ""
    if not pool.batches:
        return f"{name} dough: what is there will do for {many(pool.count, 'cookie')}, {both(pool.from_left)}"
    return f"{name} dough: {many(pool.batches, 'batch')} for {many(pool.count, 'cookie')}{there}"


def mixing(of: DoughPool | Session) -> Iterator[tuple[str, str]]:
    """What goes into the bowl, for all batches together: each line of the recipe, and its grams."""
    recipe, batches = (of.recipe, of.batches) if isinstance(of, DoughPool) else (of.icing, of.icing_batches)
    if recipe is None or not batches:
        return
    for line in recipe.lines:
        typed = measure(line.typed)
        each = "" if typed.unit == "g" and batches == 1 else f", {typed.said}"
        yield line.what + (f", {batches} x {typed.said}" if batches > 1 else each), grams(line.grams * batches)


def left_line(pool: DoughPool) -> str:
    if pool.left < SCRAP:
        return ""
    until = pool.keeps_until
    return f"About {both(pool.left)} of it will be over: use it by {until:%A}, {until:%B} {until.day}, kept cold."


def icing_head(session: Session) -> str:
    """`royal icing: 2 batches, 5 bags`."""
    name = shown_recipe(session.icing.name) if session.icing else "icing"
    bags = sum(pool.icing.bags for pool in session.icings)
    name = name if name.endswith("icing") else f"{name} icing"
    return f"{name}: {many(session.icing_batches, 'batch')} for {grams(session.icing_grams)}, {many(bags, 'bag')}"


def icing_lines(session: Session) -> Iterator[tuple[str, str]]:
    """Each color and consistency, and its grams and bags."""
    for pool in session.icings:
        deep = " (best mixed the day before)" if pool.deep else ""
        bags = many(pool.icing.bags, "bag")
        yield f"{pool.icing.color}, {pool.icing.consistency}{deep}", f"{grams(pool.icing.mixed)}, {bags}"


def cutter_lines(session: Session) -> Iterator[str]:
    for cut in session.cutters:
        yield f"{cut.count} {cut.what}, {inches(cut.across)}"


def tray_lines(session: Session, house: House) -> Iterator[str]:
    for each in session.trays:
        held = per_tray(each.across, house)
        yield f"{inches(each.across)}: {many(each.trays, 'tray')}, {held} on each"
    if session.loads:
        yield f"{many(session.loads, 'oven load')} of {many(house.oven.trays, 'tray')}, baked together"


def packaging_lines(session: Session) -> Iterator[str]:
    for kind, number in session.packaging:
        yield f"{kind}: {number}" + (" cookies" if kind.startswith("nothing said") else "")


def inches(across: float) -> str:
    """`3 in`, `3.5 in`; a cutter is known by its inches."""
    return f"{across / float(INCH):.2f}".rstrip("0").rstrip(".") + " in"


def session_text(session: Session, house: House) -> Iterator[str]:
    """A session as lines for the screen."""
    yield f"{session.day:%A}, {session.day:%B} {session.day.day}"
    for pool in session.doughs:
        yield f"  {dough_head(pool)}"
        yield from (f"    {weight:>9}  {what}" for what, weight in mixing(pool))
        if left := left_line(pool):
            yield f"    {left}"
    if session.icings:
        yield f"  {icing_head(session)}"
        yield from (f"    {weight:>9}  {what}" for what, weight in mixing(session))
        yield from (f"    {weight:>14}  {what}" for what, weight in icing_lines(session))
    if session.to_tint:
        yield f"  Mix today for tomorrow, for the color deepens overnight: {', '.join(session.to_tint)}"
    if session.cutters:
        yield f"  Cut: {'; '.join(cutter_lines(session))}"
    if session.trays:
        yield f"  Bake: {'; '.join(tray_lines(session, house))}"
    if session.packaging:
        yield f"  Pack: {'; '.join(packaging_lines(session))}"
    for problem in session.problems:
        yield f"  ! {problem}"


def cautions(house: House) -> Iterator[str]:
    """What is wrong with the recipes of the house, and what is to be heeded about them."""
    for kind in ("dough", ICING):
        for recipe in recipes(house, kind):
            if isinstance(recipe, Problem):
                yield str(recipe)
            elif kind == ICING and any(line.what == "egg white" for line in recipe.lines):
                yield RAW_EGG
