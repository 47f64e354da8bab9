"""What is wrong with a template, in words for one who has never read about templates."""

from __future__ import annotations

import re

# What the template engine says, and what it means to the baker.
_MEANS = (
    (r"Encountered unknown tag 'end(if|for)'.*innermost block that needs to be closed is '(if|for)'.*",
     r"{% end\1 %} closes the wrong one: the `\2` before it is still open"),
    (r"Encountered unknown tag 'end(if|for)'.*", r"{% end\1 %} closes an `\1` that was never opened"),
    (r"Encountered unknown tag '(\w+)'.*",
     r"`\1` is no word for braces with %: it is if, else, endif, for or endfor"),
    (r"Missing end of comment tag", "a note is left open: it ends with #}"),
    (r"unexpected end of template.*|unexpected 'end of template'", "the braces are not closed: a field ends with }}"),
    (r"unexpected '}'.*", "the braces are not closed in pairs: a field ends with }}"),
    (r"unexpected char '([\"'])'.*", r"a \1 is left open, or one too many"),
    (r"unexpected char '(.*)' at.*", r"`\1` can't stand between braces"),
    (r"Expected an expression, got .*", "there is nothing between the braces"),
    (r"expected token '(?:end of print statement|end of statement block)', got '(.*)'",
     r"`\1` is too much here, or something before it is missing"),
    (r"expected token '(in|name)'.*", "a word is missing here"),
    (r"No test named '(\w+)'.*", r"there is no test `\1`"),
    (r"'.*' not supported between instances of .*", "a text and a number can't be compared"),
)  # fmt: skip


def in_plain_words(said: str) -> str:
    """What the template engine `said`; as it stands where it is not known."""
    for pattern, means in _MEANS:
        if found := re.fullmatch(pattern, said, re.DOTALL):
            return found.expand(means)
    return said or "this can't be read as a template"
