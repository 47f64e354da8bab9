"""A page to print: headings, lines with a box to tick, rows, labels in a grid. The one file that imports `fpdf`.

Sizes are millimetres and points. What is drawn lies within the part that Letter and A4 have in common, so that a sheet
made for one prints on the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from importlib.resources import files
from typing import Any

from fpdf import FPDF
from fpdf.enums import WrapMode, XPos, YPos

from intake.papers.letters import replaced, writable

LETTER, A4 = (215.9, 279.4), (210.0, 297.0)
# 190 mm by 257 mm fits between margins of 10 mm on A4 and on Letter.
WIDTH, HEIGHT = 190.0, 257.0
BODY, SMALL, LARGE, TITLE = 14, 12, 18, 24
_FONT = "body"
_TICK, _LEADING = 5.0, 1.25
_PAD, _GAP = 3.5, 0.8
# More than a page of text is no line of a sheet; a label that long is refused in any case.
_LONGEST = 3000
_NOTE = "‹ › in Latin letters, for letters that this type lacks; the screen has them as they were written."

#: A text, its size in points, and whether it is bold.
Part = tuple[str, float, bool]


class _Pages(FPDF):
    """Pages with a foot: what the sheet is of, and its number."""

    foot = ""
    note = False

    def footer(self) -> None:
        self.set_y(-self.b_margin + 2)
        self.set_font(_FONT, "", 9)
        text = f"{self.foot}   {self.page_no()} of {{nb}}" if self.foot else ""
        self.cell(w=0, h=4, text=text, align="R", new_x=XPos.LMARGIN, new_y=YPos.NEXT)
        if self.note:
            self.cell(w=0, h=4, text=_NOTE)


class Paper:
    """One document, to be used in a `with`. Text is written as it comes: no letter of it can break the page."""

    def __init__(self, page: str, *, title: str, made: datetime, foot: str = "") -> None:
        wide, high = A4 if page == "a4" else LETTER
        self._pdf = _Pages(unit="mm", format=(wide, high))
        fonts = files("font_roboto").joinpath("files")
        for style, name in (("", "Roboto-Regular.ttf"), ("B", "Roboto-Bold.ttf")):
            self._pdf.add_font(_FONT, style, str(fonts.joinpath(name)))
        self._cmap = self._pdf.fonts[_FONT].cmap  # type: ignore[union-attr]
        side, top = (wide - WIDTH) / 2, (high - HEIGHT) / 2
        self._pdf.set_margins(side, top, side)
        self._pdf.set_auto_page_break(True, top)
        self._pdf.c_margin = 0
        self._pdf.set_creation_date(made)
        self._pdf.set_title(self._letters(title))
        self._pdf.foot = self._letters(foot)
        self.left, self.top = side, top
        self.new_page()

    def new_page(self) -> None:
        self._pdf.add_page()

    def __enter__(self) -> Paper:
        return self

    def __exit__(self, *_: object) -> None:
        """Closes the files of the typeface."""
        for font in self._pdf.fonts.values():
            font.ttfont.close()  # type: ignore[union-attr]

    def pdf(self) -> bytes:
        """The document, once all of it has been drawn."""
        return bytes(self._pdf.output())

    def _letters(self, text: str) -> str:
        cut = text if len(text) <= _LONGEST else f"{text[:_LONGEST]} ..."
        shown = writable(cut, lambda letter: ord(letter) in self._cmap)
        self._pdf.note = self._pdf.note or (replaced(shown) and bool(self._pdf.foot))
        return shown

    def _font(self, size: float, bold: bool = False) -> float:
        """Sets the type; gives the height of its lines."""
        self._pdf.set_font(_FONT, "B" if bold else "", size)
        return size * 0.3528 * _LEADING

    def _text(self, text: str, wide: float, high: float, **how: Any) -> Any:
        return self._pdf.multi_cell(
            w=wide, h=high, text=text, align=how.pop("align", "L"), wrapmode=WrapMode.WORD, padding=0, **how
        )

    def _height(self, text: str, wide: float, size: float, bold: bool = False) -> float:
        high = self._font(size, bold)
        lines = self._text(text, wide, high, dry_run=True, output="LINES") if text else []
        return max(1, len(lines)) * high

    def _room(self, needed: float) -> None:
        """Goes to the next page where `needed` millimetres are not left on this one."""
        if self._pdf.will_page_break(min(needed, HEIGHT - 10)):
            self.new_page()

    def heading(self, text: str, size: float = LARGE, *, keep: float = 12) -> None:
        """A heading, on the page of the `keep` millimetres that follow it."""
        shown = self._letters(text)
        wide = self._pdf.epw
        self._room(self._height(shown, wide, size, True) + 4 + keep)
        if self._pdf.get_y() > self.top + 1:
            self._pdf.ln(4)
        high = self._font(size, True)
        self._text(shown, wide, high, new_x=XPos.LMARGIN, new_y=YPos.NEXT)
        self._pdf.ln(1)

    def space(self) -> None:
        """A little room before what follows."""
        self._pdf.ln(2.5)

    def words(self, text: str, size: float = BODY, *, bold: bool = False, together: int = 1) -> None:
        """A line or more of plain text, on the page of the `together` - 1 lines that follow it."""
        shown = self._letters(text)
        self._room(self._height(shown, self._pdf.epw, size, bold) * together)
        high = self._font(size, bold)
        self._text(shown, self._pdf.epw, high, new_x=XPos.LMARGIN, new_y=YPos.NEXT)
        if bold:
            self._pdf.ln(0.8)

    def tick(self, text: str, *, before: str = "", after: str = "", size: float = BODY) -> None:
        """A box to tick and a line beside it; `before` stands in a column of its own, `after` at the right."""
        pdf = self._pdf
        lead, shown, tail = self._letters(before), self._letters(text), self._letters(after)
        first = 34.0 if lead else 0.0
        last = min(60.0, self._wide(tail, size) + 3) if tail else 0.0
        indent = _TICK + 3 + first
        wide = pdf.epw - indent - last
        self._room(max(self._height(shown, wide, size), _TICK) + 2)
        high = self._font(size)
        x, y = pdf.l_margin, pdf.get_y()
        pdf.set_line_width(0.4)
        pdf.rect(x, y + 0.6, _TICK, _TICK)
        if lead:
            self._font(size, True)
            pdf.set_xy(x + _TICK + 3, y)
            pdf.cell(w=first, h=high, text=lead)
        if tail:
            self._font(size)
            pdf.set_xy(x + pdf.epw - last, y)
            pdf.cell(w=last, h=high, text=tail, align="R")
        self._font(size)
        pdf.set_xy(x + indent, y)
        self._text(shown, wide, high, new_x=XPos.LMARGIN, new_y=YPos.NEXT)
        pdf.set_y(max(pdf.get_y(), y + _TICK + 1) + 1)

    def _wide(self, text: str, size: float) -> float:
        self._font(size)
        return float(self._pdf.get_string_width(text))

    def fits(self, wide: float, high: float, parts: Sequence[Part]) -> bool:
        """Whether a box of this size holds all of `parts`."""
        needs = sum(self._height(self._letters(text), wide - 2 * _PAD, size, bold) + _GAP for text, size, bold in parts)
        return needs <= high - 2 * _PAD + _GAP

    def box(self, x: float, y: float, wide: float, high: float, parts: Sequence[Part]) -> None:
        """A framed box with its corner at (x, y) from the margins, holding `parts`, the last of them at its foot."""
        pdf = self._pdf
        left, top = self.left + x, self.top + y
        pdf.set_auto_page_break(False)
        pdf.set_line_width(0.1)
        pdf.rect(left, top, wide, high)
        pdf.set_xy(left + _PAD, top + _PAD)
        for place, (text, size, bold) in enumerate(parts, 1):
            if place == len(parts):
                pdf.set_y(top + high - _PAD - self._height(self._letters(text), wide - 2 * _PAD, size, bold))
                pdf.set_x(left + _PAD)
            line = self._font(size, bold)
            self._text(self._letters(text), wide - 2 * _PAD, line, new_x=XPos.LEFT, new_y=YPos.NEXT)
            pdf.set_xy(left + _PAD, pdf.get_y() + _GAP)
        pdf.set_auto_page_break(True, self.top)
