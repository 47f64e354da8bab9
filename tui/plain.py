"""The one way in which text from outside reaches a widget.

A `str` given to a widget is read as markup: "[/" stops the program, "[Sam]" vanishes and "[@click=...]" runs an
action. A `Content` is shown as it stands.
"""

from __future__ import annotations

from textual.content import Content

from intake.clean import clean


def plain(text: object, style: str = "") -> Content:
    """`text`, shown letter by letter; `style` is a style of ours, never of the text's."""
    return Content.styled(clean(str(text)), style)


def marked(text: str, spans: tuple[tuple[int, int], ...], style: str) -> Content:
    """`text` with the characters of each half-open span in `style`; spans outside the text mark nothing."""
    content = Content(text)
    for start, end in spans:
        content = content.stylize(style, max(0, start), end)
    return content


def joined(*parts: Content, by: str = "") -> Content:
    """The parts that say something, one after another, `by` between them."""
    return Content(by).join([part for part in parts if part.plain])
