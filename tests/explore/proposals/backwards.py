"""Random surveys that are known to have a ramp: made backwards, from a ramp that passes in them."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random

from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.proposals.draft import FAMILIES
from rampdraft.explore.proposals.propose import Task, done_of
from rampdraft.explore.proposals.survey import guarded
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.model.design import Design
from rampdraft.model.survey import survey_of

GOOD = ("library-trailer", "barn-stage", "orchard-trolley", "reed-ferry")


def surveys(number: int, seed: int = 0) -> Iterator[tuple[str, Design]]:
    """Yield so many surveys, each with a ramp that passes every check there, thrown away."""
    random, folder = Random(seed), samples_folder()
    whole = {name: load_design(folder / f"{name}.toml") for name in GOOD}
    made = 0
    while made < number:
        name = random.choice(GOOD)
        design = moved(random, whole[name])
        if passes(design, folder):
            made += 1
            yield name, survey_of(design)


def moved(random: Random, design: Design) -> Design:
    """Return the design somewhere else: another deck, other grounds, other room, other users and hands."""
    carrier = design.carrier
    height = round(carrier.deck_height_mm * random.uniform(0.75, 1.02))
    rise = height - carrier.deck_height_mm
    keeps = all(site.kind == "ground" for site in design.sites)
    return replace(
        design,
        carrier=replace(
            carrier,
            deck_height_mm=float(height if keeps else carrier.deck_height_mm + max(-40, min(10, rise))),
            opening_width_mm=carrier.opening_width_mm + round(random.uniform(0, 150)),
            stow_height_mm=carrier.stow_height_mm + round(random.uniform(-30, 300)),
            stow_out_mm=carrier.stow_out_mm + round(random.uniform(-5, 80)),
            stow_in_mm=carrier.stow_in_mm + round(random.uniform(-10, 60)),
            end_setback_mm=carrier.end_setback_mm + round(random.uniform(0, 30)),
        ),
        use=replace(
            design.use,
            users=tuple(
                replace(user, mass_kg=round(user.mass_kg * random.uniform(0.7, 1.0)))
                for user in design.use.users
            ),
        ),
        hands=replace(design.hands, people=design.hands.people + random.choice((0, 0, 1))),
        sites=tuple(
            replace(site, cross_slope_percent=round(site.cross_slope_percent * random.uniform(0, 1), 1))
            for site in design.sites
        ),
    )


def passes(design: Design, folder: Path) -> bool:
    """Return whether the design can be built and no check of it fails."""
    try:
        found = evaluate(design, folder)
        # Who rolls takes longest, and is only looked at where all else passes.
        return not any(check.fails for check in found.checks) and not any(one.fails for one in found.rolled)
    except DesignError:
        return False


def first_found(survey: Design) -> Design | None:
    """Return the first family's ramp that passes."""
    for family in FAMILIES:
        if family.closing == "backs" or not guarded(survey):
            found = done_of(Task(start=survey, folder=samples_folder(), family=family))
            if found.design is not None:
                return found.design
    return None
