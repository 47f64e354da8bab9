"""The smallest set of orders that can't stand together, out of a set that is proven not to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

from intake.kitchen.bounds import overloads
from intake.kitchen.room import Room
from intake.kitchen.tasks import Row, open_for

# A clash is found by counting and by leaving orders out one by one; then all sets up to this size are tried as well.
_TRIED = 3
# Shares of the effort that is left: for one question among many, and for one that much hangs on.
_LITTLE, _MUCH = 0.05, 0.4
# So many orders beside the newest are few enough to have every set of three looked at closely.
_FEW = 8


def newest_of(rows: Sequence[Row], places: Iterable[int]) -> int:
    """The place of the order that gives way: the lowest age, then the highest number."""
    return min(places, key=lambda i: (rows[i].job.age, -rows[i].job.order_id, -i))


def smallest(room: Room, whole: frozenset[int]) -> tuple[frozenset[int], bool]:
    """A clash among the rows at `whole`, and whether it is irreducible: each of its orders left out, the others fit.

    It is a clash either way; where the time ran out there may be a smaller one within it.
    """
    newest = newest_of(room.rows, whole)
    # Where the others go together, any clash has the newest in it.
    needed = newest if room.fits(whole - {newest}, share=_LITTLE) else None
    found = min(_counted(room, whole, newest, needed), crowd(room, whole) or whole, key=len)
    found = _thinned(room, found, newest)
    for size in range(1, min(_TRIED + 1, len(found))):
        close = size < _TRIED or len(whole) <= _FEW
        for chosen in _sets(room, whole, size, newest, needed):
            if room.watch.out:
                break
            if room.fits(chosen, share=_LITTLE if close else 0) is False:
                return chosen, _irreducible(room, chosen)
    return found, _irreducible(room, found)


def _thinned(room: Room, left: frozenset[int], newest: int) -> frozenset[int]:
    """`left` without the orders that it clashes without, the oldest left out first and the newest last."""
    order = sorted(left, key=lambda i: (i == newest, -room.rows[i].job.age, room.rows[i].job.order_id, i))
    for share in (0, _LITTLE, _MUCH):
        for place in order:
            if place in left and room.fits(left - {place}, share=share) is False:
                left -= {place}
    return left


def crowd(room: Room, whole: frozenset[int]) -> frozenset[int] | None:
    """The first of the orders due first that don't go together: the fewer there are, the sooner it is proven."""
    order = sorted(whole, key=lambda i: (room.rows[i].due, i))
    firsts = [frozenset(order[:count]) for count in range(1, len(order) + 1)]
    # What is made of all makes each of them; so the first that is known to fail is looked for by halves.
    low, high = 0, len(firsts)
    while low < high:
        middle = (low + high) // 2
        if room.fits(firsts[middle], share=_LITTLE):
            low = middle + 1
        else:
            high = middle
    return next((chosen for chosen in firsts[low:] if room.fits(chosen, share=_LITTLE) is False), None)


def _irreducible(room: Room, chosen: frozenset[int]) -> bool:
    return all(room.fits(chosen - {place}) for place in sorted(chosen))


def _counted(room: Room, whole: frozenset[int], newest: int, needed: int | None) -> frozenset[int]:
    """The smallest set whose work alone can be counted to be too much, or the whole where counting shows nothing."""
    places = sorted(whole)
    rows = [room.rows[i] for i in places]
    if not all(row.fits_alone for row in rows):
        return whole
    best, seen = whole, set[frozenset[int]]()
    for over in overloads(rows, open_for(rows, room.line)):
        chosen = frozenset(places[i] for i in over.fewest(places.index(newest)))
        if chosen in seen or (needed is not None and needed not in chosen):
            continue
        seen.add(chosen)
        if (len(chosen), newest not in chosen) < (len(best), newest not in best):
            # Errands of the orders that are left out give hours back.
            of_chosen = [room.rows[i] for i in sorted(chosen)]
            if next(overloads(of_chosen, open_for(of_chosen, room.line)), None):
                best = chosen
    return best


def _sets(
    room: Room, whole: frozenset[int], size: int, newest: int, needed: int | None
) -> Iterator[frozenset[int]]:
    """Sets of `size` whose time in the kitchen hangs together, those with the newest orders first."""
    order = sorted(whole, key=lambda i: (i != newest, room.rows[i].job.age, -room.rows[i].job.order_id, i))
    for chosen in combinations(order, size):
        if needed is not None and chosen[0] != needed:
            return
        if _hang_together(sorted(_window(room.rows[i]) for i in chosen)):
            yield frozenset(chosen)


def _window(row: Row) -> tuple[int, int]:
    return min((task.earliest for task in row.tasks), default=0), row.due


def _hang_together(windows: list[tuple[int, int]]) -> bool:
    end = windows[0][1]
    for start, until in windows[1:]:
        if start >= end:
            return False
        end = max(end, until)
    return True
