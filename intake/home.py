"""Where the book and the house rules live: the user's data and config folders, or `ORDERTIN_HOME`."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Home:
    book: Path
    rules: Path
    templates: Path
    papers: Path

    @classmethod
    def at(cls, folder: Path) -> Home:
        """Everything in one folder."""
        return cls(folder / "orders.db", folder / "house.toml", folder / "wording", folder / "papers")

    @classmethod
    def find(cls) -> Home:
        """The folder named by `ORDERTIN_HOME`, else the user's own folders for data and configuration."""
        named = os.environ.get("ORDERTIN_HOME")
        if named:
            return cls.at(Path(named).expanduser())
        from platformdirs import user_config_path, user_data_path, user_documents_path

        config = user_config_path("ordertin")
        papers = user_documents_path() / "ordertin"
        return cls(user_data_path("ordertin") / "orders.db", config / "house.toml", config / "wording", papers)
