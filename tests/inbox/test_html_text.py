from __future__ import annotations

import pytest

from intake.inbox.html_text import text_of_html


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        pytest.param("2 dozen", "2 dozen", id="no tags"),
        pytest.param("<div>2 dozen</div><div>pink</div>", "2 dozen\npink", id="div"),
        pytest.param("<p>Hi</p><p>2 dozen</p>", "Hi\n\n2 dozen", id="paragraphs"),
        pytest.param("2 dozen<br>pink<br/>white", "2 dozen\npink\nwhite", id="br"),
        pytest.param("a<br><br>b", "a\n\nb", id="two br"),
        pytest.param("<ul><li>12 bats<li>12 cats</ul>", "- 12 bats\n- 12 cats", id="list"),
        pytest.param(
            "<table><tr><td>bats</td><td>12</td></tr><tr><td>cats</td></tr></table>", "bats 12\ncats", id="table"
        ),
        pytest.param("2\n  dozen&nbsp;&amp; a half &frac12;", "2 dozen & a half ½", id="spaces and entities"),
        pytest.param("<pre>2 dozen\n  pink</pre>", "2 dozen\n  pink", id="pre"),
        pytest.param("<b>2</b> <i>dozen</i>", "2 dozen", id="inline"),
        pytest.param("<head><title>x</title><style>p{}</style></head><body>hi</body>", "hi", id="head"),
        pytest.param("hi<script>alert(1)</script><!-- no -->", "hi", id="script and comment"),
        pytest.param("<head><meta><body>hi", "hi", id="head left open"),
        pytest.param("yes<blockquote>On Tue<br>Nell</blockquote>", "yes\n\n> On Tue\n> Nell", id="quoted"),
        pytest.param("a &lt;b&gt; c", "a <b> c", id="escaped tags are words"),
        pytest.param("hi <![foo bar", "hi <![foo bar", id="what html.parser gives up on"),
        pytest.param("2 dozen <3", "2 dozen <3", id="a heart"),
        pytest.param("", "", id="nothing"),
    ],
)
def test_words_of_html(source: str, expected: str) -> None:
    assert text_of_html(source) == expected


@pytest.mark.parametrize("piece", ["<!--", "<![", "<div>", "<blockquote>", "&#", "<a href='", "</", "<style>"])
def test_hostile_html_ends_soon(piece: str) -> None:
    assert isinstance(text_of_html(piece * 20_000), str)
