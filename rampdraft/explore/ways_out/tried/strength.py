"""What is tried so that a member, a weld or a pin carries what it must: what strengthens that one, or spares
it.
"""

from typing import Final

from rampdraft.explore.ways_out.tried.lengths import SHORTER

_SLATS: Final = ("+{leaf}.slat_thickness_mm", "+{leaf}.slat_width_mm", "made_of.slats", "+rails.count")
_CROSS: Final = (
    "{leaf}.cross_section",
    "made_of.cross_members",
    "+joining.weld_throat_mm",
    "+{leaf}.cross_count",
    "-{leaf}.cross_greatest_mm",
)
_RAILS: Final = (
    "{leaf}.rail_section",
    "+rails.count",
    "made_of.rails",
    "-{leaf}.length_mm",
    "prop.fitted",
    "toe.closed",
    "-toe.length_mm",
)
_STOP: Final = (
    "stop.section",
    "+stop.arm_mm",
    "+joining.weld_throat_mm",
    "+stop.lap_mm",
    "+stop.fixed_length_mm",
    "+stop.count",
    "made_of.fittings",
    "prop.fitted",
)
_JOINT_PINS: Final = (
    "+joint.pin_diameter_mm",
    "+stop.arm_mm",
    "+joint.knuckle_length_mm",
    "-joint.side_gap_mm",
    "made_of.fittings",
    "prop.fitted",
)
_DECK_PINS: Final = (
    "+deck_hinge.pin_diameter_mm",
    "+deck_hinge.knuckle_length_mm",
    "-deck_hinge.side_gap_mm",
    "made_of.fittings",
)
_WELDS: Final = ("+joining.weld_throat_mm", "made_of.fittings", "made_of.rails")
_GUARDS: Final = (
    "+{leaf}.upstand_thickness_mm",
    "-{leaf}.upstand_height_mm",
    "made_of.upstands",
    "+workshop.screw_held_mm",
    "+joining.weld_throat_mm",
)
_HELD: Final = (
    "-{leaf}.width_mm",
    "workshop.slat_screw_mm",
    "+workshop.screw_held_mm",
    "{leaf}.rail_section",
)
_JOINT_WELDS: Final = (
    *_WELDS,
    "+stop.arm_mm",
    "{leaf}.rail_section",
    "+joint.knuckle_length_mm",
    "+joint.knuckle_diameter_mm",
    "prop.fitted",
)
_DECK_WELDS: Final = (*_WELDS, "+deck_hinge.knuckle_length_mm", "+deck_hinge.knuckle_diameter_mm")
_BOLTS: Final = (
    "joining.bolt_size",
    "joining.bolt_class",
    "+joining.bolt_count",
    "+joining.bolt_arm_mm",
    "+joining.bracket_plate_mm",
    "-joining.bolt_beside_mm",
    "-deck_hinge.out_mm",
)
_STUBS: Final = (
    "joining.bracket_section",
    "+joining.weld_throat_mm",
    "-deck_hinge.out_mm",
    "+deck_hinge.knuckle_length_mm",
    "made_of.fittings",
)

STRENGTH: Final[dict[str, tuple[str, ...]]] = {
    "own/strength/inner-rails": _RAILS,
    "own/strength/outer-rails": _RAILS,
    "own/strength/inner-slats": _SLATS,
    "own/strength/outer-slats": _SLATS,
    "own/strength/inner-cross": _CROSS,
    "own/strength/outer-cross": _CROSS,
    "own/strength/bridge": (
        "deck_hinge.below_mm",
        "+bridge.thickness_mm",
        "-bridge.length_mm",
        "+bridge.over_deck_mm",
        "made_of.fittings",
    ),
    "own/strength/flap": ("+toe.thickness_mm", "-toe.length_mm", "made_of.fittings"),
    "own/strength/bridge-hinge": (
        "+bridge.hinge_pin_mm",
        "-bridge.hinge_knuckle_mm",
        "+bridge.hinge_knuckle_mm",
        "+joining.weld_throat_mm",
        "made_of.fittings",
    ),
    "own/strength/bridge-screws": ("+bridge.screws", "bridge.screw_size", "-bridge.length_mm"),
    "own/strength/flap-hinge": (
        "+toe.hinge_pin_mm",
        "toe.hinge_knuckle_mm",
        "+joining.weld_throat_mm",
        "made_of.fittings",
    ),
    "own/strength/stop": _STOP,
    "own/strength/lap-tip": ("+stop.lap_mm", "{leaf}.rail_section", "made_of.rails", "prop.fitted"),
    "own/strength/joint-pins": _JOINT_PINS,
    "own/strength/deck-pins": _DECK_PINS,
    "own/strength/joint-knuckles": _JOINT_WELDS,
    "own/strength/deck-knuckles": _DECK_WELDS,
    "own/strength/inner-upstands": _GUARDS,
    "own/strength/outer-upstands": _GUARDS,
    "own/strength/inner-fixings": _HELD,
    "own/strength/outer-fixings": _HELD,
    "own/crossings/inner-rails": _RAILS,
    "own/crossings/outer-rails": _RAILS,
    **{
        f"own/crossings/{leaf}-{part}": paths
        for leaf in ("inner", "outer")
        for part, paths in (("slats", _SLATS), ("fixings", _HELD), ("upstands", _GUARDS))
    },
    "own/crossings/stop": _STOP,
    "own/crossings/joint-knuckles": _JOINT_WELDS,
    "own/crossings/deck-knuckles": _DECK_WELDS,
    "own/strength/bolts": _BOLTS,
    "own/strength/bracket": _STUBS,
    "own/bolt-edge": ("+joining.bolt_edge_mm", "joining.bolt_size"),
    "own/bolt-beside": ("+joining.bolt_beside_mm", "joining.bolt_size"),
    "own/bracket-apart": (
        "-joining.bolt_beside_mm",
        "-joining.bolt_edge_mm",
        "joining.bracket_section",
        "joining.bolt_size",
        "-joining.bolt_count",
        "-rails.count",
    ),
    "own/strength/prop": ("prop.section", "made_of.rails", "-prop.longest_mm"),
    "own/strength/foot": ("-prop.foot_mm", "made_of.fittings"),
    "own/sag": ("{leaf}.rail_section", *SHORTER, "-stop.gap_mm", "prop.fitted"),
    "own/ground/toe": ("+toe.length_mm", "toe.kind", "{leaf}.rail_section"),
    "own/ground/prop": ("+prop.foot_mm",),
}
"""By the beginning of the id of a check of strength, of what bends, or of what the ground bears."""
