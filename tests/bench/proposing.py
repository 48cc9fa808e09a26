"""How long proposals take, in time of one processor: to the first ramp, to three that differ, to the end;
designs a second, share by stage. Two processors take about half as long to three and to the end.
"""

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.proposals.propose import CHOSEN, differ, propose
from rampdraft.explore.proposals.results import Proposal
from rampdraft.explore.proposals.worth import mass_kg
from rampdraft.files.design_file import load_design, load_survey
from rampdraft.files.samples import samples_folder
from rampdraft.model.design import Design
from rampdraft.model.survey import survey_of

GOOD: Final = ("library-trailer", "barn-stage", "orchard-trolley", "reed-ferry")
BREAD: Final = Path(__file__).parents[1] / "surveys" / "bread-trailer.toml"
STAGES: Final = 4


def proposing() -> Iterator[str]:
    for name in GOOD:
        design = load_design(samples_folder() / f"{name}.toml")
        yield from _searched(name, survey_of(design), mass_kg(evaluate(design, samples_folder())))
    bread = load_survey(BREAD)
    yield from _searched(
        "bread trailer, 2,000 mm of room",
        replace(bread, carrier=replace(bread.carrier, stow_height_mm=2000.0)),
        0.0,
    )


def _searched(name: str, survey: Design, before_kg: float) -> Iterator[str]:
    heard = _Heard(time.process_time)
    found = propose(survey, samples_folder(), told=heard)
    took = heard.now()
    masses = ", ".join(f"{one.figures.mass_kg:.1f}" for one in found.chosen)
    judged = sum(seconds for _, seconds in found.seconds)
    shares = ", ".join(f"{stage} {seconds / judged:.0%}" for stage, seconds in found.seconds[:STAGES])
    thrown = f" (thrown away: {before_kg:.1f} kg)" if before_kg else ""
    yield (
        f"proposals for {name}: first after {heard.first:.1f} s, {CHOSEN} that differ after"
        f" {heard.three:.1f} s, {len(found.found)} in {took:.1f} s; {masses} kg{thrown}"
    )
    yield (
        f"designs for {name}: {found.tried}, {found.tried / took:.0f} a second; judging takes"
        f" {judged / took:.0%}, of that {shares}"
    )


class _Heard:
    """Notes when the first ramp, and when so many that differ, have been told."""

    def __init__(self, clock: Callable[[], float]) -> None:
        self._clock, self._since = clock, clock()
        self._unlike: list[Proposal] = []
        self.first = self.three = float("nan")

    def now(self) -> float:
        return self._clock() - self._since

    def __call__(self, one: Proposal) -> None:
        if not self._unlike:
            self.first = self.now()
        if all(differ(one, other) for other in self._unlike):
            self._unlike.append(one)
            if len(self._unlike) == CHOSEN:
                self.three = self.now()
