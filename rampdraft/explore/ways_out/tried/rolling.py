"""What is tried so that everybody rolls over the ramp: by what fails, and by the place where it does."""

from typing import Final

from rampdraft.explore.ways_out.tried.lengths import LENGTHS

_GRIP: Final = ("+use.wet_grip",)
_PUSHERS: Final = ("+hands.people",)
_ROLLED_EDGE: Final = (
    "bridge.length_mm",
    "bridge.over_deck_mm",
    "-bridge.thickness_mm",
    "bridge.fitted",
    "deck_hinge.below_mm",
    "deck_hinge.height_mm",
    "-deck_hinge.out_mm",
    "-inner_leaf.slat_first_mm",
)
_ROLLED_JOINT: Final = (
    "joint.height_mm",
    "-joint.knuckle_diameter_mm",
    "-stop.arm_mm",
    "-inner_leaf.slat_last_gap_mm",
    "-outer_leaf.slat_first_mm",
    "-{leaf}.slat_pitch_mm",
    "+{leaf}.slat_width_mm",
)
_ROLLED_TOE: Final = (
    "+toe.length_mm",
    "toe.kind",
    "-toe.thickness_mm",
    "-outer_leaf.slat_last_gap_mm",
    "-outer_leaf.slat_thickness_mm",
    "-deck_hinge.below_mm",
)
_ROLLED: Final = {
    "": (),
    "deck": _ROLLED_EDGE,
    "edge": _ROLLED_EDGE,
    "inner": _ROLLED_JOINT,
    "joint": _ROLLED_JOINT,
    "outer": (*_ROLLED_TOE, "-outer_leaf.slat_pitch_mm", "+outer_leaf.slat_width_mm"),
    "toe": _ROLLED_TOE,
    "ground": _ROLLED_TOE,
}
"""By the place where somebody grounds, tips or is stopped."""
_ROLLS: Final = {
    "clears": (),
    "climbs": (),
    "drives": _GRIP,
    "slides": _GRIP,
    "motor": (),
    "tips": (),
    "head": (),
    "start": _PUSHERS,
    "keep": (*_PUSHERS, "+toe.length_mm", "toe.kind", "-deck_hinge.below_mm"),
}

ROLLING: Final[dict[str, tuple[str, ...]]] = {
    f"own/roll-{name}/{place}".rstrip("/"): (*paths, *LENGTHS, *more)
    for place, paths in _ROLLED.items()
    for name, more in _ROLLS.items()
}
"""By the beginning of the id of a check of rolling."""
