"""The search as a question of the window: worked out by other processes, told while it goes on, called off
within a moment.
"""

import os
import threading
from collections.abc import Callable
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing.synchronize import Event
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from rampdraft.drawing.ink import Picture
from rampdraft.explore.proposals.results import Proposal, Proposals
from rampdraft.model.design import Design
from rampdraft.progress import Cancelled, Progress

PROCESSES: Final = 8
LOOK_S: Final = 0.2
"""So often it is looked whether the answer is still wanted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A proposal with its picture."""

    proposal: Proposal
    picture: Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a search came to, drawn."""

    proposals: Proposals
    chosen: tuple[Drawn, ...]
    reason: str
    """Why nothing is proposed; empty where something is."""


def drawn(one: Proposal, folder: Path | None) -> Drawn:
    """Return a proposal with the picture of it at the first site."""
    from rampdraft.drawing.side import side_view
    from rampdraft.evaluation.evaluate import evaluate

    evaluation = evaluate(one.design, folder)
    site = evaluation.sites[0]
    picture = side_view(
        evaluation,
        pose=site.pose,
        drop_mm=site.drop_mm,
        site_number=site.site_number,
        flap_rad=site.flap_rad,
        dimensions=False,
        frame="pose",
    )
    return Drawn(proposal=one, picture=picture)


def work_out(
    survey: Design, folder: Path | None, told: Callable[[Drawn], object], progress: Progress
) -> Found:
    """Return ramps for a survey; `told` is given each as it is found."""
    from rampdraft.explore.pool import pool, stop_sign
    from rampdraft.explore.proposals.propose import propose
    from rampdraft.explore.proposals.words import reason_of

    def tell(one: Proposal) -> None:
        told(drawn(one, folder))

    stop = stop_sign()
    with _Watched(progress, stop) as watched, pool(min(PROCESSES, os.cpu_count() or 1), stop) as workers:
        try:
            found = propose(survey, folder, workers=workers, progress=watched.tell, told=tell)
        except BrokenProcessPool:
            watched.tell(0.0, "")  # raises where they were stopped since nobody wants the answer
            raise
    return Found(
        proposals=found,
        chosen=tuple(drawn(one, folder) for one in found.chosen),
        reason=reason_of(found, survey, folder),
    )


class _Watched:
    """Looks again and again whether an answer is still wanted, and sets the sign to stop once it is not:
    between one task and the next, many seconds, nothing is told by the search itself.
    """

    def __init__(self, progress: Progress, stop: Event) -> None:
        self._progress, self._stop = progress, stop
        self._last = (0.0, "")
        self._done = threading.Event()
        self._thread = threading.Thread(target=self._look)

    def tell(self, share: float, words: str) -> None:
        """Tell how far it is. Raises Cancelled."""
        self._last = (share, words)
        self._progress(share, words)

    def _look(self) -> None:
        while not self._done.wait(LOOK_S):
            try:
                self._progress(*self._last)
            except Cancelled:
                self._stop.set()
                return

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._done.set()
        self._thread.join()
