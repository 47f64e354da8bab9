"""Labels on a page: two across, four down, each framed to be cut out."""

from __future__ import annotations

from datetime import datetime

from intake.house import House
from intake.model import Problem
from intake.papers.label import Labels, lines_of
from intake.papers.paper import HEIGHT, WIDTH, Paper

_ACROSS, _DOWN = 2, 4
# The home-kitchen line is in the largest type that a local office is known to ask for, 12 points; the net weight is an
# eighth of an inch high (21 CFR 101.7(i), for a panel of 5 to 25 square inches; from memory). Neither shrinks.
_SIZES = {"identity": (13, True), "contains": (8.5, True), "home": (12, True), "net": (13, True)}
_KEPT = ("home", "net")
# The smallest leaves an x-height of 1.2 mm, which is what the European Union asks for (Regulation 1169/2011, Art. 13).
_SMALLER = (1.0, 0.9, 0.81)


def label_sheet(found: Labels, house: House, *, title: str, made: datetime) -> bytes | Problem:
    """The sheet as PDF, the net weight at the foot of each label; on a last page what is missing on them.

    A Problem where a label is too long to be read on its place.
    """
    with Paper(house.papers.page, title=title, made=made) as paper:
        return _drawn(paper, found)


def _drawn(paper: Paper, found: Labels) -> bytes | Problem:
    wide, high = WIDTH / _ACROSS, HEIGHT / _DOWN
    place = 0
    for label in found.labels:
        for _ in range(label.copies):
            if place and place % (_ACROSS * _DOWN) == 0:
                paper.new_page()
            row, column = divmod(place % (_ACROSS * _DOWN), _ACROSS)
            for share in _SMALLER:
                parts = [
                    (text, size if kind in _KEPT else size * share, bold)
                    for kind, text in lines_of(label, whole=not found.missing)
                    if text
                    for size, bold in (_SIZES.get(kind, (8.5, False)),)
                ]
                if paper.fits(wide, high, parts):
                    break
            else:
                return Problem(
                    "labels", "the text is too long for a label", "Shorten the ingredients' parts in the house rules"
                )
            paper.box(column * wide, row * high, wide, high, parts)
            place += 1
    if found.missing:
        paper.new_page()
        paper.heading("Missing on these labels")
        for lack in found.missing:
            paper.tick(lack)
        paper.words("Tell it in the house rules and write the labels again.")
    return paper.pdf()
