"""Work for the desk, done one job after another in a thread, so that the screen never waits.

A job's `call` runs in the thread and touches no widget. What it gives comes back through the worker's own message,
and `then` runs among the app's other handlers. Jobs that read messages or write the book share one lane: the reader
is not made for two threads at once.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.worker import Worker, WorkerState

if TYPE_CHECKING:
    from textual.app import App


@dataclass(frozen=True, eq=False)
class Job:
    """`call(desk)` in the thread, then `then(its result)` or `failed(its error)`. A `fresh` job replaces the jobs of
    its name that have not begun."""

    name: str
    call: Callable[[Any], Any]
    then: Callable[[Any], None]
    failed: Callable[[BaseException], None]
    fresh: bool = False


class Lane:
    """One queue of jobs and the worker group that does them."""

    def __init__(self, app: App[Any], name: str) -> None:
        self.app, self.name = app, name
        self.desk: Any = None
        self._jobs: deque[Job] = deque()
        self._now: tuple[Job, Worker[Any]] | None = None

    @property
    def idle(self) -> bool:
        return self._now is None and not self._jobs

    def put(self, job: Job) -> None:
        if job.fresh:
            self._jobs = deque(other for other in self._jobs if other.name != job.name)
        self._jobs.append(job)
        self._next()

    def open(self, desk: Any) -> None:
        """Begin the jobs that waited for the desk."""
        self.desk = desk
        self._next()

    def _next(self) -> None:
        if self.desk is None or self._now or not self._jobs:
            return
        job = self._jobs.popleft()
        worker = self.app.run_worker(
            partial(job.call, self.desk),
            name=job.name,
            group=self.name,
            thread=True,
            exclusive=True,
            exit_on_error=False,
        )
        self._now = (job, worker)

    def ended(self, worker: Worker[Any]) -> bool:
        """Take the end of a worker; False where it is another's or still under way."""
        if self._now is None or self._now[1] is not worker or not worker.is_finished:
            return False
        job, self._now = self._now[0], None
        try:
            if worker.state is WorkerState.SUCCESS:
                job.then(worker.result)
            elif worker.error is not None:
                job.failed(worker.error)
        finally:
            self._next()
        return True
