"""The ramp on the reference kerbs that rules name."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from rampdraft.checks.rules.rule import RuleSet
from rampdraft.mechanics.results import DeckState, SitePose
from rampdraft.mechanics.standing.standing import Straightened, stand_at
from rampdraft.model.design import Design, Site
from rampdraft.units import MM
from rampdraft.words.figures import figure
from rampdraft.words.say import say

_KERB_REACH_MM: Final = 20000.0
"""How far a reference kerb goes on level; the ground of a site goes on level beyond its ends anyway."""


def on_kerbs(
    design: Design,
    straight: Straightened,
    starting_mm: MM | None,
    drop_mm: MM,
    rule_sets: tuple[RuleSet, ...],
) -> Mapping[MM, tuple[SitePose, ...]]:
    """Return the ramp on the rules' reference kerbs, deck empty and, if it moves, in its other states."""
    states: list[tuple[DeckState, MM | None]] = [("empty", None)]
    if starting_mm:
        states.append(("starting", starting_mm))
    if drop_mm:
        states.append(("loaded", drop_mm))
    heights = {limit.kerb_mm for rules in rule_sets for limit in rules.limits if limit.kerb_mm is not None}
    return {
        height: tuple(
            replace(stand_at(design, straight, _kerb(height), 0, drop), state=state) for state, drop in states
        )
        for height in heights
    }


def _kerb(height_mm: MM) -> Site:
    ground = ((0.0, height_mm), (_KERB_REACH_MM, height_mm))
    return Site(
        name=say("{height} kerb (reference)", height=figure(height_mm, "mm", 3)),
        kind="kerb",
        ground_mm=ground,
    )
