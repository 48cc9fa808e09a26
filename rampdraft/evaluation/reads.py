"""What stages read of a design, where several read the same."""

from typing import Final

from rampdraft.checks.quantities.table import QUANTITIES, LoadQuantity, UnknownQuantity

LEAVES: Final = ("inner_leaf", "outer_leaf")
RAMP: Final = (*LEAVES, "deck_hinge", "joint", "stop", "prop", "toe", "fold.closing")
"""What the ramp is, but for its bridge plate and what it is made of."""
PLACED: Final = (*RAMP, "carrier.deck_height_mm", "sites")
"""What it stands on."""
BRIDGE: Final = ("bridge.fitted", "bridge.length_mm", "bridge.over_deck_mm")
"""How the bridge plate lies."""
FOLDED: Final = ("bridge.turned_back", "fold.stowed_deg")
"""Where it lies while the ramp is folded."""
BUILT: Final = (*RAMP, "bridge", "made_of", "materials", "workshop.slat_screw_mm")
"""What its members are."""
BRACKETS: Final = (
    "deck_hinge", "inner_leaf.rail_lanes_mm", "joining", "carrier.end_setback_mm",
    "carrier.deck_thickness_mm", "made_of.fittings", "materials",
)  # fmt: skip
"""What holds the carrier's knuckles."""
WELDED: Final = (
    *LEAVES, "deck_hinge", "joint", "joining", "made_of", "materials", "workshop.slat_screw_mm", "bridge",
    "toe",
)  # fmt: skip
"""What is welded, and how."""
FIXED: Final = (
    *LEAVES, "joining", "bridge", "toe", "prop", "made_of", "materials", "workshop.slat_screw_mm",
    "workshop.screw_held_mm", "assist", "hands.stay", "handles", "road.latch_n", "road.second_n",
    "use.wet_grip",
)  # fmt: skip
"""What is bought to fix it, and to handle it."""
LATCHED: Final = (
    *(f"hold_down.{name}" for name in ("latch", "pull_n", "arm_mm")),
    *(f"road.{name}" for name in ("latch_n", "second_n", "latch_at_mm")),
)  # fmt: skip
"""What latches are on it."""
SPANS: Final = ("inner_leaf.length_mm", "outer_leaf.length_mm", "prop.fitted")
"""What it spans as a beam."""
FRAME: Final = (
    *(
        f"{leaf}.{name}"
        for leaf in LEAVES
        for name in (
            "rail_section", "rail_lanes_mm", "knuckle_shift_mm", "cross_positions_mm", "cross_section",
            "cross_fitting",
        )
    ),
    *SPANS, "prop.under",
    "joint.height_mm", "stop", "toe", "fold.closing", "made_of.rails", "made_of.cross_members",
    "made_of.fittings", "materials",
)  # fmt: skip
"""What its rails and cross members are, and what holds them."""
FOLDS: Final = (*LEAVES, "deck_hinge", "joint", "carrier.deck_height_mm")
"""What its two bars are, and where they hang."""
BEHIND: Final = (
    "carrier.deck_length_mm", "carrier.deck_thickness_mm", "carrier.end_depth_mm",
    "carrier.end_setback_mm", "obstacles",
)  # fmt: skip
"""What it may meet besides the ground."""
USERS: Final = ("use.users", "use.rated_load_kg")
SUPPORTED: Final = (*SPANS, "carrier_body", "supports", "deck_hinge.out_mm")
"""What the empty carrier weighs, and stands on."""
CLIMBED: Final = (
    *SPANS, *USERS, "inner_leaf.width_mm", "outer_leaf.width_mm", "deck_hinge.out_mm",
    "carrier.deck_length_mm", "carrier.opening_width_mm",
)  # fmt: skip
"""Who climbs, and on what."""

CROSSED: Final = (
    "cross_positions_mm", "cross_fitting", "cross_section", "rail_lanes_mm", "slat_width_mm", "width_mm",
)  # fmt: skip
"""Of a leaf, where cross members are welded to its rails, and how its slats lie on them."""

SLOPES: Final = (
    "gradient", "leaf_gradient", "flap_gradient", "cross_slope", "grade_change", "rise", "going",
)  # fmt: skip
SURFACE: Final = ("clear_width", "surface_width", "opening", "tracks")
STEPS: Final = ("vehicle_gap", "step", "deck_step", "joint_step", "toe_step")
EDGES: Final = ("edge_height", "edge_gap", "edge_end", "side_stop")
HOLDING: Final = ("joint_held", "rated_load")
HANDLING: Final = ("deploying_force",)
LOADED: Final = tuple(name for name, one in QUANTITIES.items() if isinstance(one, LoadQuantity))
UNKNOWN: Final = tuple(name for name, one in QUANTITIES.items() if isinstance(one, UnknownQuantity))
"""Quantities of rules, by what they need."""
