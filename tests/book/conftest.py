from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from intake.book.store import Book


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "data" / "orders.db"


@pytest.fixture
def book(path: Path) -> Iterator[Book]:
    book = Book(path)
    yield book
    book.close()
