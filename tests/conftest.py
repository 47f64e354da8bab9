"""Generated cases are not timed, since a busy machine is no fault; where CI runs them they are the same each time."""

from __future__ import annotations

import os

from hypothesis import settings

settings.register_profile("ordertin", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("ordertin")
