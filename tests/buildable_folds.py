"""Random ramps that can be built: samples with several dimensions moved, on uneven ground, with things in the
way.
"""

import math
import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise

from plain_clearance import designs

from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.design import Design, Obstacle, Site
from rampdraft.model.fields.paths import value_at, with_value

MOVED = {
    "joint.height_mm": 12,
    "deck_hinge.height_mm": 10,
    "deck_hinge.below_mm": 15,
    "deck_hinge.out_mm": 12,
    "inner_leaf.length_mm": 60,
    "outer_leaf.length_mm": 60,
    "inner_leaf.slat_pitch_mm": 8,
    "outer_leaf.slat_first_mm": 10,
    "outer_leaf.upstand_height_mm": 15,
    "carrier.deck_height_mm": 80,
    "carrier.end_setback_mm": 30,
    "fold.stowed_deg": 12,
    "fold.closed_deg": 8,
    "fold.clearance_mm": 2,
}
"""How far each may be moved either way, in its own unit."""

GROUNDS = (
    ((0.0, 0.0), (4000.0, 0.0)),
    ((0.0, 0.0), (500.0, 0.0), (500.0, 110.0), (4000.0, 110.0)),  # a kerb
    ((0.0, 0.0), (900.0, -120.0), (4000.0, -90.0)),  # a bank that falls away
    ((0.0, 20.0), (1200.0, 20.0), (2200.0, 200.0), (4000.0, 260.0)),  # and one that rises
    ((-300.0, 0.0), (1500.0, 0.0), (1500.0, -60.0), (4000.0, -60.0)),  # a ditch
)
OBSTACLES = (
    Obstacle(
        name="lamp", outline_mm=((20, -260), (70, -260), (70, -200), (20, -200)), left_mm=-500, right_mm=-300
    ),
    Obstacle(
        name="post", outline_mm=((-60, 100), (-40, 100), (-40, 900), (-60, 900)), left_mm=250, right_mm=420
    ),
    Obstacle(name="tow bar", outline_mm=((-100, -200), (160, -290)), left_mm=-40, right_mm=40),
    Obstacle(
        name="step",
        outline_mm=((0, -300), (180, -300), (180, -280), (60, -270), (0, -150)),
        left_mm=380,
        right_mm=500,
    ),
)


@cache
def buildable(number: int) -> Design:
    """Return a random ramp, the same for a number each time; every other one closes faces together."""
    rng = random.Random(number)
    kind = ("backs", "faces")[number % 2]
    starts = [design for _, design in sorted(designs().items()) if design.fold.closing == kind]
    while True:
        design = rng.choice(starts)
        for path in rng.sample(sorted(MOVED), 4):
            value = value_at(design, path) + rng.uniform(-1, 1) * MOVED[path]
            design = with_value(design, path, round(value, 1))
        site = Site(name="somewhere", kind="ground", ground_mm=rng.choice(GROUNDS))
        design = replace(design, sites=(site,), obstacles=tuple(rng.sample(OBSTACLES, rng.randrange(3))))
        if not problems_of(design):
            return design


@cache
def standing(name: str | int) -> tuple[Design, Assembly, Site, Pose]:
    """Return a sample by name, or a random ramp by number, with its first site and the deployed pose
    there.
    """
    design = designs()[name] if isinstance(name, str) else buildable(name)
    assembly, site = assemble(design), design.sites[0]
    return design, assembly, site, stand(design, assembly, site, 1).pose


def dense(poses: Iterator[Pose] | tuple[Pose, ...], step_deg: float) -> list[Pose]:
    """Return poses on the straight lines between `poses`, no angle more than a step apart."""
    ends = list(poses)
    found = ends[:1]
    for a, b in pairwise(ends):
        turn = max(abs(b.inner_rad - a.inner_rad), abs(b.fold_rad - a.fold_rad))
        count = max(1, math.ceil(math.degrees(turn) / step_deg))
        for k in range(1, count + 1):
            share = k / count
            found.append(
                Pose(
                    a.inner_rad + share * (b.inner_rad - a.inner_rad),
                    a.fold_rad + share * (b.fold_rad - a.fold_rad),
                )
            )
    return found
