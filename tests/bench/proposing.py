"""How long proposals take: processor time to the first ramp and for all, designs a second, share by stage."""

import time
from collections.abc import Iterator

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.proposals.propose import propose
from rampdraft.explore.proposals.results import Proposal
from rampdraft.explore.proposals.worth import mass_kg
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.model.survey import survey_of

GOOD = ("library-trailer", "barn-stage", "orchard-trolley", "reed-ferry")
STAGES = 4


def proposing() -> Iterator[str]:
    for name in GOOD:
        design = load_design(samples_folder() / f"{name}.toml")
        before = mass_kg(evaluate(design, samples_folder()))
        start, first = time.process_time(), list[float]()

        def told(_: Proposal, since: float = start, at: list[float] = first) -> None:
            at.append(time.process_time() - since)

        found = propose(survey_of(design), samples_folder(), told=told)
        took = time.process_time() - start
        masses = ", ".join(f"{one.figures.mass_kg:.0f}" for one in found.chosen)
        judged = sum(seconds for _, seconds in found.seconds)
        shares = ", ".join(f"{stage} {seconds / judged:.0%}" for stage, seconds in found.seconds[:STAGES])
        yield (
            f"proposals for {name}: first after {first[0]:.1f} s, {len(found.chosen)} of {len(found.found)}"
            f" after {took:.1f} s of one processor; {masses} kg (thrown away: {before:.0f} kg)"
        )
        yield f"designs for {name}: {found.tried}, {found.tried / took:.0f} a second; {shares}"
