"""What is tried so that members are held, stand in nobody's place, and pass one another in the fold."""

from typing import Final

_ATTACHED: Final = {
    "latch": ("road.latch_at_mm", "+hold_down.pull_n", "+road.latch_n"),
    "latch-hook": ("road.latch_at_mm", "+hold_down.pull_n", "+road.latch_n"),
    "cross": ("{leaf}.cross_section", "-toe.length_mm", "{leaf}.cross_fitting", "-joining.weld_throat_mm"),
    "slats": (
        "+{leaf}.slat_first_mm",
        "+{leaf}.slat_last_gap_mm",
        "-{leaf}.slat_width_mm",
        "-workshop.slat_screw_mm",
    ),
    "upstands": ("-{leaf}.upstand_start_mm", "-{leaf}.upstand_end_gap_mm", "+{leaf}.slat_width_mm"),
    "deck-knuckles": (
        "deck_hinge.height_mm",
        "+deck_hinge.knuckle_diameter_mm",
        "+deck_hinge.knuckle_length_mm",
    ),
    "joint-knuckles": (
        "joint.height_mm",
        "+joint.knuckle_diameter_mm",
        "+joint.knuckle_length_mm",
        "{leaf}.knuckle_shift_mm",
    ),
    "stop": (
        "stop.arm_mm",
        "+stop.fixed_length_mm",
        "-stop.gap_mm",
        "joint.height_mm",
        "-joining.weld_throat_mm",
    ),
}
_THROUGH: Final = {
    "latch": ("road.latch_at_mm", "-road.latch_n", "-road.second_n", "-hold_down.pull_n"),
    "latch-hook": ("road.latch_at_mm", "-road.latch_n", "-road.second_n", "-hold_down.pull_n"),
    "stop-bar": (
        "stop.arm_mm",
        "-stop.fixed_length_mm",
        "+{leaf}.slat_first_mm",
        "+{leaf}.slat_last_gap_mm",
        "+{leaf}.upstand_start_mm",
        "+{leaf}.upstand_end_gap_mm",
    ),
    "knuckle": (
        "-joint.height_mm",
        "-joint.knuckle_diameter_mm",
        "-deck_hinge.height_mm",
        "-deck_hinge.knuckle_diameter_mm",
        "+{leaf}.slat_first_mm",
        "+{leaf}.slat_last_gap_mm",
    ),
    "toe-flap": ("toe.carried_deg", "toe.kind"),
}

MEMBERS: Final[dict[str, tuple[str, ...]]] = {
    **{
        f"own/attached/{leaf}-{part}": paths
        for leaf in ("inner", "outer")
        for part, paths in _ATTACHED.items()
    },
    **{f"own/through/{part}": paths for part, paths in _THROUGH.items()},
}
"""By the beginning of the id of a check of what holds a member, or is in its place."""


Trait = tuple[str, str]
"""Body (any, where empty) and role, or hinge line, of one side of a pair."""

OF_PAIR: Final[tuple[tuple[tuple[Trait, ...], tuple[str, ...]], ...]] = (
    ((("", "deck"),), ("+deck_hinge.out_mm", "deck_hinge.below_mm")),
    ((("", "carrier end"),), ("+deck_hinge.out_mm", "deck_hinge.below_mm")),
    ((("carrier", "knuckle"),), ("+deck_hinge.out_mm", "deck_hinge.below_mm")),
    (
        (("", "bracket stub"),),
        (
            "+deck_hinge.knuckle_length_mm",
            "+inner_leaf.slat_first_mm",
            "+deck_hinge.out_mm",
            "-fold.stowed_deg",
        ),
    ),
    ((("", "bracket plate"),), ("+deck_hinge.out_mm", "-joining.bracket_plate_mm", "-fold.stowed_deg")),
    ((("", "bracket bolt"),), ("+deck_hinge.out_mm", "+joining.bolt_edge_mm", "-fold.stowed_deg")),
    ((("", "bridge plate"),), ("bridge.turned_back", "-bridge.length_mm", "+bridge.over_deck_mm")),
    ((("", "ground"),), ("-deck_hinge.below_mm", "-toe.length_mm")),
    (
        (("inner", "edge upstand"), ("outer", "edge upstand")),
        ("~joint.height_mm", "-inner_leaf.upstand_height_mm", "-outer_leaf.upstand_height_mm"),
    ),
    ((("inner", "slat"), ("outer", "slat")), ("~joint.height_mm",)),
    (
        (("inner", "edge upstand"),),
        ("+inner_leaf.upstand_start_mm", "+inner_leaf.upstand_end_gap_mm", "~joint.height_mm"),
    ),
    (
        (("outer", "edge upstand"),),
        ("+outer_leaf.upstand_start_mm", "+outer_leaf.upstand_end_gap_mm", "~joint.height_mm"),
    ),
    (
        (("", "stop bar"),),
        ("stop.fixed_length_mm", "outer_leaf.slat_first_mm", "inner_leaf.slat_last_gap_mm"),
    ),
    (
        (("inner", "slat"),),
        ("~joint.height_mm", "+inner_leaf.slat_first_mm", "+inner_leaf.slat_last_gap_mm"),
    ),
    ((("outer", "slat"),), ("~joint.height_mm", "+outer_leaf.slat_first_mm")),
    ((), ("~joint.height_mm",)),
)
"""For a pair of the fold, besides the closing: those of the first line whose traits its sides have."""
