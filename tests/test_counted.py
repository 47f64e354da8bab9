import pytest

from intake.counted import many


@pytest.mark.parametrize(
    ("number", "thing", "said"),
    [
        *((1, "box", "1 box"), (2, "box", "2 boxes"), (0, "batch", "0 batches")),
        *((1, "cookie", "1 cookie"), (1200, "cookie", "1,200 cookies"), (3, "oven load", "3 oven loads")),
    ],
)
def test_things_with_their_number(number: int, thing: str, said: str) -> None:
    assert many(number, thing) == said
